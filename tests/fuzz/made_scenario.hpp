#pragma once
/// A scenario out of bytes, as the text of a file: every section, values at and within the ranges of their tables.

#include <string>
#include <string_view>

namespace fuzz {

std::string made_scenario(std::string_view bytes);

}  // namespace fuzz
