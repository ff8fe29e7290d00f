/// The card over the bunch: the question at the start, the finding and three results at the end.

#include <algorithm>
#include <cmath>

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

using namespace view;

namespace {

/// The card's texts with the sizes that fit.
struct Texts {
  Card card;
  Size words, results;
};

Size smaller(Size size) { return size == Size::large ? Size::normal : Size::small; }

float height(const Canvas& c, const Texts& texts, float w) {
  const float u = c.unit();
  const auto lines = [&](const std::string& words, float width_px, Size size) {
    return words.empty() ? 0.0f : c.line_height(size) * static_cast<float>(c.broken(words, width_px, size).size());
  };
  float h = lines(texts.card.words, w, texts.words);
  for (const std::string& result : texts.card.results) h += lines(result, w - 14 * u, texts.results) + 3 * u;
  return h + (texts.card.below.empty() ? 0.0f : c.line_height(Size::large) + 6 * u);
}

/// The largest letters that fit; where even the smallest do not, the last result goes.
Texts fitting(const Canvas& c, Card card, float w, float most_h) {
  for (;; card.results.pop_back()) {
    for (const Size size : {Size::large, Size::normal, Size::small}) {
      const Texts texts{card, size, card.words.empty() ? size : smaller(size)};
      if (height(c, texts, w) <= most_h || (size == Size::small && card.results.empty())) return texts;
    }
  }
}

}  // namespace

void draw_card(Canvas& c, const Rect& area, const Scene& scene) {
  Card card = card_of(scene.controls, scene.replay);
  if (scene.controls.show) card.words.clear(), card.below.clear();  // they stand in the sentence
  if (card.empty()) return;
  const Palette& p = scene.palette();
  const float u = c.unit(), w = area.w - 44 * u, most_h = area.h - 42 * u;
  const Texts texts = fitting(c, card, w, most_h);
  const Rect room{area.x + 10 * u, area.y + 22 * u, area.w - 20 * u, std::min(most_h, height(c, texts, w)) + 16 * u};
  c.cover(room, faded(p.raised, 0.97)), c.frame(room, p.chosen, std::max(1.0f, 1.5f * u));
  float y = room.y + 8 * u;
  const auto paragraph = [&](float x, const std::string& words, Size size, Rgb shade) {
    y += c.paragraph({x, y, room.right() - 12 * u - x, room.bottom() - y}, words, shade, size);
  };
  if (!texts.card.words.empty()) paragraph(room.x + 12 * u, texts.card.words, texts.words, p.text);
  for (const std::string& result : texts.card.results) {
    y += 3 * u;
    c.fill({room.x + 13 * u, std::round(y + 0.42f * c.line_height(texts.results)), 5 * u, 5 * u}, p.chosen);
    paragraph(room.x + 26 * u, result, texts.results, p.text);
  }
  if (!texts.card.below.empty())
    c.text(room.x + 12 * u, y + 6 * u, texts.card.below, p.chosen, Size::large, Align::left, true);
}

}  // namespace leewheel::draw
