#pragma once
/// What messages about a wrong input say of names and of what was found.

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leewheel {

/// "a, b, c".
std::string listed(std::span<const std::string_view> names);
/// Single letters to put in, take out or change to make `b` of `a` (Levenshtein 1966, Sov Phys Dokl).
std::size_t edit_distance(std::string_view a, std::string_view b);
/// The nearest of `names` by edit distance, empty when none is near.
std::string nearest_name(std::string_view name, const std::vector<std::string>& names);
/// Cut to a sensible length, for messages: ends of lines are blanks, and bytes that are no text question marks.
std::string shown(std::string_view text);

}  // namespace leewheel
