#pragma once
/// What the panels of the wind's picture share: size, colours, and a frame of values against distance.

#include <algorithm>
#include <string_view>
#include <vector>

#include "leewheel/wind_outlook.hpp"
#include "pages/svg.hpp"
#include "words/shown_units.hpp"

namespace leewheel::wind_picture {

inline constexpr double width = 1200.0, left = 74.0, right = 30.0;
inline constexpr std::string_view paper = "#fbfaf7", black = "#23262b", faint = "#d9d6cf", grey = "#6d7178";
inline constexpr std::string_view against = "#b4502f", behind = "#2f7a6b", across_colour = "#4a5fa5",
                                  open_colour = "#8a8f98", rider_colour = "#1f5f8b";

/// A panel of the picture: values, in the units shown, against distance.
struct Panel {
  double top, height, low, high, length_m;
  double x(double distance_m) const { return left + (width - left - right) * distance_m / length_m; }
  double y(double value) const { return top + height * (high - std::clamp(value, low, high)) / (high - low); }
};

/// 1, 2, 5 or 10 times a power of ten, so that `range` holds about `parts` of it.
double nice_step(double range, int parts);

/// Title, about `lines` lines across and their values.
void draw_frame(Svg& svg, const Panel& panel, std::string_view title, int lines);

/// The road's profile with its landmarks; below it the land left and right, rows of trees, crests and lulls, with a key.
void draw_road(Svg& svg, const Panel& panel, const Scenario& scenario, const std::vector<OutlookRow>& rows,
               const ShownUnits& units);

}  // namespace leewheel::wind_picture
