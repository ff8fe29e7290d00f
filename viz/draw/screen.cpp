#include "viz/draw/screen.hpp"

#include <algorithm>

namespace leewheel::draw {

Screen::Screen(float scale) : scale_(scale), canvas_(fonts_), road_(fonts_), riders_(fonts_) {}

void Screen::draw(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto size = target.getSize();
  layout_ = view::make_layout(static_cast<float>(size.x), static_cast<float>(size.y), scale_, scene.controls.panels,
                              scene.controls.splits);
  hits_.clear();
  target.clear(colour(scene.palette().back));
  draw_panels(target, scene, whole_wake);
  draw_bars(target, scene);
}

void Screen::draw_panels(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto& areas = layout_.panels;
  const float unit = layout_.unit;
  view::Camera& camera = scene.controls.camera;
  camera.shown_from_m = camera.shown_to_m = 0;
  if (!areas[view::riders_panel].empty()) riders_.draw(target, areas[view::riders_panel], unit, scene, hits_, whole_wake);
  if (!areas[view::road_panel].empty())
    road_.draw(target, areas[view::road_panel], unit, scene, hits_);  // marks what the view from above shows
  draw_numbers(target, scene, whole_wake);
}

void Screen::draw_numbers(sf::RenderTarget& target, const Scene& scene, bool exact) {
  constexpr int renewed_every = 5;  // pictures
  const auto one = [&](std::size_t k, view::Panel panel, auto&& fill) {
    Numbers& n = numbers_[k];
    const Rect& area = layout_.panels[panel];
    if (area.empty()) return;
    const auto& c = scene.controls;
    const Look look{layout_.unit, c.light, c.falling, c.playing, c.units, c.chosen, c.sort, c.scroll_rows};
    const bool renew = exact || look != n.look || --n.age <= 0;
    n.kept.draw(target, area, renew, [&](sf::RenderTarget& picture, sf::Vector2f origin) {
      n.hits.clear();
      canvas_.begin(layout_.unit);
      fill(area, n.hits);
      canvas_.draw(picture, area, origin);
      n.age = renewed_every;
    });
    n.look = look, n.look.scroll_rows = c.scroll_rows;  // the tallies put it within their rows
    hits_.riders.insert(hits_.riders.end(), n.hits.riders.begin(), n.hits.riders.end());
    hits_.headers.insert(hits_.headers.end(), n.hits.headers.begin(), n.hits.headers.end());
  };
  one(0, view::tally_panel, [&](const Rect& area, Hits& hits) { draw_tallies(canvas_, area, scene, hits); });
  one(1, view::why_panel, [&](const Rect& area, Hits&) { draw_why(canvas_, area, scene); });
  one(2, view::story_panel, [&](const Rect& area, Hits&) { draw_story(canvas_, area, scene); });
}

void Screen::draw_bars(sf::RenderTarget& target, const Scene& scene) {
  const auto size = target.getSize();
  const Rect window{0, 0, static_cast<float>(size.x), static_cast<float>(size.y)};
  canvas_.begin(layout_.unit);
  draw_top(canvas_, layout_.top, scene);
  draw_timeline(canvas_, layout_.timeline, scene, hits_);
  draw_footer(canvas_, layout_.footer, scene);
  if (!layout_.panels[view::riders_panel].empty()) draw_card(canvas_, layout_.panels[view::riders_panel], scene);
  canvas_.draw(target, window);
  if (!scene.controls.help) return;
  canvas_.begin(layout_.unit);
  draw_help(canvas_, window, scene);
  canvas_.draw(target, window);
}

std::optional<std::uint32_t> Screen::rider_at(float x, float y) const {
  for (auto hit = hits_.riders.rbegin(); hit != hits_.riders.rend(); ++hit)
    if (hit->area.contains(x, y)) return hit->rider;
  return {};
}

std::optional<view::Column> Screen::column_at(float x, float y) const {
  for (const auto& hit : hits_.headers)
    if (hit.area.contains(x, y)) return hit.column;
  return {};
}

std::optional<double> Screen::time_at(float x, float y, bool dragging, const Replay& replay) const {
  const Rect& line = hits_.timeline;
  if (!dragging && !line.contains(x, y)) return {};
  const double share = std::clamp((x - line.x) / std::max(1.0f, line.w), 0.0f, 1.0f);
  return replay.start_s() + share * (replay.end_s() - replay.start_s());
}

}  // namespace leewheel::draw
