/// What a room sees besides profile and bunch: title and clock, one sentence, one number. And the words beside the pointer.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"
#include "viz/view/story.hpp"
#include "words/plain_text.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// The question, the finding, what just changed a group, or what the chosen rider does.
std::string sentence(const Scene& scene) {
  if (const Card card = card_of(scene.controls, scene.replay); !card.words.empty()) return card.words;
  const double speed = play_speeds[static_cast<std::size_t>(scene.controls.play_speed)];
  const std::string caption = caption_at(scene.replay.story(scene.controls.units), scene.view.time_s, speed);
  if (!caption.empty()) return caption;
  const RiderView& r = scene.chosen();
  if (r.finished) return r.name + " is home.";
  return fmt::format("{}: {}, {} on {}.", r.name, role_words(r.role), speed_text(r.speed_mps, scene.controls.units),
                     grade_text(r.grade));
}

/// The one number and what it is.
struct Told {
  std::string number, words;
  bool bad;
};

/// Beside a second ride the time gained on it at this place, else what company saves.
Told told_number(const Scene& scene) {
  const RiderView& r = scene.chosen();
  if (const auto& ghost = scene.ghost; ghost && ghost->difference && ghost->difference->here) {
    const GainedHere& here = *ghost->difference->here;
    return {minutes_seconds_text(std::abs(here.time_s)),
            fmt::format("{} by {} at this place against {} (hollow), with {}", here.time_s > -0.5 ? "gained" : "lost",
                        r.name, ghost->name, gained_work_text(here.work_J)),
            here.time_s <= -0.5};
  }
  const WholeWatts watts = whole_watts(r);
  if (r.finished)
    return {view::number_text(r.saved_J / 1000, 0) + " kJ", fmt::format("saved by company for {} on the whole ride", r.name),
            false};
  return {fmt::format("{} W", std::abs(watts.saved)),
          watts.saved < 0 ? fmt::format("company costs {}, of {} W", r.name, watts.now)
                          : fmt::format("saved by company for {}, of {} W alone", r.name, watts.alone),
          watts.saved < 0};
}

void draw_number(Canvas& c, const Rect& area, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  c.fill(area, p.panel);
  const auto [number, words, bad] = told_number(scene);
  const float words_w = area.w - 16 * u, line = c.line_height(Size::large), huge = c.line_height(Size::huge);
  const auto lines = c.broken(words, words_w, Size::large);
  const float words_h = line * static_cast<float>(lines.size());
  float y = area.y + std::max(0.0f, (area.h - huge - words_h) / 2);
  c.text(area.x + area.w / 2, y, number, bad ? p.warning : p.chosen, Size::huge, Align::centre, true);
  y += huge;
  for (const std::string& one : lines) {
    if (y + line <= area.bottom() + 1) c.text(area.x + area.w / 2, y, one, p.text, Size::large, Align::centre);
    y += line;
  }
}

}  // namespace

void draw_show(Canvas& c, const ShowLayout& layout, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit(), mid = layout.head.h / 2;
  c.fill(layout.head, p.raised);
  const std::string clock = running_clock_text(scene.view.time_s);
  c.text(layout.head.right() - 10 * u, mid - c.line_height(Size::title) / 2, clock, p.text, Size::title, Align::right, true);
  const float room = layout.head.w - c.text_width(clock, Size::title, true) - 40 * u;
  c.text(10 * u, mid - c.line_height(Size::large) / 2,
         c.fonts().fitted(scene.replay.head().title, room, Size::large, u, true), p.text, Size::large, Align::left, true);
  const Rect& box = layout.sentence;
  const std::string words = sentence(scene);
  const float w = box.w - 20 * u, most_h = box.h - 6 * u;
  const auto height = [&](Size size) { return c.line_height(size) * static_cast<float>(c.broken(words, w, size).size()); };
  Size size = Size::title;
  for (const Size smaller : {Size::large, Size::normal, Size::small})
    if (height(size) > most_h) size = smaller;
  c.paragraph({box.x + 10 * u, box.y + std::max(3 * u, (box.h - height(size)) / 2), w, most_h}, words, p.text, size);
  draw_number(c, layout.number, scene);
  c.fill(layout.footer, p.back);
  c.text(8 * u, layout.footer.y + 2 * u, caution_words(c, layout.footer.w - 16 * u), p.text, Size::small);
}

void draw_hover(Canvas& c, const Rect& window, const Scene& scene, const std::string& words) {
  const Palette& p = scene.palette();
  const float u = c.unit(), pad = 6 * u;
  const auto lines = c.broken(words, std::min(360 * u, window.w - 2 * pad - 8 * u), Size::small);
  float w = 0;
  for (const std::string& one : lines) w = std::max(w, c.text_width(one, Size::small));
  const float line = c.line_height(Size::small), h = line * static_cast<float>(lines.size());
  const Pointer& at = scene.controls.pointer;
  const float x = std::clamp(at.x + 12 * u, 0.0f, std::max(0.0f, window.w - w - 2 * pad));
  const float below = at.y + 16 * u,
              y = below + h + 2 * pad <= window.h ? below : std::max(0.0f, at.y - h - 2 * pad - 6 * u);
  c.cover({x, y, w + 2 * pad, h + 2 * pad}, p.raised), c.frame({x, y, w + 2 * pad, h + 2 * pad}, p.quiet, std::max(1.0f, u));
  for (std::size_t k = 0; k < lines.size(); ++k)
    c.text(x + pad, y + pad + line * static_cast<float>(k), lines[k], p.text, Size::small);
}

}  // namespace leewheel::draw
