#pragma once
/// Directions as people name them, clockwise from north. A wind is named by where it comes from.

#include <array>
#include <cmath>
#include <string_view>

#include "leewheel/units.hpp"

namespace leewheel {

/// Letters as most forecasts write them, every 22.5 degrees from north.
inline constexpr std::array<std::string_view, 16> compass_points{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE",
                                                                 "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"};

/// The nearest point of the compass.
inline std::string_view compass_point(double from_rad) {
  const long point = std::lround(deg_from_rad(from_rad) / 22.5);
  return compass_points[static_cast<std::size_t>(((point % 16) + 16) % 16)];
}

/// Degrees from 0 to below 360, rounded to so many decimals.
inline double compass_deg(double from_rad, int decimals) {
  const double deg = std::fmod(rounded(deg_from_rad(from_rad), decimals), 360.0);
  return deg < 0.0 ? deg + 360.0 : deg;
}

}  // namespace leewheel
