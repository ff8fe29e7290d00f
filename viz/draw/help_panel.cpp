#include <algorithm>

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

using namespace view;

void draw_card(Canvas& c, const Rect& area, const Scene& scene) {
  const Card card = card_of(scene.controls, scene.replay);
  if (card.words.empty() && card.below.empty()) return;
  const Palette& p = scene.palette();
  const float u = c.unit(), w = area.w - 44 * u, most_h = area.h - 44 * u;
  const float below_h = card.below.empty() ? 0.0f : c.line_height(Size::large) + 6 * u;
  Size size = Size::large;
  const auto height = [&] { return c.line_height(size) * static_cast<float>(c.broken(card.words, w, size).size()); };
  for (const Size smaller : {Size::normal, Size::small})
    if (height() + below_h + 16 * u > most_h) size = smaller;
  const float words_h = height();
  const Rect room{area.x + 10 * u, area.y + 22 * u, area.w - 20 * u, std::min(most_h, words_h + below_h + 16 * u)};
  c.cover(room, faded(p.raised, 0.97)), c.frame(room, p.chosen, std::max(1.0f, 1.5f * u));
  c.paragraph({room.x + 12 * u, room.y + 8 * u, w, room.h - below_h - 14 * u}, card.words, p.text, size);
  c.text(room.x + 12 * u, room.bottom() - below_h - 2 * u, card.below, p.chosen, Size::large, Align::left, true);
}

void draw_help(Canvas& c, const Rect& window, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const auto hints = key_hints();
  const std::size_t half = (hints.size() + 1) / 2;
  const float row = 18 * u, w = std::min(window.w - 40 * u, 860 * u),
              h = std::min(window.h - 20 * u, (static_cast<float>(half) + 10.0f) * row);
  const Rect box{window.w / 2 - w / 2, window.h / 2 - h / 2, w, h};
  c.fill(window, faded(p.back, 0.72));
  c.cover(box, p.panel), c.frame(box, p.quiet, std::max(1.0f, u));
  c.text(box.x + 18 * u, box.y + 10 * u, "Keys", p.text, Size::large, Align::left, true);
  for (std::size_t k = 0; k < hints.size(); ++k) {
    const float x = box.x + 18 * u + (k < half ? 0 : w / 2), y = box.y + 38 * u + static_cast<float>(k % half) * row;
    c.text(x + 56 * u, y, hints[k].key, p.chosen, Size::normal, Align::right, true);
    c.text(x + 68 * u, y, c.fonts().fitted(hints[k].words, w / 2 - 92 * u, Size::normal, u), p.text);
  }
  float y = box.y + 46 * u + static_cast<float>(half) * row;
  for (const char* words :
       {"Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first.",
        "Mouse: drag the timeline to any moment; click a rider anywhere to choose; click a heading to sort; wheel zooms the "
        "bunch or scrolls the tallies; drag moves the bunch; drag the lines between panels.",
        "Timeline: diamond = groups join or split, tick = a rider's decision, square = home, triangle = caution.",
        "Two chevrons in the bunch: takes the front next. Framed on the road: what the bunch shows. Arrowheads that meet: "
        "regroup.",
        "The shading shows, for each point, the drag that one more rider would have there, by the program's own wake "
        "model."})
    y += c.paragraph({box.x + 18 * u, y, w - 36 * u, box.bottom() - y}, words, p.quiet) + 3 * u;
}

}  // namespace leewheel::draw
