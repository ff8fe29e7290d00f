#pragma once
/// A part of the window kept as a picture: copying it is far cheaper on software GL than drawing its strokes and letters anew.

#include <SFML/Graphics.hpp>

#include "viz/view/layout.hpp"

namespace leewheel::draw {

class Kept {
 public:
  /// Draws `fill(target, origin)` into the picture if `renew` or if the area moved, then copies the picture to `target`.
  /// `origin` is where in the window the target's corner lies.
  template <class Fill>
  void draw(sf::RenderTarget& target, const view::Rect& area, bool renew, Fill&& fill) {
    const bool anew = place(target, area) || renew;
    if (!usable_) return fill(target, sf::Vector2f(0, 0));
    if (anew) {
      picture_.clear();
      fill(picture_, sf::Vector2f(area.x, area.y));
      picture_.display();
    }
    copy_to(target);
  }

 private:
  bool place(const sf::RenderTarget& target, const view::Rect& area);  ///< true if the picture must be drawn anew
  void copy_to(sf::RenderTarget& target) const;

  sf::RenderTexture picture_;
  bool usable_ = false;  ///< else drawn straight to the target: the display cannot hold such a picture
  sf::Vector2u size_, window_;
  view::Rect area_;
};

}  // namespace leewheel::draw
