#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "leewheel/units.hpp"
#include "viz/draw/gained_strip.hpp"
#include "viz/draw/road_riders.hpp"
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
      "one stroke for every {} climbed   \xC2\xB7   wind at rider height in {}: band as wide as the wind against, hollow = "
      "from behind; arrow from above, up = towards the left",
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
  draw_beads(moving_, s, scene, grades_, hits);
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
