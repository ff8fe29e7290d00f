#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// "6 riders: 1 group, 2 alone".
std::string company_words(const View& view) {
  std::size_t riding = 0, groups = 0;
  for (const GroupView& g : view.groups) riding += g.riders.size(), groups += g.id >= 0;
  const std::size_t solitary = view.groups.size() - groups;
  std::string words = fmt::format("{} {}:", riding, riding == 1 ? "rider" : "riders");
  if (groups > 0) words += fmt::format(" {} {}", groups, groups == 1 ? "group" : "groups");
  if (solitary > 0) words += fmt::format("{} {} alone", groups > 0 ? "," : "", solitary);
  return words;
}

void draw_play_mark(Canvas& c, float x, float y, bool playing, Rgb shade) {
  const float u = c.unit();
  if (playing)
    c.triangle({x, y - 7 * u}, {x + 12 * u, y}, {x, y + 7 * u}, shade);
  else
    c.fill({x, y - 6 * u, 4 * u, 12 * u}, shade), c.fill({x + 8 * u, y - 6 * u, 4 * u, 12 * u}, shade);
}

}  // namespace

std::string caution_words(const Canvas& c, float width_px) {
  for (const char* words :
       {"Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first; "
        "this picture is a calculation.",
        "Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first.",
        "Riding close is dangerous. Traffic law, group-riding codes and medical advice come first.",
        "Riding close is dangerous. Law, group codes and medical advice come first."})
    if (c.text_width(words, Size::small) <= width_px) return words;
  return "Riding close is dangerous: law, codes and doctors come first.";
}

void draw_top(Canvas& c, const Rect& area, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit(), mid = area.h / 2;
  c.fill(area, p.raised);
  const float clock_x = std::max(area.w * 0.44f, 340 * u);
  const auto& head = scene.replay.head();
  const std::string title = head.complete ? head.title : head.title + " (cut off)";
  c.text(10 * u, mid - c.line_height(Size::large) / 2, c.fonts().fitted(title, clock_x - 30 * u, Size::large, u, true),
         p.text, Size::large, Align::left, true);
  draw_play_mark(c, clock_x, mid, scene.controls.playing, p.text);
  c.text(clock_x + 20 * u, mid - c.line_height(Size::title) / 2, running_clock_text(scene.view.time_s), p.text, Size::title,
         Align::left, true);
  float speed_x = clock_x + 32 * u + c.text_width("0:00:00", Size::title, true);
  if (const std::string of_day = DayClock(head.start).at(scene.view.time_s); !of_day.empty()) {
    c.text(speed_x, mid - c.line_height(Size::large) / 2, of_day, p.text, Size::large);
    speed_x += c.text_width(of_day, Size::large) + 14 * u;
  }
  c.text(speed_x, mid - c.line_height(Size::normal) / 2,
         fmt::format("{:g}\xC3\x97  {}", play_speeds[static_cast<std::size_t>(scene.controls.play_speed)],
                     scene.controls.playing ? "playing" : "paused"),
         p.text);
  const RiderView& first = scene.view.riders[scene.view.order.front()];
  std::size_t home = 0;
  for (const RiderView& r : scene.view.riders) home += r.finished;
  std::string right = home == scene.view.riders.size()
                          ? std::string("everyone is home")
                          : fmt::format("{}   \xC2\xB7   first: {} at {}", company_words(scene.view), first.name,
                                        place_text(first.distance_m, scene.controls.units));
  if (scene.ghost) right += fmt::format("   \xC2\xB7   hollow: {}", scene.ghost->name);
  c.text(area.right() - 10 * u, mid - c.line_height(Size::normal) / 2,
         c.fonts().fitted(right, area.right() - speed_x - 100 * u, Size::normal, u), p.quiet, Size::normal, Align::right);
}

void draw_footer(Canvas& c, const Rect& area, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  c.fill(area, p.back);
  const float w = area.w - 16 * u;
  if (!scene.controls.filming)
    c.text(8 * u, area.y + 3 * u, c.fonts().fitted(footer_words(scene.ghost.has_value()), w, Size::small, u), p.quiet,
           Size::small);
  c.text(8 * u, area.y + 20 * u, caution_words(c, w), p.text, Size::small);
}

}  // namespace leewheel::draw
