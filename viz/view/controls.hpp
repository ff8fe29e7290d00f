#pragma once
/// What the person at the keys has chosen, and what each key does to it.

#include <array>
#include <span>

#include "viz/view/layout.hpp"
#include "viz/view/view.hpp"

namespace leewheel::view {

enum class Command {
  play_pause,
  slower,
  faster,
  step_back,
  step_on,
  back_10s,
  on_10s,
  to_start,
  to_end,
  previous_event,
  next_event,
  rider_up,
  rider_down,
  next_sort,
  reverse_sort,
  zoom_in,
  zoom_out,
  pan_back,
  pan_ahead,
  pan_left,
  pan_right,
  reset_camera,
  follow_group,
  follow_rider,
  toggle_road,
  toggle_riders,
  toggle_tallies,
  toggle_why,
  toggle_story,
  light_dark,
  units,
  ghost_by,
  wake_mode,
  strip_of,
  show_mode,
  full_screen,
  help,
  quit
};

/// One key. `character` is what typing gives (so that it works on every keyboard), or 0 for a key known by its name.
struct KeyHint {
  Command command;
  char32_t character;
  const char* key;  ///< as shown to a person; for named keys also what the window looks up
  const char* words;
};
std::span<const KeyHint> key_hints();
std::string footer_words(bool ghost);  ///< the short line of keys

inline constexpr std::array play_speeds{0.25, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0};
inline constexpr int default_play_speed = 5;  ///< 8x

/// View from above: scale and where the middle lies from what is followed.
struct Camera {
  double px_per_m = 0;  ///< 0 = fit what is followed
  double along_m = 0, across_m = 0;
  double fitted_px_per_m = 20;              ///< what fitting gives now; zooming starts from it
  double shown_from_m = 0, shown_to_m = 0;  ///< stretch of road in sight; empty while that view is hidden
};

/// Where the pointer rests in the window, in pixels.
struct Pointer {
  float x = 0, y = 0;
  bool inside = false;
};

enum class Follow { group, rider };
enum class GhostBy { time, place };

struct Controls {
  double time_s = 0;
  bool playing = false;
  int play_speed = default_play_speed;
  std::uint32_t chosen = 0;
  Column sort = Column::place;
  bool falling = false;
  int scroll_rows = 0;  ///< of the tallies, from where the chosen rider is in sight
  Follow follow = Follow::group;
  std::uint32_t group_anchor = 0;  ///< the group followed is the one this rider is in
  Camera camera;
  PanelFlags panels{true, true, true, true, true};
  Splits splits;
  Pointer pointer;
  bool show = false;         ///< for a room: few things, large, no key hints
  bool full_screen = false;  ///< asked for; the window follows
  bool light = false, help = false, quit = false;
  bool filming = false;  ///< no key hints; question and finding stand for a while
  double film_from_s = 0, film_to_s = 0;
  Units units = Units::metric;
  GhostBy ghost_by = GhostBy::place;
  bool wake_as_share = false;  ///< shaded by share of drag instead of watts
  bool strip_of_all = false;   ///< the saved strip shows the mean of all instead of the chosen rider
};

void apply(Command command, Controls& controls, const Replay& replay, const View& view);
/// Moves the clock while playing; stops at the end.
void advance(Controls& controls, const Replay& replay, double wall_s);
void choose_rider(Controls& controls, std::uint32_t rider);
void sort_by(Controls& controls, Column column);  ///< again: the other way round

/// What the view from above looks at: the middle and length of the followed group or rider, front wheel to last wheel.
struct Focus {
  double middle_m, lateral_m, length_m;
  std::string words;
  std::uint32_t rider;  ///< one of those followed, the chosen one if it is among them
};
/// Of a group that is longer than `shown_m` only that much is looked at, around its rider and not beyond its ends.
Focus within(const Focus& focus, const View& view, double shown_m);
Focus focus_of(const Controls& controls, const View& view);
double fitted_px_per_m(const Focus& focus, double width_px, double height_px, double road_width_m);

/// What stands over the bunch at the first and the last picture: the scenario's question (or title); its finding and three results.
/// Empty: nothing.
struct Card {
  std::string words, below;
  std::vector<std::string> results{};
  bool empty() const { return words.empty() && results.empty(); }
};
Card card_of(const Controls& controls, const Replay& replay);

}  // namespace leewheel::view
