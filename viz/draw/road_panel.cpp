#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "leewheel/units.hpp"
#include "viz/draw/gained_strip.hpp"
#include "viz/draw/road_ground.hpp"
#include "viz/draw/saved_strip.hpp"
#include "viz/draw/scene.hpp"
#include "viz/view/profile.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// Two arrowheads that meet: here the first wait for the last.
void draw_regroup(Canvas& c, float x, float middle, Rgb shade) {
  const float u = c.unit();
  for (const float side : {-1.0f, 1.0f})
    c.triangle({x + side * u, middle}, {x + side * 7 * u, middle - 4 * u}, {x + side * 7 * u, middle + 4 * u}, shade);
}

/// What was meant to be done: regroup points, and the chosen rider's efforts from place to place.
void draw_plan(Canvas& c, const RoadScale& s, const Scene& scene) {
  const Palette& p = scene.palette();
  if (s.plan_h <= 0) {  // no room for a row: the marks alone, over the profile
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

/// The stretch the view from above shows, never too narrow to be found.
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

}  // namespace

void RoadDrawing::draw_still(const Rect& area, const Scene& scene) {
  const Road& road = scene.replay.road();
  const Palette& p = scene.palette();
  const RoadScale s = road_scale(area, unit_, scene);
  const double interval_m = stroke_interval_m(road, 3.2 * unit_ / s.px_per_m(), units_ == Units::metric ? 1.0 : foot_m);
  const bool metric = units_ == Units::metric;
  std::string note = scene.ghost ? gained_heading(*scene.ghost) + "   \xC2\xB7   " : "";
  if (const auto most = scene.replay.most_exposed())
    note += fmt::format("most exposed: {} to {}, {:.0f} {} against   \xC2\xB7   ", place_text(most->from_m, units_),
                        place_text(most->to_m, units_),
                        metric ? kmh_from_mps(most->head_mps) : most->head_mps * 3600 / mile_m, metric ? "km/h" : "mph");
  note += fmt::format(
      "one stroke for every {} climbed   \xC2\xB7   wind at rider height in {}, seen from above: arrow to "
      "the left = against, up = towards the left",
      height_text(interval_m, units_), metric ? "km/h" : "mph");
  open_panel(still_, area, p, "Road", note);
  draw_land(still_, s, road, p);
  draw_strokes(still_, s, road, p, interval_m);
  draw_outline(still_, s, road, p);
  draw_grades(still_, s, road, p);
  grades_ = grade_places(still_, s, road);
  draw_landmarks(still_, s, road, p);
  draw_saved_strip(still_, s, scene);
  draw_gained_strip(still_, s, scene);
  draw_wind(still_, s, scene.replay, p, units_);
  draw_exposure(still_, s, road, p);
  draw_axes(still_, s, p, units_);
}

/// Dots stacked where riders are, in columns of one dot's width; returns what they cover.
RoadDrawing::Span RoadDrawing::draw_group(const GroupView& g, const Rect& area, const Scene& scene,
                                          std::map<int, int>& heights, Hits& hits) {
  const Road& road = scene.replay.road();
  const Palette& p = scene.palette();
  const RoadScale s = road_scale(area, unit_, scene);
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
  for (const Rect& grade : grades_) placer.take(grade);
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
  const RoadScale s = road_scale(area, unit_, scene);
  const float u = unit_;
  hits.profile = {s.plot.x, s.plot.y, s.plot.w, s.axis_y - s.plot.y};
  draw_focus(moving_, s, scene);
  draw_plan(moving_, s, scene);
  draw_saved_now(moving_, s, scene);
  draw_gained_now(moving_, s, scene);
  if (scene.ghost)
    for (const RiderView& r : scene.ghost->now.riders)
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
  const Controls& chosen = scene.controls;
  const bool same = unit == unit_ && light_ == chosen.light && units_ == chosen.units && strip_of_ == chosen.chosen &&
                    strip_of_all_ == chosen.strip_of_all;
  unit_ = unit, light_ = chosen.light, units_ = chosen.units;
  strip_of_ = chosen.chosen, strip_of_all_ = chosen.strip_of_all;
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
