#pragma once
/// The whole window as a function of the scene.

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

class Screen {
 public:
  explicit Screen(float scale);
  /// `whole_wake`: renew all of the wake (pictures, paused), not just a part (playing).
  void draw(sf::RenderTarget& target, const Scene& scene, bool whole_wake);

  const view::Layout& layout() const { return layout_; }
  std::optional<std::uint32_t> rider_at(float x, float y) const;
  std::optional<view::Column> column_at(float x, float y) const;
  /// Time under the mouse: on the timeline, or anywhere beside it while `dragging`.
  std::optional<double> time_at(float x, float y, bool dragging, const Replay& replay) const;

 private:
  void draw_panels(sf::RenderTarget& target, const Scene& scene, bool whole_wake);
  void draw_bars(sf::RenderTarget& target, const Scene& scene);

  float scale_;
  Fonts fonts_;
  Canvas canvas_;
  RoadDrawing road_;
  BunchDrawing bunch_;
  view::Layout layout_;
  Hits hits_;
};

}  // namespace leewheel::draw
