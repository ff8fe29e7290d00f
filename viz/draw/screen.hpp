#pragma once
/// The whole window as a function of the scene.

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

/// What a person can change about a panel of numbers: it answers at once.
struct Look {
  float unit = 0;
  bool light = false, falling = false, playing = false;
  view::Units units = view::Units::metric;
  std::uint32_t chosen = 0;
  view::Column sort = view::Column::place;
  int scroll_rows = 0;
  bool operator==(const Look&) const = default;
};

/// What the pointer is on: words to tell, and the moment of the ride that a click goes to.
struct Pointed {
  std::string words;
  std::optional<double> time_s;
};

class Screen {
 public:
  explicit Screen(float scale);
  /// `whole_wake`: renew all of the wake (pictures, paused), not just a part (playing).
  void draw(sf::RenderTarget& target, const Scene& scene, bool whole_wake);

  void tell(std::vector<Drawn>* into) { fonts_.tell(into); }  ///< what is drawn, see `Drawn`
  const view::Layout& layout() const { return layout_; }
  std::optional<std::uint32_t> rider_at(float x, float y) const;
  std::optional<view::Column> column_at(float x, float y) const;
  bool on_mark(float x, float y) const;  ///< on a mark of the timeline or a line of the story
  std::optional<Pointed> pointed_at(float x, float y, const Scene& scene) const;
  /// Time under the mouse: on the timeline, or anywhere beside it while `dragging`.
  std::optional<double> time_at(float x, float y, bool dragging, const Replay& replay) const;

 private:
  /// A panel of words and numbers. Nobody reads sixty numbers a second: while playing it is renewed every fifth picture.
  struct Numbers {
    Kept kept;
    Hits hits;
    Look look;
    int age = 0;
  };
  void draw_numbers(sf::RenderTarget& target, const Scene& scene, bool exact);
  void draw_panels(sf::RenderTarget& target, const Scene& scene, bool whole_wake);
  void draw_for_a_room(sf::RenderTarget& target, const Scene& scene, bool whole_wake);
  void draw_over(sf::RenderTarget& target, const Scene& scene);
  void draw_bars(sf::RenderTarget& target, const Scene& scene);

  float scale_;
  Fonts fonts_;
  Canvas canvas_;
  RoadDrawing road_;
  RidersDrawing riders_;
  std::array<Numbers, 3> numbers_;
  view::Layout layout_;
  Hits hits_;
};

}  // namespace leewheel::draw
