#include "pages/sheet_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "pages/escape.hpp"
#include "pages/svg.hpp"

namespace leewheel {

namespace {

constexpr const char *dark = "var(--ink)", *soft = "var(--soft)", *rule = "var(--rule)", *ground = "var(--ground)",
                     *wind_blue = "var(--accent)";
constexpr const char* land_words[] = {"open ridge", "open slope", "scattered trees", "houses", "wood"};

/// Told apart by pattern, so that they survive a printer without colour.
std::string patterns(std::string_view mark) {
  constexpr const char* tiles[] = {
      R"(<rect width="10" height="10" fill="#ffffff"/><path d="M0 8 L3 5 L6 8" fill="none" stroke="#8a6d3b" stroke-width="1"/>)",
      R"(<rect width="10" height="10" fill="#f4efdf"/><path d="M0 5 H4" stroke="#8a7a4a" stroke-width="1"/>)",
      R"(<rect width="10" height="10" fill="#e6ead9"/><circle cx="3" cy="4" r="1.6" fill="#46603a"/>)",
      R"(<rect width="10" height="10" fill="#e3dde2"/><rect x="2" y="2" width="5" height="5" fill="#6b5a70"/>)",
      R"(<rect width="10" height="10" fill="#a9bda2"/><path d="M2 9 L5 1 L8 9 Z" fill="#2c4a30"/>)"};
  std::string text = "<defs>";
  for (std::size_t k = 0; k < std::size(tiles); ++k)
    text += fmt::format(R"(<pattern id="{}-land{}" width="10" height="10" patternUnits="userSpaceOnUse">{}</pattern>)", mark,
                        k, tiles[k]);
  return text + "</defs>";
}

/// 1, 2 or 5 times a power of ten, so that `span` holds about `parts` of it.
double round_step(double span, double parts) {
  const double raw = span / parts, power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (raw <= factor * power) return factor * power;
  return 10.0 * power;
}

/// A line as a path, which may carry more attributes.
void line(Svg& svg, double x1, double y1, double x2, double y2, const char* stroke, double width, const char* more = "") {
  svg.element(fmt::format(R"(<path d="M{:.1f} {:.1f} L{:.1f} {:.1f}" stroke="{}" stroke-width="{:g}" fill="none"{}/>)", x1,
                          y1, x2, y2, stroke, width, more));
}

void disc(Svg& svg, double x, double y, const char* radius, const char* fill) {
  svg.element(fmt::format(R"(<circle cx="{:.1f}" cy="{:.1f}" r="{}" fill="{}"/>)", x, y, radius, fill));
}

/// Places on the drawing.
struct Frame {
  const Road& road;
  const ShownUnits& units;
  double left, right, top, bottom, lowest_m, highest_m;
  double x(double distance_m) const { return left + (right - left) * distance_m / road.length_m(); }
  double y(double elevation_m) const { return bottom - (bottom - top) * (elevation_m - lowest_m) / (highest_m - lowest_m); }
};

Frame frame_of(const Road& road, const ShownUnits& units, double width) {
  const auto& z = road.profile().elevation_m;
  const auto [low, high] = std::minmax_element(z.begin(), z.end());
  const double span_m = std::max(40.0, *high - *low);
  return {road, units, 40.0, width - 12.0, 56.0, 206.0, *low - 0.18 * span_m, *low + 1.04 * span_m};
}

void height_scale(Svg& svg, const Frame& f) {
  const double to_unit = f.units.height(1.0), step = round_step((f.highest_m - f.lowest_m) * to_unit, 4.0);
  for (double h = std::ceil(f.lowest_m * to_unit / step) * step; h <= f.highest_m * to_unit; h += step) {
    line(svg, f.left, f.y(h / to_unit), f.right, f.y(h / to_unit), rule, 0.6);
    svg.text(f.left - 5, f.y(h / to_unit) + 4, fmt::format("{:.0f}", h), 11, soft, "end");
  }
  svg.text(4, f.top - 14, f.units.height_name(), 11, soft);
}

void distance_scale(Svg& svg, const Frame& f, double y) {
  const double length = f.units.way(f.road.length_m()), step = round_step(length, f.right - f.left > 500 ? 12.0 : 6.0);
  for (double d = 0.0; d <= length + 1e-9; d += step) {
    const double x = f.left + (f.right - f.left) * d / length;
    line(svg, x, y, x, y + 4, soft, 1);
    svg.text(x, y + 16, fmt::format("{:g}", d), 11, soft, "middle");
  }
  svg.text(4, y + 16, f.units.way_name(), 11, soft);
}

void profile(Svg& svg, const Frame& f) {
  const double step_m = std::max(f.road.spacing_m(), f.road.length_m() / 300.0);
  Points surface;
  for (double d = 0.0; d < f.road.length_m(); d += step_m) surface.emplace_back(f.x(d), f.y(f.road.elevation_m(d)));
  surface.emplace_back(f.right, f.y(f.road.elevation_m(f.road.length_m())));
  Points body{{f.left, f.bottom}};
  body.insert(body.end(), surface.begin(), surface.end());
  body.emplace_back(f.right, f.bottom);
  svg.area(body, ground);
  svg.polyline(surface, dark, 2);
}

void grades(Svg& svg, const Frame& f, const std::vector<SheetStretch>& stretches) {
  for (const SheetStretch& s : stretches) {
    const double a = f.x(s.from_m), b = f.x(s.to_m);
    if (b - a >= 38.0) svg.text(0.5 * (a + b), f.bottom - 5, grade_text(s.grade), 11, dark, "middle");
  }
}

/// A number in a circle at each landmark, as in the tables; one too close to the last goes up a row.
void marks(Svg& svg, const Frame& f, double foot) {
  double last_x = -100.0, row = 0.0;
  const auto& landmarks = f.road.landmarks();
  for (std::size_t k = 0; k < landmarks.size(); ++k) {
    const double x = f.x(landmarks[k].distance_m);
    row = x - last_x < 20.0 && row == 0.0 ? 19.0 : 0.0;
    last_x = x;
    line(svg, x, f.top - 14 - row, x, foot, soft, 0.8, R"( stroke-dasharray="2 3")");
    disc(svg, x, f.top - 22 - row, "9", dark);
    svg.text(x, f.top - 18 - row, std::to_string(k + 1), 11, "var(--paper)", "middle", true);
  }
}

/// The land on one side as a strip of patterned pieces.
void land_strip(Svg& svg, const Frame& f, double y, bool left_side, std::string_view mark) {
  const auto& cells = left_side ? f.road.profile().exposure_left : f.road.profile().exposure_right;
  for (std::size_t begin = 0; begin < cells.size();) {
    std::size_t end = begin;
    while (end < cells.size() && cells[end] == cells[begin]) ++end;
    const double a = f.x(std::min(f.road.length_m(), static_cast<double>(begin) * f.road.spacing_m()));
    const double b = f.x(std::min(f.road.length_m(), static_cast<double>(end) * f.road.spacing_m()));
    if (b > a)
      svg.element(fmt::format(R"svg(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="14" fill="url(#{}-land{})"/>)svg", a,
                              y, b - a, mark, static_cast<int>(cells[begin])));
    begin = end;
  }
  svg.element(
      fmt::format(R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="14" fill="none" stroke="{}" stroke-width="0.8"/>)",
                  f.left, y, f.right - f.left, soft));
  svg.text(f.left - 5, y + 11, left_side ? "left" : "right", 11, soft, "end");
}

/// Seen from above with the road running to the right: against points left, from the left points down.
void arrow(Svg& svg, double x, double y, double along, double down) {
  const double length = std::hypot(along, down);
  if (length < 1.5) return disc(svg, x, y, "1.5", wind_blue);
  const double ux = along / length, uy = down / length, x1 = x + 0.5 * along, y1 = y + 0.5 * down;
  line(svg, x - 0.5 * along, y - 0.5 * down, x1 - 3 * ux, y1 - 3 * uy, wind_blue, 1.8);
  svg.element(fmt::format(R"(<path d="M{:.1f} {:.1f} L{:.1f} {:.1f} L{:.1f} {:.1f} Z" fill="{}"/>)", x1, y1,
                          x1 - 6 * ux - 3 * uy, y1 - 6 * uy + 3 * ux, x1 - 6 * ux + 3 * uy, y1 - 6 * uy - 3 * ux,
                          wind_blue));
}

void wind_arrows(Svg& svg, const Frame& f, const Outlook& wind, double y, double most_px, double most_mps) {
  const auto count = static_cast<std::size_t>((f.right - f.left) / 30.0);
  line(svg, f.left, y, f.right, y, rule, 0.8);
  for (std::size_t k = 0; k < count; ++k) {
    const double at_m = f.road.length_m() * (static_cast<double>(k) + 0.5) / static_cast<double>(count);
    const auto row = std::min_element(wind.rows.begin(), wind.rows.end(), [&](const OutlookRow& a, const OutlookRow& b) {
      return std::abs(a.distance_m - at_m) < std::abs(b.distance_m - at_m);
    });
    const double scale = most_px / most_mps;
    arrow(svg, f.x(at_m), y, -row->head_mps * scale, row->from_left_mps * scale);
  }
  svg.text(f.left - 5, y + 4, "wind", 11, soft, "end");
}

/// What the picture shows, for who cannot see it.
std::string said(const Sheet& sheet, const ShownUnits& units) {
  const RoadFacts facts = sheet.scenario.road.facts();
  std::string text =
      fmt::format("Profile of the road, {:.1f} {} with {:.0f} {} of climbing, the land beside it and the wind along it.",
                  units.way(facts.length_m), units.way_name(), units.height(facts.ascent_m), units.height_name());
  for (const SheetStretch& s : sheet.stretches) text += fmt::format(" {} to {}: {}.", s.from, s.to, grade_text(s.grade));
  return text;
}

}  // namespace

std::string road_picture(const Sheet& sheet, const ShownUnits& units, double width, std::string_view mark) {
  const Frame f = frame_of(sheet.scenario.road, units, width);
  double most_mps = 0.5;
  for (const OutlookRow& row : sheet.wind.rows) most_mps = std::max(most_mps, row.rider_mps);
  const double land_y = f.bottom + 26, wind_y = land_y + 68, height = wind_y + 50;
  Svg svg(fmt::format(
      R"(viewBox="0 0 {0:g} {1:g}" width="{0:g}" height="{1:g}" role="img" aria-labelledby="{2}-title {2}-said")", width,
      height, mark));
  svg.element(fmt::format(R"(<title id="{0}-title">Road and wind</title><desc id="{0}-said">{1}</desc>)", mark,
                          html_text(said(sheet, units))));
  svg.element(patterns(mark));
  height_scale(svg, f);
  profile(svg, f);
  marks(svg, f, wind_y + 26);
  grades(svg, f, sheet.stretches);
  distance_scale(svg, f, f.bottom);
  land_strip(svg, f, land_y, true, mark);
  land_strip(svg, f, land_y + 18, false, mark);
  wind_arrows(svg, f, sheet.wind, wind_y, 26.0, most_mps);
  svg.text(
      4, wind_y + 42,
      fmt::format("arrows: from above, riding to the right; longest {:.0f} {}", units.speed(most_mps), units.speed_name()),
      11, soft);
  return svg.finished();
}

std::string grade_text(double grade) {
  const double percent = std::round(1000.0 * grade) / 10.0;
  return fmt::format("{}{:.1f} %", percent < 0.0 ? "−" : "", std::abs(percent));
}

std::vector<LandClass> land_classes(const Road& road, std::string_view mark) {
  std::array<bool, exposure_names.size()> seen{};
  for (const auto* side : {&road.profile().exposure_left, &road.profile().exposure_right})
    for (const Exposure e : *side) seen[static_cast<std::size_t>(e)] = true;
  std::vector<LandClass> classes;
  for (std::size_t k = 0; k < seen.size(); ++k) {
    if (!seen[k]) continue;
    Svg swatch(R"(width="28" height="14" aria-hidden="true")");
    swatch.element(patterns(fmt::format("{}{}", mark, k)));
    swatch.element(
        fmt::format(R"svg(<rect width="28" height="14" fill="url(#{}{}-land{})" stroke="{}"/>)svg", mark, k, k, soft));
    classes.push_back({swatch.finished(), land_words[k]});
  }
  return classes;
}

}  // namespace leewheel
