#pragma once
/// Words and numbers as a person reads them. The only place where units other than SI appear in the viewer.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leewheel::view {

enum class Units { metric, imperial };

inline constexpr double mile_m = 1609.344;  ///< international yard and pound agreement of 1959
inline constexpr double foot_m = 0.3048;

/// "95", "95.5", "1:35", "0:01:35"; minutes and seconds after a colon below 60. Nothing if it is no time.
std::optional<double> parse_time_s(std::string_view text);

std::string speed_text(double speed_mps, Units units);     ///< "23.4 km/h"
std::string place_text(double distance_m, Units units);    ///< along the road: "6.21 km"
std::string length_text(double length_m, Units units);     ///< a gap: "0.6 m", "2.0 ft"
std::string way_text(double length_m, Units units);        ///< between riders far apart: "240 m", "1.24 km"
std::string height_text(double elevation_m, Units units);  ///< "182 m"
std::string gap_text(double gap_s);                        ///< "+4.2", "+1:05"; "" for the first
std::string number_text(double value, int decimals);       ///< with a true minus, and none before a zero
std::string whole_text(double value);
std::string grade_text(double grade);  ///< "7.5 %"
double per_place_unit_m(Units units);  ///< metres in a kilometre or mile
const char* place_unit(Units units);

/// Round values covering [low, high], about `at_most` of them, in steps of 1, 2 or 5 times a power of ten.
std::vector<double> nice_ticks(double low, double high, int at_most);
/// The largest 1-2-5 value not above `limit` (> 0): lengths of scale bars.
double round_down_125(double limit);

}  // namespace leewheel::view
