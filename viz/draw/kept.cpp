#include "viz/draw/kept.hpp"

#include <cmath>

namespace leewheel::draw {

bool Kept::place(const sf::RenderTarget& target, const view::Rect& area) {
  const bool same =
      area_.x == area.x && area_.y == area.y && area_.w == area.w && area_.h == area.h && window_ == target.getSize();
  area_ = area, window_ = target.getSize();
  const sf::Vector2u size{static_cast<unsigned>(std::ceil(area.w)), static_cast<unsigned>(std::ceil(area.h))};
  if (size != size_) usable_ = picture_.create(size.x, size.y), size_ = size;
  return !same || !usable_;
}

void Kept::copy_to(sf::RenderTarget& target) const {
  target.setView(sf::View(sf::FloatRect(0, 0, static_cast<float>(window_.x), static_cast<float>(window_.y))));
  sf::Sprite sprite(picture_.getTexture());
  sprite.setPosition(area_.x, area_.y);
  target.draw(sprite, sf::RenderStates(sf::BlendNone));
}

}  // namespace leewheel::draw
