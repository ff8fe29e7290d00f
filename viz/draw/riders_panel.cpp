#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "viz/draw/riders_marks.hpp"
#include "viz/draw/scene.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

constexpr double least_px_per_m = 8.0, spare_m = 6.0;  // design pixels; a bunch too long for that is shown in part

/// Fitting keeps its scale while that is near enough, so that the picture does not breathe with every gap.
double settled_px_per_m(double fit_now, double before) {
  return before <= fit_now && before >= 0.65 * fit_now ? before : 0.92 * fit_now;
}

GroundScale ground_scale(const Rect& room, const Scene& scene, const Focus& focus) {
  Camera& camera = scene.controls.camera;
  const double width_m = scene.replay.road().width_m(focus.middle_m);
  camera.fitted_px_per_m = settled_px_per_m(fitted_px_per_m(focus, room.w, room.h, width_m), camera.fitted_px_per_m);
  GroundScale s{room, camera.px_per_m > 0 ? camera.px_per_m : camera.fitted_px_per_m, focus.middle_m + camera.along_m, 0};
  const bool road_fits = (width_m + 0.6) * s.px_per_m < room.h;
  s.lateral_m = (road_fits ? 0.0 : focus.lateral_m) + camera.across_m;
  camera.shown_from_m = s.from_m(), camera.shown_to_m = s.to_m();
  return s;
}

void draw_ground(Canvas& c, const GroundScale& s, const Road& road, const Palette& p) {
  const double step_m = std::max(1.0, 12.0 / s.px_per_m);
  for (double d = std::floor(s.from_m() / step_m) * step_m; d < s.to_m(); d += step_m) {
    const double from = d, to = d + step_m;
    const double half_m = road.width_m(from) / 2;
    c.fill({s.x(from), s.y(half_m), s.x(to) - s.x(from), s.px(2 * half_m)}, p.road);
    for (const double edge : {half_m, -half_m}) c.fill({s.x(from), s.y(edge) - 1, s.x(to) - s.x(from) + 1, 2}, p.quiet);
  }
}

void draw_centre(Canvas& c, const GroundScale& s, const Road& road, const Palette& p) {
  const double dash_m = 2.0, gap_m = 3.0;
  for (double d = std::floor(s.from_m() / (dash_m + gap_m)) * (dash_m + gap_m); d < s.to_m(); d += dash_m + gap_m)
    c.fill({s.x(d), std::round(s.y(0)), s.px(dash_m), std::max(1.0f, c.unit())}, p.line);
  for (const double at_m : {0.0, road.length_m()})
    if (at_m >= s.from_m() && at_m <= s.to_m())
      c.fill({s.x(at_m), s.y(road.width_m(at_m) / 2), 3 * c.unit(), s.px(road.width_m(at_m))}, p.text);
}

WakeGrid wake_grid(const GroundScale& s, double road_width_m) {
  const double length_m = s.room.w / s.px_per_m, across_m = std::min(road_width_m + 3.0, s.room.h / s.px_per_m + 0.5);
  WakeGrid grid;
  grid.columns = 84, grid.rows = 30;
  grid.along_step_m = length_m / static_cast<double>(grid.columns - 1);
  grid.across_step_m = across_m / static_cast<double>(grid.rows - 1);
  grid.first_along_m = -length_m / 2 + 0.5 * bicycle_length_m;  // drawn at the middle of the further rider
  grid.first_across_m = s.lateral_m - across_m / 2;
  return grid;
}

/// Where the wake's grid lies in the window: half a step beyond its outermost nodes, which are the middles of texels.
Rect wake_area(const GroundScale& s, const WakeGrid& g) {
  // The value stands for a rider whose front wheel is here; drawn at that rider's middle.
  const double first_m = s.middle_m + g.first_along_m - 0.5 * bicycle_length_m - 0.5 * g.along_step_m;
  const double top_m = g.first_across_m + (static_cast<double>(g.rows) - 0.5) * g.across_step_m;
  return {s.x(first_m), s.y(top_m), s.px(static_cast<double>(g.columns) * g.along_step_m),
          s.px(static_cast<double>(g.rows) * g.across_step_m)};
}

void draw_bicycle(Canvas& c, const GroundScale& s, double front_m, double lateral_m, Rgb body, Rgb frame_colour) {
  const float y = s.y(lateral_m), front = s.x(front_m), rear = s.x(front_m - bicycle_length_m);
  const float wheel = s.px(0.66), thick = std::max(1.2f, s.px(0.05));
  c.line(rear, y, front, y, frame_colour, std::max(1.0f, thick * 0.6f));
  c.line(front - wheel, y, front, y, frame_colour, thick * 1.6f);
  c.line(rear, y, rear + wheel, y, frame_colour, thick * 1.6f);
  const float bars = front - s.px(0.55);
  c.line(bars, y - s.px(0.21), bars, y + s.px(0.21), frame_colour, thick);
  c.oval(s.x(front_m - 0.95), y, std::max(2.5f, s.px(0.36)), std::max(2.0f, s.px(0.21)), body);
  c.disc(s.x(front_m - 0.66), y, std::max(1.2f, s.px(0.11)), frame_colour);
}

void draw_riders(Canvas& c, const GroundScale& s, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  if (scene.view.groups.empty() && card_of(scene.controls, scene.replay).empty())
    c.plate(s.room.x + s.room.w / 2, s.room.y + s.room.h / 2 - c.line_height(), "Everyone is home.", p.text, p.panel,
            Size::large);
  if (scene.ghost)
    for (const RiderView& r : scene.ghost->view.riders)
      if (r.distance_m > s.from_m() && r.distance_m - bicycle_length_m < s.to_m() && !r.finished) {
        const Rect hull{s.x(r.distance_m - bicycle_length_m), s.y(r.lateral_m + 0.22), s.px(bicycle_length_m), s.px(0.44)};
        c.frame(hull, p.ghost, std::max(1.0f, c.unit()));
      }
  for (std::uint32_t i = 0; i < scene.view.riders.size(); ++i) {
    const RiderView& r = scene.view.riders[i];
    if (r.finished || r.distance_m < s.from_m() || r.distance_m - bicycle_length_m > s.to_m()) continue;
    const bool chosen = i == scene.controls.chosen;
    const Rect hull{s.x(r.distance_m - bicycle_length_m), s.y(r.lateral_m) - std::max(5.0f, s.px(0.3)),
                    s.px(bicycle_length_m), 2 * std::max(5.0f, s.px(0.3))};
    if (chosen) c.frame({hull.x - 4, hull.y - 2, hull.w + 8, hull.h + 4}, p.chosen, std::max(2.0f, 2 * c.unit()));
    draw_bicycle(c, s, r.distance_m, r.lateral_m, chosen ? p.chosen : p.group(r.group), p.text);
    hits.riders.push_back({hull, i});
  }
}

}  // namespace

/// One smooth picture stretched over the road: thousands of small triangles would cost far more.
void RidersDrawing::draw_wake(sf::RenderTarget& target, const Rect& shown, const Palette& p, bool as_share) {
  const WakeGrid& g = wake_.grid();
  if (g.columns < 2 || g.rows < 2) return;
  wake_pixels_.clear();
  for (std::size_t row = g.rows; row-- > 0;)
    for (std::size_t column = 0; column < g.columns; ++column) {
      const double depth =
          as_share ? depth_of_share(wake_.drag_share(column, row)) : depth_of_watts(wake_.saved_W(column, row));
      const Rgb shade = p.shade(depth);
      const auto strength = static_cast<sf::Uint8>(255 * std::clamp((depth - 0.012) / 0.07, 0.0, 1.0));
      wake_pixels_.insert(wake_pixels_.end(), {shade.r, shade.g, shade.b, strength});
    }
  const auto columns = static_cast<unsigned>(g.columns), rows = static_cast<unsigned>(g.rows);
  if (wake_texture_.getSize() != sf::Vector2u(columns, rows)) {
    if (!wake_texture_.create(columns, rows)) return;
    wake_texture_.setSmooth(true);
  }
  wake_texture_.update(wake_pixels_.data());
  sf::Sprite sprite(wake_texture_);
  sprite.setPosition(shown.x, shown.y);
  sprite.setScale(shown.w / static_cast<float>(columns), shown.h / static_cast<float>(rows));
  target.draw(sprite);
}

void RidersDrawing::draw(sf::RenderTarget& target, const Rect& area, float unit, const Scene& scene, Hits& hits,
                         bool whole_wake) {
  const Palette& p = scene.palette();
  canvas_.begin(unit);
  const Focus focus = within(focus_of(scene.controls, scene.view), scene.view, area.w / (least_px_per_m * unit) - spare_m);
  const Rect room = open_panel(canvas_, area, p, "Bunch from above",
                               fmt::format("following {}{}", focus.words, next_words(scene.view, focus)));
  const GroundScale s = ground_scale(room, scene, focus);
  const WakeGrid grid = wake_grid(s, scene.replay.road().width_m(s.middle_m));
  wake_.update(scene.view, scene.replay, grid, s.middle_m, whole_wake ? grid.columns : grid.columns / 6);
  canvas_.draw(target, area);

  canvas_.begin(unit);
  draw_ground(canvas_, s, scene.replay.road(), p);
  canvas_.draw(target, room);
  draw_wake(target, wake_area(s, wake_.grid()), p, scene.controls.wake_as_share);

  canvas_.begin(unit);
  const Card card = card_of(scene.controls, scene.replay);
  const bool carded = !card.results.empty() || (!scene.controls.show && !card.words.empty());
  draw_centre(canvas_, s, scene.replay.road(), p);
  draw_riders(canvas_, s, scene, hits);
  if (!carded) draw_words(s, scene, focus, caption_area(canvas_, area, scene));
  canvas_.draw(target, room);
}

}  // namespace leewheel::draw
