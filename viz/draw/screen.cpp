#include "viz/draw/screen.hpp"

#include <algorithm>

namespace leewheel::draw {

Screen::Screen(float scale) : scale_(scale), canvas_(fonts_), road_(fonts_), bunch_(fonts_) {}

void Screen::draw(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto size = target.getSize();
  layout_ = view::make_layout(static_cast<float>(size.x), static_cast<float>(size.y), scale_, scene.controls.panels, scene.controls.splits);
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
  if (!areas[view::bunch_panel].empty()) bunch_.draw(target, areas[view::bunch_panel], unit, scene, hits_, whole_wake);
  if (!areas[view::road_panel].empty()) road_.draw(target, areas[view::road_panel], unit, scene, hits_);  // marks what the bunch shows
  const auto plain = [&](view::Panel panel, auto&& fill) {
    if (areas[panel].empty()) return;
    canvas_.begin(unit);
    fill(areas[panel]);
    canvas_.draw(target, areas[panel]);
  };
  plain(view::tally_panel, [&](const Rect& area) { draw_tallies(canvas_, area, scene, hits_); });
  plain(view::why_panel, [&](const Rect& area) { draw_why(canvas_, area, scene); });
  plain(view::story_panel, [&](const Rect& area) { draw_story(canvas_, area, scene); });
}

void Screen::draw_bars(sf::RenderTarget& target, const Scene& scene) {
  const auto size = target.getSize();
  const Rect window{0, 0, static_cast<float>(size.x), static_cast<float>(size.y)};
  canvas_.begin(layout_.unit);
  draw_top(canvas_, layout_.top, scene);
  draw_timeline(canvas_, layout_.timeline, scene, hits_);
  draw_footer(canvas_, layout_.footer, scene);
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
