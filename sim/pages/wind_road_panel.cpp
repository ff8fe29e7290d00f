#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pages/wind_panel.hpp"
#include "words/wind_words.hpp"

namespace leewheel::wind_picture {

double nice_step(double range, int parts) {
  const double raw = range / parts, ten = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double times : {1.0, 2.0, 5.0, 10.0})
    if (raw <= times * ten * 1.0001) return times * ten;
  return 10.0 * ten;
}

void draw_frame(Svg& svg, const Panel& p, std::string_view title, int lines) {
  svg.text(left, p.top - 8.0, title, 13, black, "start", true);
  const double step = nice_step(p.high - p.low, lines);
  for (double value = std::ceil(p.low / step - 1e-9) * step; value <= p.high + 1e-9; value += step) {
    svg.line(left, p.y(value), width - right, p.y(value), std::abs(value) < 1e-9 ? grey : faint,
             std::abs(value) < 1e-9 ? 1.2 : 1.0);
    svg.text(left - 8.0, p.y(value) + 4.0, fmt::format("{:g}", std::abs(value) < 1e-9 ? 0.0 : value), 12, grey, "end");
  }
}

namespace {

constexpr std::string_view exposure_colours[exposure_names.size()] = {"#e9dfb8", "#cfe0b4", "#a3c78b", "#c9a79c", "#4f8058"};

bool is_hill_shown(const OutlookRow& row) { return std::abs(row.hill_share - 1.0) > hill_shown_from; }

void draw_profile(Svg& svg, const Panel& p, const Scenario& scenario, const std::vector<OutlookRow>& rows,
                  const ShownUnits& units) {
  draw_frame(svg, p,
             fmt::format("Road: elevation ({}), and how open the land lies left and right of it", units.height_name()), 4);
  Points points{{p.x(0.0), p.top + p.height}};
  for (const OutlookRow& row : rows)
    points.emplace_back(p.x(row.distance_m), p.y(units.height(scenario.road.elevation_m(row.distance_m))));
  points.emplace_back(p.x(rows.back().distance_m), p.top + p.height);
  svg.area(points, "#c9c4b8", 0.55);
  points.erase(points.begin());
  points.pop_back();
  svg.polyline(points, black, 1.6);
  for (const Landmark& mark : scenario.road.landmarks()) {
    svg.line(p.x(mark.distance_m), p.top, p.x(mark.distance_m), p.top + p.height, grey, 1.0, "3 3");
    const bool near_edge = p.x(mark.distance_m) > width - right - 90.0;
    svg.text(p.x(mark.distance_m) + (near_edge ? -4.0 : 4.0), p.top + 12.0, mark.name, 11, black,
             near_edge ? "end" : "start");
  }
}

/// How open the land lies, rows of trees on it, and where a hill adds to the wind or takes from it.
void draw_land(Svg& svg, const Panel& p, double strip_y, const std::vector<Windbreak>& belts,
               const std::vector<OutlookRow>& rows) {
  for (std::size_t k = 0; k + 1 < rows.size(); ++k) {
    const double x = p.x(rows[k].distance_m), w = p.x(rows[k + 1].distance_m) - x + 0.6;
    svg.rectangle(x, strip_y, w, 10.0, exposure_colours[static_cast<std::size_t>(rows[k].exposure_left)]);
    svg.rectangle(x, strip_y + 12.0, w, 10.0, exposure_colours[static_cast<std::size_t>(rows[k].exposure_right)]);
  }
  for (const Windbreak& belt : belts)
    for (const bool on_left : {true, false})
      if (belt.side == ShelterSide::both || (belt.side == ShelterSide::left) == on_left)
        svg.rectangle(p.x(belt.from_m), strip_y + (on_left ? 0.0 : 18.0), p.x(belt.to_m) - p.x(belt.from_m), 4.0, black);
  for (std::size_t k = 0; k + 1 < rows.size(); ++k)
    if (is_hill_shown(rows[k]))
      svg.rectangle(p.x(rows[k].distance_m), strip_y + 24.0, p.x(rows[k + 1].distance_m) - p.x(rows[k].distance_m) + 0.6,
                    5.0, rows[k].hill_share > 1.0 ? against : behind);
  svg.text(left - 8.0, strip_y + 9.0, "left", 10, grey, "end");
  svg.text(left - 8.0, strip_y + 21.0, "right", 10, grey, "end");
}

void draw_key(Svg& svg, double strip_y, bool with_belts, bool with_hills) {
  double x = left;
  for (std::size_t k = 0; k < exposure_names.size(); ++k) {
    const std::string name = exposure_text(static_cast<Exposure>(k));
    svg.rectangle(x, strip_y + 36.0, 14.0, 10.0, exposure_colours[k]);
    svg.text(x + 19.0, strip_y + 45.0, name, 11, grey);
    x += 34.0 + 6.6 * static_cast<double>(name.size());
  }
  if (with_belts) {
    svg.rectangle(x, strip_y + 39.0, 14.0, 4.0, black);
    svg.text(x + 19.0, strip_y + 45.0, "row of trees, wall or cutting", 11, grey);
    x += 210.0;
  }
  if (with_hills) {
    svg.rectangle(x, strip_y + 39.0, 14.0, 5.0, against);
    svg.text(x + 19.0, strip_y + 45.0, "crest, more wind", 11, grey);
    svg.rectangle(x + 130.0, strip_y + 39.0, 14.0, 5.0, behind);
    svg.text(x + 149.0, strip_y + 45.0, "lull of a hill, less", 11, grey);
  }
}

}  // namespace

void draw_road(Svg& svg, const Panel& p, const Scenario& scenario, const std::vector<OutlookRow>& rows,
               const ShownUnits& units) {
  const double strip_y = p.top + p.height + 6.0;
  draw_profile(svg, p, scenario, rows, units);
  draw_land(svg, p, strip_y, scenario.wind.windbreaks, rows);
  draw_key(svg, strip_y, !scenario.wind.windbreaks.empty(), std::any_of(rows.begin(), rows.end(), is_hill_shown));
}

}  // namespace leewheel::wind_picture
