#include <algorithm>

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

using namespace view;

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
