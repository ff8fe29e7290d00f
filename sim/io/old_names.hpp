#pragma once
/// Keys that had another name in the last version. They are read for one version more, with a remark.

#include <string>
#include <vector>

#include "io/fault.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel {

/// Gives old keys of a scenario their present names.
/// @return a remark for each, with its place
std::vector<Fault> rename_old_keys(YamlNode& root, const std::string& path);

}  // namespace leewheel
