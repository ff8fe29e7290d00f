#include "pages/wind_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "pages/svg.hpp"
#include "pages/wind_panel.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

using namespace wind_picture;

namespace {

Svg paper_of(double w, double h) {
  Svg svg(
      fmt::format(R"(width="{0:g}" height="{1:g}" viewBox="0 0 {0:g} {1:g}" font-family="DejaVu Sans, sans-serif")", w, h));
  svg.rectangle(0, 0, w, h, paper);
  return svg;
}

template <class Value>
Points curve(const Panel& p, const std::vector<OutlookRow>& rows, Value value) {
  Points points;
  for (const OutlookRow& row : rows) points.emplace_back(p.x(row.distance_m), p.y(value(row)));
  return points;
}

/// Between two curves.
template <class Upper, class Lower>
void fill_between(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, Upper upper, Lower lower,
                  std::string_view colour, double opacity) {
  Points points = curve(p, rows, upper);
  const Points back = curve(p, rows, lower);
  points.insert(points.end(), back.rbegin(), back.rend());
  svg.area(points, colour, opacity);
}

/// The wind as seen from the saddle: up is the way ahead, and an arrow flies with the air.
void draw_arrows(Svg& svg, double middle_y, const Panel& p, const std::vector<OutlookRow>& rows) {
  svg.text(left, middle_y - 26.0, "Wind at the rider, seen from above: travel is up, arrows point where the air goes", 13,
           black, "start", true);
  const std::size_t every = std::max<std::size_t>(1, rows.size() / 30);
  double strongest = 0.1;
  for (const OutlookRow& row : rows) strongest = std::max(strongest, row.rider_mps);
  for (std::size_t k = every / 2; k < rows.size(); k += every) {
    const OutlookRow& r = rows[k];
    if (r.rider_mps < 0.05) continue;
    const double length = 9.0 + 17.0 * r.rider_mps / strongest, unit = length / r.rider_mps;
    const double dx = r.from_left_mps * unit,
                 dy = r.head_mps * unit;  // from the left: flies to the right; head wind: flies down
    const double x = p.x(r.distance_m), y = middle_y + 4.0, ex = dx / length, ey = dy / length;
    const std::string_view colour =
        std::abs(r.from_left_mps) > std::abs(r.head_mps) ? across_colour : (r.head_mps > 0.0 ? against : behind);
    svg.line(x - 0.5 * dx, y - 0.5 * dy, x + 0.5 * dx - 5.0 * ex, y + 0.5 * dy - 5.0 * ey, colour, 2.0);
    svg.area({{x + 0.5 * dx, y + 0.5 * dy},
              {x + 0.5 * dx - 8.0 * ex - 4.0 * ey, y + 0.5 * dy - 8.0 * ey + 4.0 * ex},
              {x + 0.5 * dx - 8.0 * ex + 4.0 * ey, y + 0.5 * dy - 8.0 * ey - 4.0 * ex}},
             colour, 1.0);
  }
}

void draw_speeds(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, const ShownUnits& units) {
  draw_frame(svg, p, fmt::format("Wind speed ({})", units.wind_name()), 5);
  fill_between(
      svg, p, rows, [&](const OutlookRow& r) { return units.speed(r.rider_mps * (1.0 + 2.0 * r.gust_intensity)); },
      [&](const OutlookRow& r) { return units.speed(std::max(0.0, r.rider_mps * (1.0 - 2.0 * r.gust_intensity))); },
      rider_colour, 0.18);
  svg.polyline(curve(p, rows, [&](const OutlookRow& r) { return units.speed(r.open_mps); }), open_colour, 1.6, "6 4");
  svg.polyline(curve(p, rows, [&](const OutlookRow& r) { return units.speed(r.rider_mps); }), rider_colour, 2.2);
  const double y = p.top - 8.0;
  svg.line(left + 175.0, y - 4.0, left + 205.0, y - 4.0, open_colour, 1.6, "6 4");
  svg.text(left + 211.0, y, "forecast at 10 m over open land", 12, grey);
  svg.line(left + 440.0, y - 4.0, left + 470.0, y - 4.0, rider_colour, 2.2);
  svg.text(left + 476.0, y, "mean at the rider", 12, grey);
  svg.rectangle(left + 610.0, y - 10.0, 30.0, 11.0, rider_colour, 0.18);
  svg.text(left + 646.0, y, "19 of 20 moments, lulls and gusts", 12, grey);
}

void draw_parts(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, const ShownUnits& units) {
  draw_frame(svg, p, fmt::format("Along the road ({}):", units.wind_name()), 4);
  const auto zero = [](const OutlookRow&) { return 0.0; };
  fill_between(
      svg, p, rows, [&](const OutlookRow& r) { return units.speed(std::max(0.0, r.head_mps)); }, zero, against, 0.45);
  fill_between(
      svg, p, rows, zero, [&](const OutlookRow& r) { return units.speed(std::min(0.0, r.head_mps)); }, behind, 0.45);
  svg.polyline(curve(p, rows, [&](const OutlookRow& r) { return units.speed(r.head_mps); }), black, 1.2);
  const double y = p.top - 8.0;
  svg.rectangle(left + 175.0, y - 10.0, 14.0, 11.0, against, 0.6);
  svg.text(left + 195.0, y, "against you", 12, grey);
  svg.rectangle(left + 290.0, y - 10.0, 14.0, 11.0, behind, 0.6);
  svg.text(left + 310.0, y, "behind you", 12, grey);
}

void draw_across(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, const ShownUnits& units) {
  draw_frame(
      svg, p,
      fmt::format("Across the road ({}): up is from the left, down from the right; the band shows gusts", units.wind_name()),
      4);
  fill_between(
      svg, p, rows, [&](const OutlookRow& r) { return units.speed(r.from_left_mps * (1.0 + 2.0 * r.gust_intensity)); },
      [&](const OutlookRow& r) { return units.speed(r.from_left_mps * std::max(0.0, 1.0 - 2.0 * r.gust_intensity)); },
      across_colour, 0.18);
  svg.polyline(curve(p, rows, [&](const OutlookRow& r) { return units.speed(r.from_left_mps); }), across_colour, 2.2);
}

void draw_push(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, double caution_N) {
  draw_frame(svg, p, "Side force on the rider (N)", 4);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.side_force_N; }), across_colour, 2.0);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.gust_side_force_N; }), against, 1.6, "6 4");
  if (caution_N < p.high) {
    svg.line(left, p.y(caution_N), width - right, p.y(caution_N), black, 1.0, "2 3");
    svg.text(left + 6.0, p.y(caution_N) - 4.0, fmt::format("caution above {:g} N", caution_N), 11, black);
  }
  const double y = p.top - 8.0;
  svg.line(left + 230.0, y - 4.0, left + 260.0, y - 4.0, across_colour, 2.0);
  svg.text(left + 266.0, y, "mean wind", 12, grey);
  svg.line(left + 360.0, y - 4.0, left + 390.0, y - 4.0, against, 1.6, "6 4");
  svg.text(left + 396.0, y, "gust of three seconds", 12, grey);
}

void draw_yaw(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Yaw of the apparent wind (degrees from straight ahead)", 4);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return deg_from_rad(r.yaw_rad); }), rider_colour, 2.0);
}

void draw_axis(Svg& svg, const Panel& p, const Outlook& outlook, const ShownUnits& units) {
  const double length = units.way(p.length_m), step = nice_step(length, 12), y = p.top + p.height;
  for (double at = 0.0; at <= length + 1e-9; at += step) {
    const double at_m = at / units.way(1.0);
    const auto& rows = outlook.rows;
    const auto row = std::lower_bound(rows.begin(), rows.end(), at_m - 1e-6,
                                      [](const OutlookRow& r, double m) { return r.distance_m < m; });
    svg.line(p.x(at_m), y, p.x(at_m), y + 5.0, grey, 1.0);
    svg.text(p.x(at_m), y + 19.0, fmt::format("{:g}", at), 12, black, "middle");
    if (row != rows.end()) svg.text(p.x(at_m), y + 35.0, hours_minutes_text(row->time_s), 11, grey, "middle");
  }
  svg.text(left - 22.0, y + 19.0, units.way_name(), 12, black, "end");
  svg.text(left - 22.0, y + 35.0, "h:mm", 11, grey, "end");
}

template <class Value>
double highest(const std::vector<OutlookRow>& rows, Value value) {
  double most = 0.0;
  for (const OutlookRow& row : rows) most = std::max(most, value(row));
  return most;
}

}  // namespace

std::string outlook_svg(const Scenario& scenario, const Outlook& outlook, const ShownUnits& units) {
  const std::vector<OutlookRow>& rows = outlook.rows;
  const double length_m = scenario.road.length_m();
  const auto& elevation = scenario.road.profile().elevation_m;
  const auto [lowest_m, highest_m] = std::minmax_element(elevation.begin(), elevation.end());
  const double rise_m = std::max(20.0, *highest_m - *lowest_m);
  const double head = std::max(1.0, 1.1 * highest(rows, [](const OutlookRow& r) { return r.head_mps; }));
  const double tail = std::max(1.0, 1.1 * highest(rows, [](const OutlookRow& r) { return -r.head_mps; }));
  const double from_left = std::max(
      1.0, 1.05 * highest(rows, [](const OutlookRow& r) { return r.from_left_mps * (1.0 + 2.0 * r.gust_intensity); }));
  const double from_right = std::max(
      1.0, 1.05 * highest(rows, [](const OutlookRow& r) { return -r.from_left_mps * (1.0 + 2.0 * r.gust_intensity); }));
  const double speed = std::max(1.0, 1.05 * highest(rows, [](const OutlookRow& r) {
                                       return std::max(r.open_mps, r.rider_mps * (1.0 + 2.0 * r.gust_intensity));
                                     }));
  const double most_N = std::max(10.0, 1.1 * highest(rows, [](const OutlookRow& r) { return r.gust_side_force_N; }));
  const double yaw = std::max(10.0, 1.1 * highest(rows, [](const OutlookRow& r) { return deg_from_rad(r.yaw_rad); }));

  Svg svg = paper_of(width, 1130.0);
  svg.text(left, 34.0, scenario.title, 19, black, "start", true);
  svg.text(left, 56.0, outlook.rider, 13, grey);
  draw_road(
      svg,
      {92.0, 120.0, units.height(*lowest_m - 0.05 * rise_m), units.height(*lowest_m + 1.3 * rise_m),  // room for the names
       length_m},
      scenario, rows, units);
  draw_arrows(svg, 312.0, {0.0, 0.0, 0.0, 1.0, length_m}, rows);
  draw_speeds(svg, {374.0, 120.0, 0.0, units.speed(speed), length_m}, rows, units);
  draw_parts(svg, {534.0, 110.0, -units.speed(tail), units.speed(head), length_m}, rows, units);
  draw_across(svg, {684.0, 110.0, -units.speed(from_right), units.speed(from_left), length_m}, rows, units);
  draw_yaw(svg, {834.0, 80.0, 0.0, yaw, length_m}, rows);
  const Panel last{954.0, 100.0, 0.0, most_N, length_m};
  draw_push(svg, last, rows, scenario.wind.side_force_caution_N);
  draw_axis(svg, last, outlook, units);
  svg.text(left, 1120.0,
           "Times are hours and minutes after the start. Forecasts are uncertain, above all near the ground and on hills: "
           "look at the sky, and leave room beside you for gusts.",
           11, grey);
  return svg.finished();
}

}  // namespace leewheel
