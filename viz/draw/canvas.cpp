#include "viz/draw/canvas.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leewheel::draw {
namespace {

template <class Each>
void for_each_character(std::string_view text, Each&& each) {
  for (auto at = text.begin(); at < text.end();) {
    sf::Uint32 character = 0;
    at = sf::Utf8::decode(at, text.end(), character, U'?');
    each(character);
  }
}

sf::Color clear(sf::Color c) { return {c.r, c.g, c.b, 0}; }

}  // namespace

sf::Color colour(Rgb c) { return {c.r, c.g, c.b, c.a}; }

unsigned pixel_size(Size size, float unit) {
  constexpr float sizes[] = {12, 13, 16, 20, 64};
  return static_cast<unsigned>(std::lround(sizes[static_cast<int>(size)] * unit));
}

float Fonts::width(std::string_view text, Size size, float unit, bool bold) const {
  float width = 0;
  const unsigned pixels = pixel_size(size, unit);
  for_each_character(text, [&](sf::Uint32 c) { width += face(bold).getGlyph(c, pixels, false).advance; });
  return width;
}

std::string Fonts::fitted(std::string_view text, float width_px, Size size, float unit, bool bold) const {
  if (width(text, size, unit, bold) <= width_px) return std::string(text);
  static constexpr std::string_view more = "\xE2\x80\xA6";
  while (!text.empty() && width(text, size, unit, bold) + width(more, size, unit, bold) > width_px) {
    do text.remove_suffix(1);
    while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0) == 0x80);
    if (!text.empty() && static_cast<unsigned char>(text.back()) >= 0xC0) text.remove_suffix(1);
  }
  return std::string(text) + std::string(more);
}

void Canvas::begin(float unit) {
  unit_ = unit;
  told_.clear();
  shapes_.clear();
  for (auto& pair : letters_)
    for (auto& array : pair) array.clear(), array.setPrimitiveType(sf::Triangles);
}

void Canvas::quad(sf::Vector2f a, sf::Vector2f b, sf::Vector2f c, sf::Vector2f d, sf::Color ab, sf::Color cd) {
  shapes_.append({a, ab}), shapes_.append({b, ab}), shapes_.append({c, cd});
  shapes_.append({a, ab}), shapes_.append({c, cd}), shapes_.append({d, cd});
}

void Canvas::fill(const Rect& r, Rgb c) {
  quad({r.x, r.y}, {r.right(), r.y}, {r.right(), r.bottom()}, {r.x, r.bottom()}, colour(c), colour(c));
}

void Canvas::fade(const Rect& r, Rgb left, Rgb right) {
  quad({r.x, r.y}, {r.x, r.bottom()}, {r.right(), r.bottom()}, {r.right(), r.y}, colour(left), colour(right));
}

void Canvas::frame(const Rect& r, Rgb c, float w) {
  fill({r.x, r.y, r.w, w}, c), fill({r.x, r.bottom() - w, r.w, w}, c);
  fill({r.x, r.y + w, w, r.h - 2 * w}, c), fill({r.right() - w, r.y + w, w, r.h - 2 * w}, c);
}

void Canvas::line(float x0, float y0, float x1, float y1, Rgb c, float width_px) {
  const float length = std::hypot(x1 - x0, y1 - y0);
  if (length < 1e-4f) return;
  const sf::Vector2f across{-(y1 - y0) / length, (x1 - x0) / length};
  const float core = std::max(0.0f, (width_px - 1) / 2), edge = core + 1;
  const sf::Vector2f a{x0, y0}, b{x1, y1};
  sf::Color full = colour(c);
  if (width_px < 1) full.a = static_cast<sf::Uint8>(full.a * width_px);
  if (core > 0) quad(a + across * core, b + across * core, b - across * core, a - across * core, full, full);
  quad(a + across * edge, b + across * edge, b + across * core, a + across * core, clear(full), full);
  quad(a - across * edge, b - across * edge, b - across * core, a - across * core, clear(full), full);
}

void Canvas::dashes(float x0, float x1, float y, float phase, float on, float off, Rgb c, float width_px) {
  const float step = on + off;
  for (float x = x0 - std::fmod(phase, step) - step; x < x1; x += step) {
    const float from = std::max(x, x0), to = std::min(x + on, x1);
    if (to > from) fill({from, y - width_px / 2, to - from, width_px}, c);
  }
}

void Canvas::oval(float x, float y, float rx, float ry, Rgb c) {
  const sf::Color full = colour(c);
  const int parts = std::clamp(static_cast<int>(4 * std::sqrt(std::max(rx, ry))) + 6, 8, 40);
  const auto at = [&](int k, float grow) {
    const float angle = 2 * std::numbers::pi_v<float> * static_cast<float>(k) / static_cast<float>(parts);
    return sf::Vector2f{x + (rx + grow) * std::cos(angle), y + (ry + grow) * std::sin(angle)};
  };
  for (int k = 0; k < parts; ++k) {
    shapes_.append({{x, y}, full}), shapes_.append({at(k, -0.5f), full}), shapes_.append({at(k + 1, -0.5f), full});
    quad(at(k, 0.5f), at(k + 1, 0.5f), at(k + 1, -0.5f), at(k, -0.5f), clear(full), full);
  }
}

void Canvas::disc(float x, float y, float radius, Rgb c) { oval(x, y, radius, radius, c); }

void Canvas::ring(float x, float y, float radius, Rgb c, float width_px) {
  const int parts = std::clamp(static_cast<int>(4 * std::sqrt(radius)) + 8, 10, 40);
  for (int k = 0; k < parts; ++k) {
    const float from = 2 * std::numbers::pi_v<float> * static_cast<float>(k) / static_cast<float>(parts);
    const float to = 2 * std::numbers::pi_v<float> * static_cast<float>(k + 1) / static_cast<float>(parts);
    line(x + radius * std::cos(from), y + radius * std::sin(from), x + radius * std::cos(to), y + radius * std::sin(to), c,
         width_px);
  }
}

void Canvas::triangle(sf::Vector2f a, sf::Vector2f b, sf::Vector2f c, Rgb fill_colour) {
  const sf::Color full = colour(fill_colour);
  shapes_.append({a, full}), shapes_.append({b, full}), shapes_.append({c, full});
  line(a.x, a.y, b.x, b.y, fill_colour, 1), line(b.x, b.y, c.x, c.y, fill_colour, 1),
      line(c.x, c.y, a.x, a.y, fill_colour, 1);
}

void Canvas::arrow(float x0, float y0, float x1, float y1, Rgb c, float width_px, float head_px) {
  const float length = std::hypot(x1 - x0, y1 - y0);
  if (length < 1.0f) return;
  const sf::Vector2f tip{x1, y1}, along{(x1 - x0) / length, (y1 - y0) / length}, across{-along.y, along.x};
  const float head = std::min(head_px, length);
  const sf::Vector2f neck = tip - along * head;
  line(x0, y0, neck.x, neck.y, c, width_px);
  triangle(tip, neck + across * (head * 0.5f), neck - across * (head * 0.5f), c);
}

void Canvas::hatch(const Rect& r, Rgb c, float step_px) {
  const float first = std::floor((r.x + r.y) / step_px) * step_px;
  for (float sum = first; sum < r.right() + r.bottom(); sum += step_px) {  // on a stroke x + y stays the same
    const float x0 = std::max(r.x, sum - r.bottom()), x1 = std::min(r.right(), sum - r.y);
    if (x1 > x0) line(x0, sum - x0, x1, sum - x1, c, unit_);
  }
}

void Canvas::mesh(const sf::Vertex& a, const sf::Vertex& b, const sf::Vertex& c) {
  shapes_.append(a), shapes_.append(b), shapes_.append(c);
}

float Canvas::text_width(std::string_view words, Size size, bool bold) const {
  return fonts_->width(words, size, unit_, bold);
}

float Canvas::line_height(Size size) const { return std::round(1.25f * static_cast<float>(pixel_size(size, unit_))); }

void Canvas::text(float x, float y, std::string_view words, Rgb c, Size size, Align align, bool bold) {
  const unsigned pixels = pixel_size(size, unit_);
  const sf::Font& face = fonts_->face(bold);
  if (align != Align::left) x -= text_width(words, size, bold) * (align == Align::centre ? 0.5f : 1.0f);
  x = std::round(x);
  const float base = std::round(y) + static_cast<float>(pixels);
  auto& into = letters_[static_cast<std::size_t>(size)][bold];
  const sf::Color full = colour(c);
  Rect ink{x, base, 0, 0};
  for_each_character(words, [&](sf::Uint32 character) {
    const sf::Glyph& glyph = face.getGlyph(character, pixels, false);
    const sf::FloatRect& box = glyph.bounds;
    const sf::IntRect& from = glyph.textureRect;
    const float left = std::round(x) + box.left, top = base + box.top;
    if (box.width > 0) {
      const float bottom = std::max(ink.bottom(), top + box.height);
      ink.y = std::min(ink.y, top), ink.h = bottom - ink.y, ink.w = left + box.width - ink.x;
    }
    const auto corner = [&](float fx, float fy) {
      return sf::Vertex({left + fx * box.width, top + fy * box.height}, full,
                        {static_cast<float>(from.left) + fx * static_cast<float>(from.width),
                         static_cast<float>(from.top) + fy * static_cast<float>(from.height)});
    };
    for (const auto& [fx, fy] : {std::pair{0.f, 0.f}, {1.f, 0.f}, {1.f, 1.f}, {0.f, 0.f}, {1.f, 1.f}, {0.f, 1.f}})
      into.append(corner(fx, fy));
    x += glyph.advance;
  });
  if (fonts_->told() && ink.w > 0) told_.push_back({std::string(words), ink, {}, false});
}

void Canvas::cover(const Rect& area, Rgb c, std::string_view words) {
  fill(area, c);
  if (fonts_->told()) told_.push_back({std::string(words), area, {}, true});
}

Rect Canvas::plate(float x, float y, std::string_view words, Rgb c, Rgb back, Size size, Align align, bool bold) {
  const float pad = std::round(3 * unit_), width = text_width(words, size, bold) + 2 * pad, height = line_height(size);
  const float left = align == Align::left ? x : align == Align::centre ? x - width / 2 : x - width;
  const Rect area{std::round(left), std::round(y), width, height};
  cover(area, faded(back, 0.88), words);
  text(area.x + pad, area.y, words, c, size, Align::left, bold);
  return area;
}

std::vector<std::string> Canvas::broken(std::string_view words, float width_px, Size size) const {
  std::vector<std::string> lines;
  std::string line_now;
  while (!words.empty()) {
    const std::size_t space = words.find(' ');
    const std::string_view word = words.substr(0, space);
    const std::string longer = line_now.empty() ? std::string(word) : line_now + " " + std::string(word);
    if (!line_now.empty() && text_width(longer, size) > width_px)
      lines.push_back(std::move(line_now)), line_now = word;
    else
      line_now = longer;
    words.remove_prefix(space == std::string_view::npos ? words.size() : space + 1);
  }
  if (!line_now.empty()) lines.push_back(std::move(line_now));
  return lines;
}

float Canvas::paragraph(const Rect& area, std::string_view words, Rgb c, Size size) {
  float y = area.y;
  for (const std::string& line_now : broken(words, area.w, size)) {
    if (y + line_height(size) <= area.bottom() + 1) text(area.x, y, line_now, c, size);
    y += line_height(size);
  }
  return y - area.y;
}

void Canvas::draw(sf::RenderTarget& target, const Rect& clip, sf::Vector2f origin) const {
  const auto size = target.getSize();
  const auto w = static_cast<float>(size.x), h = static_cast<float>(size.y);
  // A view's port cuts off what lies outside it.
  sf::View port(sf::FloatRect(clip.x, clip.y, clip.w, clip.h));
  port.setViewport({(clip.x - origin.x) / w, (clip.y - origin.y) / h, clip.w / w, clip.h / h});
  target.setView(port);
  if (fonts_->told())
    for (Drawn one : told_) one.room = clip, fonts_->told()->push_back(std::move(one));
  if (shapes_.getVertexCount() > 0) target.draw(shapes_);
  for (std::size_t s = 0; s < letters_.size(); ++s) {
    for (std::size_t bold = 0; bold < 2; ++bold) {
      if (letters_[s][bold].getVertexCount() == 0) continue;
      sf::RenderStates states;
      states.texture = &fonts_->face(bold).getTexture(pixel_size(static_cast<Size>(s), unit_));
      target.draw(letters_[s][bold], states);
    }
  }
}

}  // namespace leewheel::draw
