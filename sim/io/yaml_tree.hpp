#pragma once
/// YAML text as a tree that knows the place of everything.

#include <string>
#include <string_view>

#include "io/yaml_reader.hpp"

namespace leewheel {

inline constexpr std::size_t most_yaml_values = 300'000;  ///< keys and values of a file

/// The root of the one document that `text` holds. Throws InputFault, naming `path`, when it is not YAML, has an alias, a
/// second document, too deep a nesting or more values than a scenario of 5,000 riders needs.
YamlNode yaml_tree(const std::string& path, const std::string& text);

}  // namespace leewheel
