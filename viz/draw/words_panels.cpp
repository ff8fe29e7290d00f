#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"
#include "viz/view/story.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// A mark for each class of event: a shape first, the colour only helps.
void draw_event_mark(Canvas& c, float x, float y, EventClass kind, const Palette& p, float r) {
  switch (kind) {
    case EventClass::group:
      c.triangle({x, y - r}, {x + r, y}, {x - r, y}, p.text), c.triangle({x, y + r}, {x + r, y}, {x - r, y}, p.text);
      break;
    case EventClass::decision: c.fill({x - 0.5f, y - r, std::max(1.0f, r * 0.3f), 2 * r}, p.quiet); break;
    case EventClass::finish: c.fill({x - r * 0.8f, y - r * 0.8f, 1.6f * r, 1.6f * r}, p.text); break;
    case EventClass::caution: c.triangle({x, y - r}, {x + r, y + r}, {x - r, y + r}, p.warning); break;
  }
}

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

/// The longest that fits whole: a caution cut off is none.
std::string caution_words(const Canvas& c, float width_px) {
  for (const char* words :
       {"Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first; "
        "this picture is a calculation.",
        "Riding close behind another is dangerous. Traffic law, local group-riding codes and medical advice come first.",
        "Riding close is dangerous. Traffic law, group-riding codes and medical advice come first."})
    if (c.text_width(words, Size::small) <= width_px) return words;
  return "Riding close is dangerous: traffic law comes first.";
}

void draw_play_mark(Canvas& c, float x, float y, bool playing, Rgb shade) {
  const float u = c.unit();
  if (playing)
    c.triangle({x, y - 7 * u}, {x + 12 * u, y}, {x, y + 7 * u}, shade);
  else
    c.fill({x, y - 6 * u, 4 * u, 12 * u}, shade), c.fill({x + 8 * u, y - 6 * u, 4 * u, 12 * u}, shade);
}

}  // namespace

void draw_story(Canvas& c, const Rect& area, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const auto& head = scene.replay.head();
  const auto current = current_event(head.events, scene.view.time_s);
  const std::string note = head.events.empty() ? ""
                                               : fmt::format("event {} of {}   \xC2\xB7   b and n step through",
                                                             current ? *current + 1 : 0, head.events.size());
  const Rect room = open_panel(c, area, p, "Story", note);
  const float line = c.line_height(), time_w = 66 * u, x = room.x + 8 * u, w = room.w - 16 * u;
  if (head.events.empty()) {
    c.paragraph({x, room.y + 2 * u, w, room.h},
                head.complete ? "No events." : "This trace was cut off during the ride and has no events.", p.quiet);
    return;
  }
  const auto row = [&](std::size_t index, float y, Rgb shade) {
    const Event& event = head.events[index];
    c.text(x, y, running_clock_text(event.time_s), shade);
    draw_event_mark(c, x + time_w + 2 * u, y + line / 2, event_class(event.kind), p, 5 * u);
    c.text(x + time_w + 14 * u, y,
           c.fonts().fitted(event_words(event, head, scene.controls.units), w - time_w - 14 * u, Size::normal, u), shade);
  };
  float y = room.y + 2 * u;
  if (current) {
    const Event& event = head.events[*current];
    c.text(x, y, running_clock_text(event.time_s), p.text, Size::normal, Align::left, true);
    draw_event_mark(c, x + time_w + 2 * u, y + line / 2, event_class(event.kind), p, 5 * u);
    y += c.paragraph({x + time_w + 14 * u, y, w - time_w - 14 * u, 3 * line}, event_words(event, head, scene.controls.units),
                     p.text) +
         3 * u;
  } else {
    c.text(x, y, "Nothing has happened yet. Next:", p.text);
    y += line + 3 * u;
  }
  c.fill({x, y, w, 1}, p.line);
  y += 4 * u;
  for (std::size_t next = current ? *current + 1 : 0; next < head.events.size() && y + line <= room.bottom();
       ++next, y += line)
    row(next, y, p.quiet);
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
  if (scene.ghost)
    right += scene.controls.ghost_by == GhostBy::time ? "   \xC2\xB7   compared by time" : "   \xC2\xB7   compared by place";
  c.text(area.right() - 10 * u, mid - c.line_height(Size::normal) / 2,
         c.fonts().fitted(right, area.right() - speed_x - 100 * u, Size::normal, u), p.quiet, Size::normal, Align::right);
}

void draw_timeline(Canvas& c, const Rect& area, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const Replay& replay = scene.replay;
  c.fill(area, p.raised);
  const Rect line{area.x + 16 * u, area.y, area.w - 32 * u, area.h};
  const double span_s = std::max(1e-9, replay.end_s() - replay.start_s());
  const auto x = [&](double time_s) { return line.x + static_cast<float>((time_s - replay.start_s()) / span_s) * line.w; };
  const float y = area.y + 12 * u, now = x(scene.view.time_s);
  c.fill({line.x, y - u, line.w, std::max(2.0f, 2 * u)}, p.line);
  c.fill({line.x, y - u, now - line.x, std::max(2.0f, 2 * u)}, p.text);
  for (const Event& event : replay.head().events) draw_event_mark(c, x(event.time_s), y, event_class(event.kind), p, 5 * u);
  const double minute = 60.0;
  for (const double tick :
       nice_ticks(replay.start_s() / minute, replay.end_s() / minute, std::max(2, static_cast<int>(line.w / (80 * u)))))
    c.text(x(tick * minute), area.y + 19 * u, running_clock_text(tick * minute), p.quiet, Size::small,
           tick <= 0                                  ? Align::left
           : x(tick * minute) > line.right() - 24 * u ? Align::right
                                                      : Align::centre);
  c.disc(now, y, 7 * u, p.chosen);
  c.disc(now, y, 3 * u, p.on_chosen);
  hits.timeline = line;
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
