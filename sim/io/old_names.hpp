#pragma once
/// Keys that had another name in the last version. They are read for one version more, with a remark.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "io/fault.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel {

struct OldName {
  std::string_view under;  ///< key of the map in which it stands, by its present name; empty: the file's own
  std::string_view old, now;
};
std::span<const OldName> old_names();

/// Gives old keys of a scenario their present names. A key given under both names is a fault.
/// @return a remark for each, with its place
std::vector<Fault> rename_old_keys(YamlNode& root, const std::string& path, Faults& faults);

}  // namespace leewheel
