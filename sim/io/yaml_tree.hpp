#pragma once
/// YAML text as a tree that knows the place of everything.

#include <string>
#include <string_view>

#include "io/yaml_reader.hpp"

namespace leewheel {

/// The root of the one document that `text` holds. Throws InputFault, naming `path`, when it is not YAML, has an alias, a
/// second document or too deep a nesting.
YamlNode yaml_tree(const std::string& path, const std::string& text);

}  // namespace leewheel
