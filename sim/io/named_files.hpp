#pragma once
/// Which files a YAML file names, so that none of them is written over.

#include <string>
#include <vector>

namespace leewheel {

/// The file itself, every file beside it that one of its values names, and what YAML files among these name in turn.
std::vector<std::string> files_with_named(const std::string& path);

}  // namespace leewheel
