#pragma once
/// What the readers and the writer of roads share.

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "io/road_section.hpp"

namespace leewheel {

inline constexpr double grid_m = 1.0;  ///< of a road inside the program
inline constexpr double longest_road_m = 500e3;
inline constexpr Range elevation_range{-430.0, 6000.0};
inline constexpr Range heading_range{-360.0, 360.0};
inline constexpr Range width_range{2.0, 40.0};
inline constexpr long most_abreast = 4;
inline constexpr std::array<std::string_view, 2> no_yes{"no", "yes"};

// road_stretches.cpp
/// Nothing when there was a fault.
std::optional<NamedRoad> road_from_stretches(const YamlValue& list, double start_elevation_m);

// road_line.cpp
/// Surface, width, exposure and room as those of a road without marks; no elevations and headings yet.
RoadProfile plain_profile(std::size_t points, double spacing_m);
/// Nothing when there was a fault.
std::optional<NamedRoad> road_from_line(const YamlValue& value);
/// Cubic through four neighbours (Catmull & Rom 1974), so that grade does not jump at the samples; linear in the last
/// cell, which may be shorter than the others.
double between(const std::vector<double>& y, double position);
/// Makes each heading lie within half a turn of the one before, so that headings can be interpolated.
void unwrap(std::vector<double>& heading_rad);

}  // namespace leewheel
