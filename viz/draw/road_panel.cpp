#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "leewheel/units.hpp"
#include "viz/draw/scene.hpp"
#include "viz/view/profile.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// Where road and heights lie in the panel.
struct RoadScale {
  Rect plot;                                                  ///< profile, with headroom for riders
  float landmarks_y, plan_y, wind_y, band_y, axis_y, band_h;  ///< tops of the rows; plan_y = wind_y: no plan
  double length_m, low_m, high_m;
  float relief_top, relief_bottom;

  float x(double distance_m) const { return plot.x + static_cast<float>(distance_m / length_m) * plot.w; }
  float y(double elevation_m) const {
    return relief_bottom - static_cast<float>((elevation_m - low_m) / (high_m - low_m)) * (relief_bottom - relief_top);
  }
  double px_per_m() const { return plot.w / length_m; }
};

RoadScale road_scale(const Rect& area, float u, const Replay& replay) {
  const Road& road = replay.road();
  RoadScale s;
  const float head = std::round(20 * u), marks = std::round(16 * u), wind = area.h < 165 * u ? 0.0f : std::round(22 * u),
              axis = std::round(16 * u);
  s.band_h = std::round(15 * u);
  s.axis_y = area.bottom() - axis;
  s.band_y = s.axis_y - s.band_h - std::round(2 * u);
  s.wind_y = s.band_y - wind;
  s.plan_y = s.wind_y - (has_plan(replay.head()) && area.h >= 150 * u ? std::round(17 * u) : 0.0f);
  s.landmarks_y = area.y + head;
  const float left = std::round(56 * u), right = std::round(16 * u);
  s.plot = {area.x + left, s.landmarks_y + marks, std::max(10.0f, area.w - left - right),
            std::max(10.0f, s.plan_y - s.landmarks_y - marks)};
  s.length_m = std::max(1.0, road.length_m());
  const auto& z = road.profile().elevation_m;
  s.low_m = *std::ranges::min_element(z), s.high_m = std::max(*std::ranges::max_element(z), s.low_m + 10.0);
  s.relief_top = s.plot.y + std::min(36 * u, s.plot.h * 0.28f);
  s.relief_bottom = s.plot.bottom() - std::min(18 * u, s.plot.h * 0.33f);  // the grades below
  return s;
}

void draw_land(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
  const sf::Color land = colour(p.land);
  float last_x = s.x(0), last_y = s.y(road.elevation_m(0));
  const auto pieces = static_cast<int>(std::max(2.0f, s.plot.w / 2));
  for (int k = 1; k <= pieces; ++k) {
    const double d = s.length_m * k / pieces;
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

void draw_wind(Canvas& c, const RoadScale& s, const Replay& replay, const Palette& p, Units units) {
  const float u = c.unit(), spacing = 66 * u, mid = s.wind_y + 11 * u;
  if (s.wind_y >= s.band_y) return;  // no room
  c.text(s.plot.x - 7 * u, s.wind_y + 3 * u, "wind", p.quiet, Size::small, Align::right);
  double most_mps = 1.0;
  std::vector<std::pair<float, MetWind>> met;
  for (float x = s.plot.x + 12 * u; x < s.plot.right() - 24 * u; x += spacing)
    if (const auto w = replay.met_wind((x - s.plot.x) / s.px_per_m()))
      met.emplace_back(x, *w), most_mps = std::max(most_mps, std::hypot(w->along_mps, w->cross_mps));
  for (const auto& [x, w] : met) {
    const double speed = std::hypot(w.along_mps, w.cross_mps);
    const float half = std::max(4.0f, 10 * static_cast<float>(speed / most_mps)) * u;  // a breath is still an arrow
    const float fx = static_cast<float>(w.along_mps / std::max(speed, 1e-6)) * half,
                fy = -static_cast<float>(w.cross_mps / std::max(speed, 1e-6)) * half;
    c.arrow(x - fx, mid - fy, x + fx, mid + fy, p.text, 1.5f * u, 6 * u);
    const double shown = units == Units::metric ? kmh_from_mps(speed) : speed * 3600 / mile_m;
    c.text(x + 13 * u, s.wind_y + 3 * u, fmt::format("{:.0f}", shown), p.quiet, Size::small);
  }
}

/// Two arrowheads that meet: here the first wait for the last.
void draw_regroup(Canvas& c, float x, float middle, Rgb shade) {
  const float u = c.unit();
  for (const float side : {-1.0f, 1.0f})
    c.triangle({x + side * u, middle}, {x + side * 7 * u, middle - 4 * u}, {x + side * 7 * u, middle + 4 * u}, shade);
}

/// What was meant to be done: regroup points, and the chosen rider's efforts from place to place.
void draw_plan(Canvas& c, const RoadScale& s, const Scene& scene) {
  const Palette& p = scene.palette();
  if (s.plan_y >= s.wind_y) {  // no room for a row: the marks alone, over the profile
    for (const double at_m : scene.replay.head().regroup_at_m) draw_regroup(c, s.x(at_m), s.plot.y + 5 * c.unit(), p.text);
    return;
  }
  const float u = c.unit(), top = s.plan_y + u, middle = s.plan_y + 8 * u;
  LabelPlacer placer;
  c.text(s.plot.x - 7 * u, top, "plan", p.quiet, Size::small, Align::right);
  for (const double at_m : scene.replay.head().regroup_at_m) {
    const float x = s.x(at_m), w = c.text_width("regroup", Size::small),
                left = x + 10 * u + w < s.plot.right() ? x + 10 * u : x - 10 * u - w;
    draw_regroup(c, x, middle, p.text);
    placer.take({x - 9 * u, top, 18 * u, 15 * u});
    if (placer.take({left, top, w + 4 * u, 15 * u})) c.text(left, top, "regroup", p.text, Size::small);
  }
  for (const PlanCue& cue : plan_cues(scene.replay.head(), scene.controls.chosen, s.length_m)) {
    const float from = s.x(cue.from_m), to = s.x(cue.to_m);
    c.fill({std::round(from), s.plan_y, std::max(1.0f, u), 15 * u}, p.chosen);
    c.fill({from, s.plan_y + 15 * u, std::max(1.0f, to - from - 2 * u), std::max(1.0f, u)}, p.chosen);
    for (const std::string& words : {cue.words + " of critical power", cue.words}) {
      const float w = c.text_width(words, Size::small);
      if (w + 8 * u > to - from || !placer.take({from + 4 * u, top, w, 15 * u})) continue;
      c.text(from + 4 * u, top, words, p.chosen, Size::small);
      break;
    }
  }
}

/// The stretch the bunch view shows, never too narrow to be found.
void draw_focus(Canvas& c, const RoadScale& s, const Scene& scene) {
  const Camera& camera = scene.controls.camera;
  if (camera.shown_to_m <= 0 || camera.shown_from_m >= s.length_m || camera.shown_to_m <= camera.shown_from_m) return;
  const Palette& p = scene.palette();
  const float u = c.unit(), from = s.x(std::max(0.0, camera.shown_from_m)),
              to = s.x(std::min(s.length_m, camera.shown_to_m));
  const float half = std::max((to - from) / 2, 7 * u), middle = (from + to) / 2, bottom = s.plot.bottom();
  c.fill({middle - half, s.plot.y, 2 * half, bottom - s.plot.y}, faded(p.chosen, 0.10));
  for (const float side : {-half, half}) {
    c.fill({std::round(middle + side), s.plot.y, std::max(1.0f, u), bottom - s.plot.y}, faded(p.chosen, 0.6));
    for (const float y : {s.plot.y, bottom - u})
      c.fill({std::round(side < 0 ? middle - half : middle + half - 4 * u), y, 5 * u, std::max(1.0f, u)}, p.chosen);
  }
}

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

void draw_exposure(Canvas& c, const RoadScale& s, const Road& road, const Palette& p) {
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

}  // namespace

void RoadDrawing::draw_still(const Rect& area, const Scene& scene) {
  const Road& road = scene.replay.road();
  const Palette& p = scene.palette();
  const RoadScale s = road_scale(area, unit_, scene.replay);
  const double interval_m = stroke_interval_m(road, 3.2 * unit_ / s.px_per_m(), units_ == Units::metric ? 1.0 : foot_m);
  const bool metric = units_ == Units::metric;
  open_panel(still_, area, p, "Road",
             fmt::format("one stroke for every {} climbed   \xC2\xB7   wind at rider height in {}, seen from above: arrow "
                         "to the left = against, up = towards the left",
                         height_text(interval_m, units_), metric ? "km/h" : "mph"));
  draw_land(still_, s, road, p);
  draw_strokes(still_, s, road, p, interval_m);
  draw_outline(still_, s, road, p);
  draw_grades(still_, s, road, p);
  draw_landmarks(still_, s, road, p);
  draw_wind(still_, s, scene.replay, p, units_);
  draw_exposure(still_, s, road, p);
  draw_axes(still_, s, p, units_);
}

/// Dots stacked where riders are, in columns of one dot's width; returns what they cover.
RoadDrawing::Span RoadDrawing::draw_group(const GroupView& g, const Rect& area, const Scene& scene,
                                          std::map<int, int>& heights, Hits& hits) {
  const Road& road = scene.replay.road();
  const Palette& p = scene.palette();
  const RoadScale s = road_scale(area, unit_, scene.replay);
  const float u = unit_, step = 6.4f * u;
  Span span{1e9f, -1e9f, 1e9f, g.id, g.riders.size(), false, 0};
  for (const std::uint32_t i : g.riders) {
    const RiderView& r = scene.view.riders[i];
    const int column = std::max(0, static_cast<int>(std::floor((s.x(r.distance_m) - s.plot.x) / step)));
    const int level = heights[column]++;
    const bool chosen = i == scene.controls.chosen;
    const float x = s.plot.x + (static_cast<float>(column) + 0.5f) * step;
    const float foot = s.y(road.elevation_m(r.distance_m)) - 5 * u;
    const int most =
        std::clamp(static_cast<int>((foot - s.plot.y - 12 * u) / step), 0, 4);  // a stack stays below the landmarks
    const float y = foot - static_cast<float>(std::min(level, most)) * step;
    span.x0 = std::min(span.x0, x), span.x1 = std::max(span.x1, x), span.top = std::min(span.top, y);
    if (chosen) span.has_chosen = true, span.chosen_x = x, chosen_y_ = y;
    if (level <= most && !chosen) moving_.disc(x, y, 2.9f * u, p.group(g.id));
    hits.riders.push_back({{x - step / 2, y - step / 2, step, step}, i});
  }
  return span;
}

void RoadDrawing::draw_bracket(const Span& span, const Palette& p) {
  const float u = unit_, y = span.top - 7 * u, thin = std::max(1.0f, u);
  moving_.fill({span.x0 - 4 * u, y, span.x1 - span.x0 + 8 * u, thin}, p.text);
  moving_.fill({span.x0 - 4 * u, y, thin, 4 * u}, p.text);
  moving_.fill({span.x1 + 4 * u - thin, y, thin, 4 * u}, p.text);
}

/// Over the bracket in the first free of so many rows, else beside it if allowed; false where there is no room.
bool RoadDrawing::draw_label(const Span& span, const Label& label, const Rect& plot, const Palette& p, LabelPlacer& placer) {
  const float u = unit_, h = moving_.line_height(Size::small),
              w = moving_.text_width(label.words, Size::small, label.bold) + 6 * u;
  const float over = std::clamp((span.x0 + span.x1) / 2 - w / 2, plot.x, plot.right() - w),
              beside_y = std::max(span.top - h / 2, plot.y);
  std::vector<Rect> places;
  for (float y = span.top - 9 * u - h; y >= plot.y - u && places.size() < label.rows; y -= h + u)
    places.push_back({over, y, w, h});
  if (label.beside)
    places.push_back({span.x1 + 9 * u, beside_y, w, h}), places.push_back({span.x0 - 9 * u - w, beside_y, w, h});
  for (const Rect& place : places) {
    if (place.x < plot.x - u || place.right() > plot.right() + u || !placer.take(place)) continue;
    moving_.plate(place.x, place.y, label.words, label.shade, p.panel, Size::small, Align::left, label.bold);
    return true;
  }
  return false;
}

/// Each group's number over its bracket, in full where no other group is near.
void RoadDrawing::label_groups(const std::vector<Span>& spans, const Rect& plot, const Palette& p, LabelPlacer& placer) {
  for (const Span& span : spans) {
    if (span.id < 0) continue;
    const Label full{fmt::format("group {} ({})", span.id, span.riders), false, p.text, 4, true};
    const Label number{fmt::format("{}", span.id), false, p.text, 1, false};
    const float half = moving_.text_width(full.words, Size::small) / 2 + 9 * unit_, middle = (span.x0 + span.x1) / 2;
    const bool crowded = std::ranges::any_of(
        spans, [&](const Span& o) { return &o != &span && o.id >= 0 && o.x1 > middle - half && o.x0 < middle + half; });
    if (crowded || !draw_label(span, full, plot, p, placer)) draw_label(span, number, plot, p, placer);
  }
}

void RoadDrawing::draw_labels(const std::vector<Span>& spans, const Rect& plot, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = unit_, stack = 40 * u;
  LabelPlacer placer;
  for (const Span& span : spans) placer.take({span.x0 - 4 * u, span.top - 7 * u, span.x1 - span.x0 + 8 * u, stack});
  const auto chosen = std::ranges::find_if(spans, &Span::has_chosen);
  // The name stands over the numbers; where there are not the rows for both, the name goes first.
  const bool roomy = chosen == spans.end() || chosen->top - plot.y > 2 * (moving_.line_height(Size::small) + u) + 9 * u;
  if (roomy) label_groups(spans, plot, p, placer);
  if (chosen != spans.end()) {
    moving_.disc(chosen->chosen_x, chosen_y_, 4 * u, p.chosen),
        moving_.ring(chosen->chosen_x, chosen_y_, 6 * u, p.chosen, 1.4f * u);
    draw_label(*chosen, {scene.chosen().name, true, p.chosen, 4, true}, plot, p, placer);
  }
  if (!roomy) label_groups(spans, plot, p, placer);
}

void RoadDrawing::draw_riders(const Rect& area, const Scene& scene, Hits& hits) {
  const Road& road = scene.replay.road();
  const RoadScale s = road_scale(area, unit_, scene.replay);
  const float u = unit_;
  draw_focus(moving_, s, scene);
  draw_plan(moving_, s, scene);
  if (scene.ghost && scene.ghost->view)
    for (const RiderView& r : scene.ghost->view->riders)
      if (!r.finished)
        moving_.ring(s.x(r.distance_m), s.y(road.elevation_m(r.distance_m)) - 5 * u, 3 * u, scene.palette().ghost, 1.2f * u);
  std::map<int, int> heights;
  std::vector<Span> spans;
  for (const GroupView& g : scene.view.groups) spans.push_back(draw_group(g, area, scene, heights, hits));
  for (const Span& span : spans)
    if (span.id >= 0) draw_bracket(span, scene.palette());
  draw_labels(spans, s.plot, scene);
}

void RoadDrawing::draw(sf::RenderTarget& target, const Rect& area, float unit, const Scene& scene, Hits& hits) {
  const bool same = unit == unit_ && light_ == scene.controls.light && units_ == scene.controls.units;
  unit_ = unit, light_ = scene.controls.light, units_ = scene.controls.units;
  kept_.draw(target, area, !same, [&](sf::RenderTarget& picture, sf::Vector2f origin) {
    still_.begin(unit);
    draw_still(area, scene);
    still_.draw(picture, area, origin);
  });
  moving_.begin(unit);
  draw_riders(area, scene, hits);
  moving_.draw(target, area);
}

}  // namespace leewheel::draw
