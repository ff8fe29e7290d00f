/// Where the chosen rider's power goes: one bar on one scale for the whole replay, its parts, and a sentence.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

constexpr const char* part_names[] = {"climbing", "air", "rolling", "gaining speed", "losses"};

/// "143 W now + 88 W saved = 231 W alone"; where that is too broad "143 + 88 saved = 231 W".
std::string sum_words(const RiderView& r, bool in_short) {
  if (r.finished) return "home";
  const WholeWatts watts = whole_watts(r);
  if (in_short && watts.saved < 0)
    return fmt::format("{} \xE2\x88\x92 {} cost = {} W", watts.now, -watts.saved, watts.alone);
  if (in_short) return fmt::format("{} + {} saved = {} W", watts.now, watts.saved, watts.alone);
  if (watts.saved < 0)
    return fmt::format("{} W now \xE2\x88\x92 {} W cost of company = {} W alone", watts.now, -watts.saved, watts.alone);
  return fmt::format("{} W now + {} W saved = {} W alone", watts.now, watts.saved, watts.alone);
}

/// As long as the power alone; the saved part hatched at its end, or what company costs marked beyond it.
void draw_bar(Canvas& c, const Rect& bar, const RiderView& r, double scale_W, const Palette& p) {
  const float u = c.unit();
  const auto x = [&](double watts) { return bar.x + bar.w * static_cast<float>(std::clamp(watts / scale_W, 0.0, 1.0)); };
  const auto from_to = [&](double from_W, double to_W) { return Rect{x(from_W), bar.y, x(to_W) - x(from_W), bar.h}; };
  c.fill(bar, p.raised);
  if (r.finished) return;
  for (const BarPiece& piece : power_bar(r)) c.fill(from_to(piece.from_W, piece.to_W), p.parts[piece.part]);
  const int saved = whole_watts(r).saved;
  if (saved > 0) {
    const Rect spared = from_to(r.power_W, r.alone_W);
    c.hatch(spared, p.chosen, 5 * u);
    c.frame(spared, p.chosen, std::max(1.0f, 1.5f * u));
  } else if (saved < 0) {
    const Rect cost = from_to(r.alone_W, r.power_W);
    c.fill(cost, p.warning);
    c.fill({x(r.alone_W) - u, bar.y - 2 * u, 2 * u, bar.h + 4 * u}, p.text);
  }
}

void draw_scale(Canvas& c, const Rect& bar, double scale_W, const Palette& p) {
  const float u = c.unit();
  for (const double tick : nice_ticks(0, scale_W, std::max(2, static_cast<int>(bar.w / (60 * u))))) {
    const float x = bar.x + bar.w * static_cast<float>(tick / scale_W);
    c.fill({std::round(x), bar.bottom(), 1, 3 * u}, p.quiet);
    c.text(std::min(x, bar.right() - 14 * u), bar.bottom() + 2 * u, fmt::format("{:g} W", tick), p.quiet, Size::small,
           tick > 0 ? Align::centre : Align::left);
  }
}

/// The parts with their colours, in lines; returns the height used.
float draw_parts(Canvas& c, const Rect& room, const RiderView& r, const Palette& p) {
  const float u = c.unit(), line = c.line_height(Size::small);
  const PowerSplit split = power_split(r);
  const double watts[] = {split.gravity_W, split.air_W, split.rolling_W, split.speed_W, split.losses_W};
  float x = room.x, y = room.y;
  for (std::size_t k = 0; k < std::size(watts); ++k) {
    const std::string words =
        fmt::format("{} {}{:.0f}", part_names[k], watts[k] <= -0.5 ? "\xE2\x88\x92" : "", std::abs(watts[k]));
    const float w = c.text_width(words, Size::small) + 26 * u;
    if (x > room.x && x + w - 12 * u > room.right()) x = room.x, y += line;
    if (y + line > room.bottom()) return y - room.y;
    c.fill({x, y + 3 * u, 9 * u, 9 * u}, p.parts[k]);
    c.text(x + 13 * u, y, words, p.text, Size::small);
    x += w;
  }
  return y + line - room.y;
}

}  // namespace

void draw_why(Canvas& c, const Rect& area, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const RiderView& r = scene.chosen();
  const Rect panel = open_panel(c, area, p, fmt::format("Where {}'s power goes", r.name), role_words(r.role));
  const Rect room{panel.x + 8 * u, panel.y + u, panel.w - 16 * u, std::max(0.0f, panel.h - 3 * u)};
  const auto fits = [&](const std::string& words, Size size) { return c.text_width(words, size, true) <= room.w; };
  const std::string sum = sum_words(r, !fits(sum_words(r, false), Size::large));
  const Size size = fits(sum, Size::large) ? Size::large : fits(sum, Size::normal) ? Size::normal : Size::small;
  float y = room.y;
  c.text(room.x, y, c.fonts().fitted(sum, room.w, size, u, true), p.chosen, size, Align::left, true);
  y += c.line_height(size) + 2 * u;
  const double scale_W = scene.replay.power_scale_W();
  const Rect bar{room.x, y, room.w, std::round(18 * u)};
  if (bar.bottom() > room.bottom()) return;
  draw_bar(c, bar, r, scale_W, p);
  y = bar.bottom() + 4 * u;
  if (y + c.line_height(Size::small) > room.bottom()) return;
  draw_scale(c, bar, scale_W, p);
  y += c.line_height(Size::small);
  if (!r.finished) y += draw_parts(c, {room.x, y, room.w, room.bottom() - y}, r, p) + 2 * u;
  if (scene.ghost)
    y += c.paragraph({room.x, y, room.w, room.bottom() - y},
                     difference_words(scene.ghost->difference, r.name, scene.ghost->name, scene.controls.units), p.text) +
         3 * u;
  c.paragraph({room.x, y, room.w, room.bottom() - y}, why_words(r, scene.view, scene.controls.units),
              scene.ghost ? p.quiet : p.text);
}

}  // namespace leewheel::draw
