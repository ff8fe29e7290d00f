#pragma once
/// Marks and keys over the view of the riders from above.

#include <optional>
#include <string>

#include "leewheel/wind.hpp"
#include "viz/draw/scene.hpp"

namespace leewheel::draw {

/// From metres around the focus to pixels; travel goes to the right, left of the road is up.
struct GroundScale {
  view::Rect room;
  double px_per_m, middle_m, lateral_m;

  float x(double distance_m) const { return room.x + room.w / 2 + static_cast<float>((distance_m - middle_m) * px_per_m); }
  float y(double lateral) const { return room.y + room.h / 2 - static_cast<float>((lateral - lateral_m) * px_per_m); }
  float px(double length_m) const { return static_cast<float>(length_m * px_per_m); }
  double from_m() const { return middle_m - room.w / 2 / px_per_m; }
  double to_m() const { return middle_m + room.w / 2 / px_per_m; }
};

inline constexpr float key_row = 20;  // of the scale bar, in design pixels

/// Apparent wind at the chosen rider, as seen from above: an arrow and two lines of words, one where room is short.
struct WindBox {
  view::Rect area;
  std::string speed, from;
  ApparentWind air;
};

/// Two chevrons before the wheel of who turns next.
void draw_next_turns(Canvas& c, const GroundScale& s, const Scene& scene);
std::string next_words(const view::View& view, const view::Focus& focus);
void draw_overlaps(Canvas& c, const GroundScale& s, const Scene& scene);
/// Scale bar and what the shading means, along the bottom.
void draw_keys(Canvas& c, const GroundScale& s, const Scene& scene, const std::optional<WorthBehind>& worth);
std::optional<WindBox> wind_box(Canvas& c, const GroundScale& s, const Scene& scene);
void draw_apparent_wind(Canvas& c, const WindBox& box, const view::Palette& p);
/// How to read the picture, where there is room for it.
view::Rect reading_note(const GroundScale& s, const Canvas& c, std::string& words);

}  // namespace leewheel::draw
