#pragma once
/// Plain decimal numbers in text: what looks like one to a reader.

#include <optional>
#include <string_view>

namespace leewheel {

/// Without blanks and line ends around it.
std::string_view trimmed(std::string_view text);

/// The number that the text is, blanks around it and a leading plus allowed; nothing when it is anything else or not finite.
std::optional<double> number_in(std::string_view text);

/// Metres of a distance with or without its unit: "3200", "3200 m", "3.2 km", "2 mi"; nothing when it is anything else.
std::optional<double> distance_in_m(std::string_view text);

}  // namespace leewheel
