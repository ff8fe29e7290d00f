#include "viz/draw/riders_marks.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "leewheel/units.hpp"
#include "leewheel/wake.hpp"

namespace leewheel::draw {

using namespace view;

void draw_next_turns(Canvas& c, const GroundScale& s, const Scene& scene) {
  const float u = c.unit();
  for (const GroupView& g : scene.view.groups) {
    if (!g.next_turn) continue;
    const RiderView& r = scene.view.riders[g.next_turn->rider];
    const float x = s.x(r.distance_m) + 3 * u, y = s.y(r.lateral_m);
    if (x < s.room.x || x > s.room.right()) continue;
    for (const float dx : {0.0f, 6 * u})
      for (const float side : {-1.0f, 1.0f})
        c.line(x + dx, y + side * 6 * u, x + dx + 5 * u, y, scene.palette().text, 2 * u);
  }
}

std::string next_words(const View& view, const Focus& focus) {
  for (const GroupView& g : view.groups)
    if (g.next_turn && focus.middle_m <= g.first_m && focus.middle_m >= g.last_m)
      return fmt::format("   \xC2\xB7   next in front: {}, in {:.0f} s", view.riders[g.next_turn->rider].name,
                         g.next_turn->in_s);
  return "";
}

void draw_overlaps(Canvas& c, const GroundScale& s, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  std::string words;
  for (const auto& [ahead, behind] : scene.view.overlaps) {
    const RiderView &a = scene.view.riders[ahead], &b = scene.view.riders[behind];
    const float x = s.x(0.5 * (a.distance_m - bicycle_length_m + b.distance_m)), y = s.y(0.5 * (a.lateral_m + b.lateral_m));
    if (x < s.room.x || x > s.room.right()) continue;
    c.triangle({x, y - 7 * u}, {x + 7 * u, y + 5 * u}, {x - 7 * u, y + 5 * u}, p.warning);
    c.fill({x - u, y - 3 * u, 2 * u, 4 * u}, p.panel), c.fill({x - u, y + 2 * u, 2 * u, 2 * u}, p.panel);
    if (words.empty()) words = fmt::format("Wheels overlap: {} beside {}", b.name, a.name);
  }
  if (words.empty()) return;
  if (scene.view.overlaps.size() > 1) words += fmt::format(" (+{})", scene.view.overlaps.size() - 1);
  c.plate(s.room.x + 6 * u, s.room.bottom() - 40 * u, words, p.warning, p.panel, Size::normal, Align::left, true);
}

namespace {

/// The scale of the shading, with a mark where a further rider close behind would stand on it.
void draw_wake_key(Canvas& c, const Rect& room, const Scene& scene, const std::optional<WorthBehind>& worth) {
  const Palette& p = scene.palette();
  const float u = c.unit(), ramp_w = 90 * u, text_y = room.y + (room.h - c.line_height(Size::small)) / 2;
  const bool as_share = scene.controls.wake_as_share;
  const std::string low = as_share ? "100 %" : "0", high = as_share ? "30 %" : "100 W";
  const float ramp_x = room.right() - c.text_width(high, Size::small) - 5 * u - ramp_w;
  c.text(room.right(), text_y, high, p.text, Size::small, Align::right);
  for (int k = 0; k < 30; ++k)
    c.fill({ramp_x + ramp_w * static_cast<float>(k) / 30, room.y + 5 * u, ramp_w / 30 + 1, 10 * u}, p.shade((k + 0.5) / 30));
  c.frame({ramp_x, room.y + 5 * u, ramp_w + 1, 10 * u}, p.line);
  c.text(ramp_x - 5 * u, text_y, low, p.text, Size::small, Align::right);
  const float right = ramp_x - 5 * u - c.text_width(low, Size::small) - 8 * u;
  if (!as_share && worth) {
    const float mark = ramp_x + ramp_w * static_cast<float>(depth_of_watts(worth->saved_W));
    c.fill({mark - u, room.y + 2 * u, 2 * u, 16 * u}, p.text);
  }
  const std::string here = worth ? fmt::format("{:.0f} W", std::max(0.0, worth->saved_W)) : "";
  const std::vector<std::string> tried =
      as_share ? std::vector<std::string>{"air drag of a further rider", "air drag"}
      : !worth ? std::vector<std::string>{"saved by a further rider", "saved"}
               : std::vector<std::string>{"close behind the last: here worth " + here, "here worth " + here};
  for (const std::string& words : tried) {
    if (right - c.text_width(words, Size::small) < room.x) continue;
    c.text(right, text_y, words, as_share ? p.quiet : p.text, Size::small, Align::right);
    return;
  }
}

}  // namespace

void draw_keys(Canvas& c, const GroundScale& s, const Scene& scene, const std::optional<WorthBehind>& worth) {
  const Palette& p = scene.palette();
  const float u = c.unit(), top = s.room.bottom() - key_row * u, h = c.line_height(Size::small);
  c.fill({s.room.x, top, s.room.w, key_row * u}, faded(p.panel, 0.92));
  const bool metric = scene.controls.units == Units::metric;
  const double unit_m = metric ? 1.0 : foot_m,
               bar = round_down_125(std::clamp(s.room.w - 230 * u, 30 * u, 110 * u) / s.px_per_m / unit_m);
  const float bar_px = s.px(bar * unit_m), y = top + 10 * u, x = s.room.x + 8 * u;
  c.fill({x, y, bar_px, std::max(1.0f, u)}, p.text);
  for (const float end : {x, x + bar_px}) c.fill({end, y - 4 * u, std::max(1.0f, u), 8 * u}, p.text);
  c.text(x + bar_px + 6 * u, top + (20 * u - h) / 2, fmt::format("{:g} {}", bar, metric ? "m" : "ft"), p.text, Size::small);
  draw_wake_key(c, {x + bar_px + 50 * u, top, s.room.right() - 8 * u - x - bar_px - 50 * u, key_row * u}, scene, worth);
}

std::optional<WindBox> wind_box(Canvas& c, const GroundScale& s, const Scene& scene) {
  const RiderView& r = scene.chosen();
  if (r.finished) return {};
  const float u = c.unit();
  WindBox box;
  box.air = apparent_wind(r.speed_mps, {r.wind_along_mps, r.wind_cross_mps});
  box.speed = "apparent wind " + speed_text(box.air.speed_mps, scene.controls.units);
  const double yaw_deg = deg_from_rad(box.air.yaw_rad);
  if (s.room.h >= 150 * u)
    box.from = yaw_deg < 2 ? std::string("from straight ahead")
                           : fmt::format("{:.0f}\xC2\xB0 off the nose, from the {}", yaw_deg,
                                         box.air.cross_mps > 0 ? "right" : "left");
  const float words_w = std::max(c.text_width(box.speed, Size::small), c.text_width(box.from, Size::small));
  const float w = words_w + 68 * u, h = box.from.empty() ? 19 * u : 36 * u;
  box.area = {s.room.right() - w - 6 * u, s.room.y + 4 * u, w, h};
  return box;
}

void draw_apparent_wind(Canvas& c, const WindBox& box, const Palette& p) {
  const float u = c.unit();
  const ApparentWind& air = box.air;
  c.fill(box.area, faded(p.panel, 0.9));
  const float most = box.area.h / 2 - 2 * u,
              length = static_cast<float>(std::min(1.0, air.speed_mps / 15.0)) * 24 * u + 3 * u, mx = box.area.x + 30 * u,
              my = box.area.y + box.area.h / 2;
  const float fx = air.speed_mps > 0 ? -static_cast<float>(air.along_mps / air.speed_mps) : 0,
              fy = air.speed_mps > 0 ? -static_cast<float>(air.cross_mps / air.speed_mps) : 0;
  c.arrow(mx - fx * length, my - fy * std::min(length, most), mx + fx * length, my + fy * std::min(length, most), p.chosen,
          2.4f * u, 9 * u);
  c.text(box.area.x + 62 * u, box.area.y + 2 * u, box.speed, p.text, Size::small);
  if (!box.from.empty()) c.text(box.area.x + 62 * u, box.area.y + 18 * u, box.from, p.quiet, Size::small);
}

Rect reading_note(const GroundScale& s, const Canvas& c, std::string& words) {
  words = "travel to the right, bends drawn straight";
  const float u = c.unit(), w = c.text_width(words, Size::small);
  if (s.room.h < 150 * u || s.room.w < w + 290 * u) return {};
  return {s.room.x + 8 * u, s.room.y + 4 * u, w, c.line_height(Size::small)};
}

}  // namespace leewheel::draw
