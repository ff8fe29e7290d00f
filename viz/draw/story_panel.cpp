/// The story: its panel, its marks on the timeline, and captions.

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"
#include "viz/view/story.hpp"
#include "words/plain_text.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

/// A mark for each class of line: a shape first, the colour only helps. What is not heavy is small and quiet.
void draw_mark(Canvas& c, float x, float y, const StoryLine& line, const Palette& p) {
  const float u = c.unit(), r = (line.heavy ? 5 : 3) * u;
  const Rgb shade = line.heavy ? p.text : p.quiet;
  switch (line.kind) {
    case EventClass::group:
      c.triangle({x, y - r}, {x + r, y}, {x - r, y}, shade), c.triangle({x, y + r}, {x + r, y}, {x - r, y}, shade);
      break;
    case EventClass::decision:
      if (line.heavy)  // a wait: standing still
        c.fill({x - 4 * u, y - r, 3 * u, 2 * r}, shade), c.fill({x + u, y - r, 3 * u, 2 * r}, shade);
      else
        c.fill({x - 0.5f, y - r, std::max(1.0f, u), 2 * r}, shade);
      break;
    case EventClass::finish: c.fill({x - r * 0.8f, y - r * 0.8f, 1.6f * r, 1.6f * r}, shade); break;
    case EventClass::caution: c.triangle({x, y - r}, {x + r, y + r}, {x - r, y + r}, p.warning); break;
  }
}

/// One line of the story, broken where it is long; returns its height.
float draw_line(Canvas& c, const Rect& room, const StoryLine& line, const Palette& p, bool now) {
  const float u = c.unit(), h = c.line_height(), time_w = 64 * u, x = room.x + time_w + 14 * u;
  const Rgb shade = now ? p.text : p.quiet;
  c.text(room.x, room.y, clock_text(line.from_s), shade, Size::normal, Align::left, now);
  draw_mark(c, room.x + time_w + 2 * u, room.y + h / 2, line, p);
  return c.paragraph({x, room.y, room.right() - x, room.h}, line.words, shade);
}

float height_of(const Canvas& c, float width_px, const StoryLine& line) {
  return c.line_height() * static_cast<float>(c.broken(line.words, width_px - 78 * c.unit()).size());
}

/// Minutes under the timeline.
void draw_minutes(Canvas& c, const Rect& line, const Replay& replay, const Palette& p, auto&& x_of) {
  constexpr double minute = 60.0;
  const float u = c.unit();
  for (const double tick :
       nice_ticks(replay.start_s() / minute, replay.end_s() / minute, std::max(2, static_cast<int>(line.w / (80 * u))))) {
    const float x = x_of(tick * minute);
    c.text(x, line.y + 19 * u, running_clock_text(tick * minute), p.quiet, Size::small,
           tick <= 0                   ? Align::left
           : x > line.right() - 24 * u ? Align::right
                                       : Align::centre);
  }
}

std::string caption_of(const Scene& scene) {
  const double speed = play_speeds[static_cast<std::size_t>(scene.controls.play_speed)];
  return caption_at(scene.replay.story(scene.controls.units), scene.view.time_s, speed);
}

}  // namespace

void draw_story(Canvas& c, const Rect& area, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const auto& lines = scene.replay.story(scene.controls.units);
  const auto current = current_line(lines, scene.view.time_s);
  const Rect room =
      open_panel(c, area, p, "Story", lines.empty() || scene.controls.filming ? "" : "click a line to go there");
  const Rect inner{room.x + 8 * u, room.y + 2 * u, room.w - 16 * u, room.h - 2 * u};
  if (lines.empty()) {
    c.paragraph(inner,
                scene.replay.head().complete ? "No events." : "This trace was cut off during the ride and has no events.",
                p.quiet);
    return;
  }
  float y = inner.y;
  const auto one = [&](std::size_t k) {
    const float h = height_of(c, inner.w, lines[k]);
    if (y + h > inner.bottom()) return false;
    draw_line(c, {inner.x, y, inner.w, h}, lines[k], p, current == k);
    hits.lines.push_back({{inner.x, y, inner.w, h}, k});
    y += h + u;
    return true;
  };
  if (current && *current > 0 && inner.h > 6 * c.line_height()) one(*current - 1);  // what came before, where there is room
  if (current && !one(*current)) y += draw_line(c, {inner.x, y, inner.w, inner.bottom() - y}, lines[*current], p, true);
  c.fill({inner.x, y + u, inner.w, 1}, p.line), y += 4 * u;
  for (std::size_t next = current ? *current + 1 : 0; next < lines.size() && one(next);) ++next;
}

void draw_timeline(Canvas& c, const Rect& area, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const Replay& replay = scene.replay;
  c.fill(area, p.raised);
  const Rect line{area.x + 16 * u, area.y, area.w - 32 * u, area.h};
  const double span_s = std::max(1e-9, replay.end_s() - replay.start_s());
  const auto x_of = [&](double time_s) {
    return line.x + static_cast<float>((time_s - replay.start_s()) / span_s) * line.w;
  };
  const float y = area.y + 12 * u, now = x_of(scene.view.time_s);
  c.fill({line.x, y - u, line.w, std::max(2.0f, 2 * u)}, p.line);
  c.fill({line.x, y - u, now - line.x, std::max(2.0f, 2 * u)}, p.text);
  const auto& lines = replay.story(scene.controls.units);
  for (const bool heavy : {false, true}) {  // heavy marks on top; of one kind one mark every two pixels is enough
    std::map<EventClass, float> last;
    for (std::size_t k = 0; k < lines.size(); ++k) {
      if (lines[k].heavy != heavy) continue;
      const float x = x_of(lines[k].from_s);
      if (const auto before = last.find(lines[k].kind); before != last.end() && x < before->second + 2 * u) continue;
      last[lines[k].kind] = x;
      draw_mark(c, x, y, lines[k], p);
      hits.lines.push_back({{x - 5 * u, y - 7 * u, 10 * u, 14 * u}, k});
    }
  }
  draw_minutes(c, line, replay, p, x_of);
  c.disc(now, y, 7 * u, p.chosen);
  c.disc(now, y, 3 * u, p.on_chosen);
  hits.timeline = line;
}

Rect caption_area(const Canvas& c, const Rect& area, const Scene& scene) {
  if (scene.controls.show || !(scene.controls.playing || scene.controls.filming)) return {};
  const std::string words = caption_of(scene);
  if (words.empty() || !card_of(scene.controls, scene.replay).empty()) return {};
  const float u = c.unit();
  const float h = c.line_height() * static_cast<float>(c.broken(words, area.w - 40 * u, Size::normal).size());
  const Rect box{area.x + 10 * u, area.bottom() - h - 30 * u, area.w - 20 * u, h + 8 * u};
  return box.y < area.y + 20 * u ? Rect{} : box;
}

void draw_caption(Canvas& c, const Rect& area, const Scene& scene) {
  const Rect box = caption_area(c, area, scene);
  if (box.empty()) return;
  const Palette& p = scene.palette();
  const float u = c.unit();
  c.cover(box, faded(p.raised, 0.95)), c.fill({box.x, box.y, 3 * u, box.h}, p.chosen);
  c.paragraph({box.x + 10 * u, box.y + 4 * u, box.w - 20 * u, box.h - 4 * u}, caption_of(scene), p.text);
}

}  // namespace leewheel::draw
