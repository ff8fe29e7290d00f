#include "viz/view/controls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/wake.hpp"
#include "viz/view/ending.hpp"
#include "viz/view/groups_apart.hpp"
#include "viz/view/story.hpp"

namespace leewheel::view {
namespace {

constexpr KeyHint hints[] = {
    {Command::play_pause, U' ', "space", "play or pause"},
    {Command::slower, U'[', "[", "play slower"},
    {Command::faster, U']', "]", "play faster"},
    {Command::slower, U'<', "<", "play slower"},
    {Command::faster, U'>', ">", "play faster"},
    {Command::step_back, U',', ",", "one sample back"},
    {Command::step_on, U'.', ".", "one sample on"},
    {Command::back_10s, 0, "Left", "ten seconds back"},
    {Command::on_10s, 0, "Right", "ten seconds on"},
    {Command::to_start, 0, "Home", "to the start"},
    {Command::to_end, 0, "End", "to the end"},
    {Command::previous_event, U'b', "b", "event before"},
    {Command::next_event, U'n', "n", "next event"},
    {Command::rider_up, 0, "Up", "rider above in the tallies"},
    {Command::rider_down, 0, "Down", "rider below in the tallies"},
    {Command::next_sort, U's', "s", "sort by the next column"},
    {Command::reverse_sort, U'r', "r", "sort the other way round"},
    {Command::zoom_in, U'+', "+", "zoom in on the bunch"},
    {Command::zoom_out, U'-', "-", "zoom out"},
    {Command::pan_back, U'a', "a", "look further back along the road"},
    {Command::pan_ahead, U'd', "d", "look further ahead"},
    {Command::pan_left, U'w', "w", "look further left"},
    {Command::pan_right, U'x', "x", "look further right"},
    {Command::reset_camera, U'0', "0", "fit the bunch again"},
    {Command::follow_group, U'g', "g", "follow the next group"},
    {Command::follow_rider, U'f', "f", "follow the chosen rider"},
    {Command::toggle_road, U'1', "1", "show or hide the road"},
    {Command::toggle_riders, U'2', "2", "show or hide the bunch"},
    {Command::toggle_tallies, U'3', "3", "show or hide the tallies"},
    {Command::toggle_why, U'4', "4", "show or hide the power"},
    {Command::toggle_story, U'5', "5", "show or hide the story"},
    {Command::light_dark, U'l', "l", "light or dark"},
    {Command::units, U'u', "u", "kilometres or miles"},
    {Command::ghost_by, U'c', "c", "compare by time or by place"},
    {Command::wake_mode, U'k', "k", "wake in watts saved or as share of drag"},
    {Command::strip_of, U'm', "m", "saved strip: chosen rider or mean of all"},
    {Command::show_mode, U'v', "v", "for a room: large, without panels"},
    {Command::full_screen, 0, "F11", "full screen, or a window again"},
    {Command::help, U'h', "h", "this list"},
    {Command::help, 0, "F1", "this list"},
    {Command::quit, U'q', "q", "leave"},
    {Command::quit, 0, "Escape", "close this list, leave the room's picture or the program"},
};

constexpr double zoom_step = 1.25;
constexpr double least_px_per_m = 2.0, most_px_per_m = 160.0;
constexpr double closest_fit_px_per_m = 56.0;

void move_choice(Controls& c, const View& view, int by) {
  const auto rows = sorted_rows(view, c.sort, c.falling);
  const auto at = std::ranges::find(rows, c.chosen) - rows.begin();
  const auto next = std::clamp<std::ptrdiff_t>(at + by, 0, static_cast<std::ptrdiff_t>(rows.size()) - 1);
  choose_rider(c, rows[static_cast<std::size_t>(next)]);
}

void follow_next_group(Controls& c, const View& view) {
  if (view.groups.empty()) return;
  std::size_t at = 0;
  for (std::size_t g = 0; g < view.groups.size(); ++g)
    if (std::ranges::count(view.groups[g].riders, c.group_anchor) > 0) at = g;
  const std::size_t next = c.follow == Follow::rider ? at : (at + 1) % view.groups.size();
  c.follow = Follow::group;
  c.group_anchor = view.groups[next].riders.front();
  c.camera = {};
}

void zoom(Controls& c, double by) {
  const double now = c.camera.px_per_m > 0 ? c.camera.px_per_m : c.camera.fitted_px_per_m;
  c.camera.px_per_m = std::clamp(now * by, least_px_per_m, most_px_per_m);
}

double sample_s(const Replay& replay) { return std::max(0.01, replay.head().sample_interval_s); }

}  // namespace

std::span<const KeyHint> key_hints() { return hints; }

std::string footer_words(bool ghost) {
  return std::string(
             "space play  \xC2\xB7  [ ] speed  \xC2\xB7  , . step  \xC2\xB7  b n event  \xC2\xB7  \xE2\x86\x91 \xE2\x86\x93 "
             "rider  \xC2\xB7  "
             "s r sort  \xC2\xB7  + \xE2\x88\x92 0 zoom  \xC2\xB7  g group  \xC2\xB7  f rider  \xC2\xB7  1\xE2\x80\x93"
             "5 panels  \xC2\xB7  l light  \xC2\xB7  "
             "u units  \xC2\xB7  ") +
         (ghost ? "c compare  \xC2\xB7  " : "") + "h help";
}

void choose_rider(Controls& c, std::uint32_t rider) {
  c.chosen = rider;
  c.group_anchor = rider;
  c.scroll_rows = 0;
}

void sort_by(Controls& c, Column column) {
  if (c.sort == column) {
    c.falling = !c.falling;
    return;
  }
  c.sort = column;
  for (const ColumnText& text : tally_columns())
    if (text.column == column) c.falling = text.falling_first;
}

void apply(Command command, Controls& c, const Replay& replay, const View& view) {
  const auto go = [&](double time_s) { c.time_s = std::clamp(time_s, replay.start_s(), replay.end_s()); };
  const auto& events = replay.head().events;
  const double pan_m = 40.0 / std::max(1.0, c.camera.px_per_m > 0 ? c.camera.px_per_m : c.camera.fitted_px_per_m);
  switch (command) {
    case Command::play_pause:
      if (!c.playing && c.time_s >= replay.end_s()) go(replay.start_s());
      c.playing = !c.playing;
      break;
    case Command::slower: c.play_speed = std::max(0, c.play_speed - 1); break;
    case Command::faster: c.play_speed = std::min<int>(play_speeds.size() - 1, c.play_speed + 1); break;
    case Command::step_back: go(c.time_s - sample_s(replay)), c.playing = false; break;
    case Command::step_on: go(c.time_s + sample_s(replay)), c.playing = false; break;
    case Command::back_10s: go(c.time_s - 10); break;
    case Command::on_10s: go(c.time_s + 10); break;
    case Command::to_start: go(replay.start_s()); break;
    case Command::to_end: go(replay.end_s()); break;
    case Command::previous_event:
      if (const auto e = previous_event(events, c.time_s)) go(events[*e].time_s);
      break;
    case Command::next_event:
      if (const auto e = next_event(events, c.time_s)) go(events[*e].time_s);
      break;
    case Command::rider_up: move_choice(c, view, -1); break;
    case Command::rider_down: move_choice(c, view, +1); break;
    case Command::next_sort:
      sort_by(c, static_cast<Column>((static_cast<std::size_t>(c.sort) + 1) % tally_columns().size()));
      break;
    case Command::reverse_sort: c.falling = !c.falling; break;
    case Command::zoom_in: zoom(c, zoom_step); break;
    case Command::zoom_out: zoom(c, 1 / zoom_step); break;
    case Command::pan_back: c.camera.along_m -= pan_m; break;
    case Command::pan_ahead: c.camera.along_m += pan_m; break;
    case Command::pan_left: c.camera.across_m += pan_m; break;
    case Command::pan_right: c.camera.across_m -= pan_m; break;
    case Command::reset_camera: c.camera = {}; break;
    case Command::follow_group: follow_next_group(c, view); break;
    case Command::follow_rider: c.follow = Follow::rider, c.camera = {}; break;
    case Command::toggle_road: c.panels[road_panel] = !c.panels[road_panel]; break;
    case Command::toggle_riders: c.panels[riders_panel] = !c.panels[riders_panel]; break;
    case Command::toggle_tallies: c.panels[tally_panel] = !c.panels[tally_panel]; break;
    case Command::toggle_why: c.panels[why_panel] = !c.panels[why_panel]; break;
    case Command::toggle_story: c.panels[story_panel] = !c.panels[story_panel]; break;
    case Command::light_dark: c.light = !c.light; break;
    case Command::units: c.units = c.units == Units::metric ? Units::imperial : Units::metric; break;
    case Command::ghost_by: c.ghost_by = c.ghost_by == GhostBy::time ? GhostBy::place : GhostBy::time; break;
    case Command::wake_mode: c.wake_as_share = !c.wake_as_share; break;
    case Command::strip_of: c.strip_of_all = !c.strip_of_all; break;
    case Command::show_mode: c.show = !c.show; break;
    case Command::full_screen: c.full_screen = !c.full_screen; break;
    case Command::help: c.help = !c.help; break;
    case Command::quit: (c.help ? c.help = false : c.show ? c.show = c.full_screen = false : c.quit = true); break;
  }
}

void advance(Controls& c, const Replay& replay, double wall_s) {
  if (!c.playing) return;
  c.time_s += wall_s * play_speeds[static_cast<std::size_t>(c.play_speed)];
  if (c.time_s >= replay.end_s()) c.time_s = replay.end_s(), c.playing = false;
}

Card card_of(const Controls& c, const Replay& replay) {
  constexpr double question_s = 2.0, finding_s = 6.0;  // of a film
  const TraceHead& head = replay.head();
  const double speed = play_speeds[static_cast<std::size_t>(c.play_speed)];
  const bool first = c.filming ? c.time_s < c.film_from_s + question_s * speed : !c.playing && c.time_s <= replay.start_s();
  const bool last = c.filming ? c.film_to_s >= replay.end_s() && c.time_s > c.film_to_s - finding_s * speed
                              : !c.playing && c.time_s >= replay.end_s();
  if (first) return {head.question.empty() ? head.title : head.question, c.filming ? "" : "Press space to play."};
  // The finding is about company: not told after a ride in which each was alone.
  if (last) return {head.title.ends_with(each_alone_title) ? "" : head.finding, "", ending_results(replay)};
  return {};
}

namespace {

Focus focus_on(const GroupView& g, const View& view, std::uint32_t rider) {
  double lateral_m = 0;
  for (const std::uint32_t i : g.riders) lateral_m += view.riders[i].lateral_m / static_cast<double>(g.riders.size());
  return {0.5 * (g.first_m + g.last_m), lateral_m, g.first_m - g.last_m, size_words(g, view),
          std::ranges::count(g.riders, rider) > 0 ? rider : g.riders.front()};
}

}  // namespace

Focus focus_of(const Controls& c, const View& view) {
  const RiderView& chosen = view.riders[c.chosen];
  if (const GroupView* group = group_of(view, c.group_anchor); group && c.follow == Follow::group)
    return focus_on(*group, view, c.chosen);
  if (chosen.finished && !view.groups.empty())  // who is home is not worth watching while others ride
    return focus_on(view.groups.front(), view, c.chosen);
  return {chosen.distance_m - 0.5 * bicycle_length_m, chosen.lateral_m, 8.0, chosen.name, c.chosen};
}

Focus within(const Focus& focus, const View& view, double shown_m) {
  if (focus.length_m <= shown_m) return focus;
  const double reach_m = 0.5 * (focus.length_m - shown_m),
               rider_m = view.riders[focus.rider].distance_m - 0.5 * bicycle_length_m;
  Focus part = focus;
  part.middle_m = std::clamp(rider_m, focus.middle_m - reach_m, focus.middle_m + reach_m);
  part.length_m = shown_m;
  return part;
}

double fitted_px_per_m(const Focus& focus, double width_px, double height_px, double road_width_m) {
  const double along = width_px / (focus.length_m + 6.0), across = height_px / (road_width_m + 1.0);
  return std::clamp(std::min({along, across * 1.6, closest_fit_px_per_m * height_px / 240.0}), 4.0, most_px_per_m);
}

}  // namespace leewheel::view
