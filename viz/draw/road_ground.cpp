#include "viz/draw/road_ground.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/view/profile.hpp"

namespace leewheel::draw {

using namespace view;

RoadScale road_scale(const Rect& area, float u, const Scene& scene) {
  const Road& road = scene.replay.road();
  RoadScale s;
  const auto px = [u](float design_px) { return std::round(design_px * u); };
  // Rows from below; where room is short the plan goes first, then the land. Wind, saved and gained strip stay.
  s.band_h = area.h < (scene.ghost ? 190 : 150) * u ? 0.0f : px(15);
  s.wind_h = px(area.h < 230 * u ? 22 : 28);
  s.strip_h = px(std::clamp(0.2f * area.h / u, 26.0f, 90.0f));
  s.plan_h = has_plan(scene.replay.head()) && area.h >= 190 * u ? px(17) : 0.0f;
  s.axis_y = area.bottom() - px(16);
  s.band_y = s.axis_y - s.band_h - px(2);
  s.wind_y = s.band_y - s.wind_h;
  s.gain_h = scene.ghost ? px(std::clamp(0.12f * area.h / u, 20.0f, 60.0f)) : 0.0f;
  s.gain_y = s.wind_y - s.gain_h - px(2);
  s.strip_y = (scene.ghost ? s.gain_y : s.wind_y) - s.strip_h - px(3);
  s.plan_y = s.strip_y - s.plan_h;
  s.landmarks_y = area.y + px(20);
  const float left = px(56), right = px(16), marks = px(15);
  s.plot = {area.x + left, s.landmarks_y + marks, std::max(10.0f, area.w - left - right),
            std::max(10.0f, s.plan_y - px(3) - s.landmarks_y - marks)};
  s.length_m = std::max(1.0, road.length_m());
  const auto& z = road.profile().elevation_m;
  s.low_m = *std::ranges::min_element(z), s.high_m = std::max(*std::ranges::max_element(z), s.low_m + 10.0);
  s.relief_top = s.plot.y + std::min(24 * u, s.plot.h * 0.2f);             // room for riders on the highest place
  s.relief_bottom = s.plot.bottom() - std::min(18 * u, s.plot.h * 0.33f);  // the grades below
  return s;
}

void draw_land(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  constexpr double heaviest_grade = 0.12, over_m = 50.0;
  float last_x = s.x(0), last_y = s.y(road.elevation_m(0));
  const auto pieces = static_cast<int>(std::max(2.0f, s.plot.w / 2));
  for (int k = 1; k <= pieces; ++k) {
    const double d = s.length_m * k / pieces, from_m = std::max(0.0, d - over_m), to_m = std::min(s.length_m, d + over_m);
    const double grade = (road.elevation_m(to_m) - road.elevation_m(from_m)) / std::max(1.0, to_m - from_m);
    // The steeper, the heavier; square, so that what is merely rising stays light.
    const double weight = std::pow(std::clamp(std::abs(grade) / heaviest_grade, 0.0, 1.0), 2.0);
    const sf::Color land = colour(mix(p.land, p.stroke, 0.75 * weight));
    const float x = s.x(d), y = s.y(road.elevation_m(d)), bottom = s.plot.bottom();
    c.mesh({{last_x, last_y}, land}, {{x, y}, land}, {{x, bottom}, land});
    c.mesh({{last_x, last_y}, land}, {{x, bottom}, land}, {{last_x, bottom}, land});
    last_x = x, last_y = y;
  }
}

void draw_strokes(Canvas& c, const RoadScale& s, const Road& road, const Palette& p, double interval_m) {
  const float u = c.unit(), label_top = s.plot.bottom() - 16 * u;
  for (const ClimbStroke& stroke : climb_strokes(road, interval_m)) {
    const float x = std::round(s.x(stroke.distance_m)), y = s.y(road.elevation_m(stroke.distance_m));
    if (stroke.up)
      c.fill({x, y, std::max(1.0f, std::round(u)), std::max(0.0f, label_top - y)}, p.stroke);
    else
      c.dashes(x, x + std::round(u), y + 4 * u, 0, u, 0, p.stroke, 6 * u);
  }
}

void draw_outline(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  const auto pieces = static_cast<int>(std::max(2.0f, s.plot.w / 3));
  for (int k = 1; k <= pieces; ++k) {
    const double from = s.length_m * (k - 1) / pieces, to = s.length_m * k / pieces;
    c.line(s.x(from), s.y(road.elevation_m(from)), s.x(to), s.y(road.elevation_m(to)), p.quiet, 1.6f * c.unit());
  }
}

std::vector<Rect> grade_places(const Canvas& c, const RoadScale& s, const Road& road) {
  const float u = c.unit(), y = s.plot.bottom() - 16 * u;
  std::vector<Rect> places;
  for (const GradeRun& run : grade_runs(road, 46 * u / s.px_per_m())) {
    const float w = c.text_width(grade_text(run.grade), Size::small);
    places.push_back({(s.x(run.from_m) + s.x(run.to_m) - w) / 2, y, w, 16 * u});
  }
  return places;
}

void draw_grades(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  const float u = c.unit(), y = s.plot.bottom() - 15 * u;
  for (const GradeRun& run : grade_runs(road, 46 * u / s.px_per_m())) {
    const float from = s.x(run.from_m), to = s.x(run.to_m);
    if (run.from_m > 0) c.fill({std::round(from), y, 1, 15 * u}, p.quiet);
    c.text((from + to) / 2, y - 1, grade_text(run.grade), p.text, Size::small, Align::centre);
  }
}

void draw_axes(Canvas& c, const RoadScale& s, const Palette& p, Units units) {
  const float u = c.unit();
  const double per_unit_m = per_place_unit_m(units), foot = units == Units::metric ? 1.0 : foot_m;
  for (const double tick : nice_ticks(s.low_m / foot, s.high_m / foot,
                                      std::max(1, static_cast<int>((s.relief_bottom - s.relief_top) / (16 * u))))) {
    const float y = s.y(tick * foot);
    c.fill({s.plot.x - 4 * u, std::round(y), 4 * u, 1}, p.line);
    c.text(s.plot.x - 7 * u, y - c.line_height(Size::small) * 0.58f, height_text(tick * foot, units), p.quiet, Size::small,
           Align::right);
  }
  for (const double tick : nice_ticks(0, s.length_m / per_unit_m, std::max(2, static_cast<int>(s.plot.w / (70 * u))))) {
    const float x = s.x(tick * per_unit_m);
    c.fill({std::round(x), s.axis_y - 1, 1, 3 * u}, p.quiet);
    c.text(std::min(x, s.plot.right() - 4 * u), s.axis_y + u, fmt::format("{:g} {}", tick, place_unit(units)), p.quiet,
           Size::small, x > s.plot.right() - 20 * u ? Align::right : Align::centre);
  }
}

void draw_landmarks(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  LabelPlacer placer;
  const float u = c.unit();
  for (const Landmark& mark : road.landmarks()) {
    const float x = std::round(s.x(mark.distance_m));
    c.fill({x, s.landmarks_y + 14 * u, 1, s.plot.bottom() - s.landmarks_y - 14 * u}, faded(p.quiet, 0.55));
    const float w = c.text_width(mark.name, Size::small);
    const float left = std::clamp(x - w / 2, s.plot.x, std::max(s.plot.x, s.plot.right() - w));
    if (placer.take({left - 4 * u, s.landmarks_y, w + 8 * u, 14 * u}))
      c.text(left, s.landmarks_y, mark.name, p.text, Size::small);
  }
}

namespace {

/// Each class has a pattern of its own; the words stand on it where there is room.
void draw_pattern(Canvas& c, const Rect& area, Exposure exposure, const Palette& p) {
  const float u = c.unit(), mid = area.y + area.h / 2;
  c.fill(area, p.raised);
  const auto each = [&](float step, auto&& mark) {
    for (float x = std::ceil(area.x / step) * step + step / 2; x < area.right() - 2 * u; x += step) mark(x);
  };
  switch (exposure) {
    case Exposure::open_ridge:
      each(12 * u, [&](float x) {
        c.line(x - 4 * u, mid + 2 * u, x, mid - 2 * u, p.stroke, u),
            c.line(x, mid - 2 * u, x + 4 * u, mid + 2 * u, p.stroke, u);
      });
      break;
    case Exposure::open_slope:
      each(11 * u, [&](float x) { c.line(x - 2 * u, area.bottom() - 2 * u, x + 2 * u, area.y + 2 * u, p.stroke, u); });
      break;
    case Exposure::scattered_trees: each(14 * u, [&](float x) { c.disc(x, mid, 2.6f * u, p.stroke); }); break;
    case Exposure::houses:
      each(13 * u, [&](float x) { c.fill({x - 3 * u, mid - 2.5f * u, 6 * u, 5 * u}, p.stroke); });
      break;
    case Exposure::wood:
      each(6 * u, [&](float x) {
        c.disc(x, mid - area.h / 5, 2.0f * u, p.stroke), c.disc(x + 3 * u, mid + area.h / 5, 2.0f * u, p.stroke);
      });
      break;
  }
}

void draw_band(Canvas& c, const RoadScale& s, const Road& road, float top, float height, const std::vector<Exposure>& side,
               const Palette& p, bool words) {
  for (const ExposureRun& run : exposure_runs(side, road.spacing_m())) {
    const Rect area{s.x(run.from_m), top, s.x(run.to_m) - s.x(run.from_m), height};
    draw_pattern(c, area, run.exposure, p);
    if (run.from_m > 0) c.fill({std::round(area.x), top, 1, height}, p.quiet);
    const char* name = exposure_words(run.exposure);
    if (words && area.w > c.text_width(name, Size::small) + 10 * c.unit())
      c.plate(area.x + area.w / 2, top + (height - c.line_height(Size::small)) / 2, name, p.text, p.raised);
  }
}

}  // namespace

void draw_exposure(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  if (s.band_h <= 0) return;  // no room
  const RoadProfile& profile = road.profile();
  const float half = std::round(s.band_h / 2);
  c.text(s.plot.x - 7 * c.unit(), s.band_y, "land", p.quiet, Size::small, Align::right);
  if (profile.exposure_left == profile.exposure_right) {
    draw_band(c, s, road, s.band_y, s.band_h, profile.exposure_left, p, true);
    return;
  }
  // Left of the road above, right below; one tall band and its word where both are alike.
  draw_band(c, s, road, s.band_y, half, profile.exposure_left, p, false);
  draw_band(c, s, road, s.band_y + half, s.band_h - half, profile.exposure_right, p, false);
  std::size_t from = 0;
  for (std::size_t i = 1; i <= profile.exposure_left.size(); ++i) {
    const bool same = i < profile.exposure_left.size() && profile.exposure_left[i] == profile.exposure_left[from] &&
                      profile.exposure_right[i] == profile.exposure_right[from];
    if (same) continue;
    const Exposure left = profile.exposure_left[from], right = profile.exposure_right[from];
    const float x0 = s.x(static_cast<double>(from) * road.spacing_m()), x1 = s.x(static_cast<double>(i) * road.spacing_m());
    if (left == right) draw_pattern(c, {x0 + 1, s.band_y, std::min(x1, s.plot.right()) - x0 - 1, s.band_h}, left, p);
    std::string words =
        left == right ? exposure_words(left) : fmt::format("left {}, right {}", exposure_words(left), exposure_words(right));
    if (x1 - x0 < c.text_width(words, Size::small) + 10 * c.unit() && left != right)
      words = fmt::format("{} / {}", exposure_words(left), exposure_words(right));
    if (x1 - x0 > c.text_width(words, Size::small) + 10 * c.unit())
      c.plate((x0 + std::min(x1, s.plot.right())) / 2, s.band_y + (s.band_h - c.line_height(Size::small)) / 2, words, p.text,
              p.raised);
    from = i;
  }
}

}  // namespace leewheel::draw
