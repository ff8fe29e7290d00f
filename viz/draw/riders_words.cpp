/// Words over the riders from above: names, gaps, start and finish, each where it hides nothing.

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "leewheel/wake.hpp"
#include "viz/draw/riders_marks.hpp"
#include "viz/draw/scene.hpp"
#include "viz/view/groups_apart.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

void name_ends(Canvas& c, const GroundScale& s, const Road& road, const Palette& p, LabelPlacer& placer) {
  const float u = c.unit(), h = c.line_height(Size::small);
  for (const auto& [at_m, words] : {std::pair{0.0, "start"}, std::pair{road.length_m(), "finish"}}) {
    if (at_m < s.from_m() || at_m > s.to_m()) continue;
    const float w = c.text_width(words, Size::small), y = std::max(s.room.y, s.y(road.width_m(at_m) / 2) - h - 2 * u);
    for (const float x : {s.x(at_m) - 5 * u - w, s.x(at_m) + 8 * u})
      if (x >= s.room.x && x + w <= s.room.right() && placer.take({x, y, w, h})) {
        c.text(x, y, words, p.text, Size::small);
        break;
      }
  }
}

/// No label lies on a rider.
void keep_riders_free(const GroundScale& s, const Scene& scene, LabelPlacer& placer) {
  for (const RiderView& r : scene.view.riders)
    if (!r.finished)
      placer.take({s.x(r.distance_m - bicycle_length_m), s.y(r.lateral_m) - std::max(3.0f, s.px(0.2)),
                   s.px(bicycle_length_m), std::max(6.0f, s.px(0.4))});
}

void draw_gaps(Canvas& c, const GroundScale& s, const Scene& scene, LabelPlacer& placer, bool of_chosen) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const auto one = [&](std::uint32_t i) {
    const RiderView& r = scene.view.riders[i];
    if (!r.wheel_of || r.finished) return;
    const RiderView& ahead = scene.view.riders[*r.wheel_of];
    const double gap_m = r.wheel_gap_m;
    if (gap_m < 0.02 || gap_m > 30 || r.distance_m < s.from_m() || ahead.distance_m - bicycle_length_m > s.to_m()) return;
    const float x0 = s.x(r.distance_m), x1 = s.x(ahead.distance_m - bicycle_length_m),
                y = s.y(r.lateral_m) + std::max(7 * u, s.px(0.36));
    const std::string words = length_text(gap_m, scene.controls.units);
    const float w = c.text_width(words, Size::small) + 6 * u, h = c.line_height(Size::small);
    const float left = std::clamp((x0 + x1) / 2 - w / 2, s.room.x, s.room.right() - w);
    if (!placer.take({left, y + 4 * u, w, h})) return;
    const Rgb shade = i == scene.controls.chosen ? p.chosen : p.text;
    c.fill({x0, y, std::max(1.0f, x1 - x0), std::max(1.0f, u)}, shade);
    for (const float x : {x0, x1}) c.fill({x, y - 3 * u, std::max(1.0f, u), 6 * u}, shade);
    c.plate(left, y + 4 * u, words, shade, p.panel, Size::small, Align::left);
  };
  if (of_chosen) return one(scene.controls.chosen);
  if (s.px_per_m < 14) return;
  for (const std::uint32_t i : scene.view.order)
    if (i != scene.controls.chosen) one(i);
}

void draw_names(Canvas& c, const GroundScale& s, const Scene& scene, LabelPlacer& placer, bool above,
                std::vector<bool>& named) {
  const Palette& p = scene.palette();
  const float u = c.unit(), h = c.line_height(Size::small);
  const auto one = [&](std::uint32_t i) {
    const RiderView& r = scene.view.riders[i];
    if (named[i] || r.finished || r.distance_m < s.from_m() || r.distance_m - bicycle_length_m > s.to_m()) return;
    const bool chosen = i == scene.controls.chosen;
    std::string words = r.name;
    if (const int saved = whole_watts(r).saved; s.px_per_m > 26 && saved > 0)
      words += fmt::format("  \xE2\x88\x92{} W", saved);
    const float aside = std::max(8 * u, s.px(0.34)) + 2 * u;
    const auto place = [&](const std::string& tried, bool up, int row) {
      const float w = c.text_width(tried, Size::small, chosen) + 6 * u, away = aside + static_cast<float>(row) * (h + 3 * u);
      const float left = std::clamp(s.x(r.distance_m - 0.5 * bicycle_length_m) - w / 2, s.room.x, s.room.right() - w);
      const float top = s.y(r.lateral_m) + (up ? -away - h : away);
      if (!placer.take({left, top, w, h})) return false;
      c.plate(left, top, tried, chosen ? p.chosen : p.text, p.panel, Size::small, Align::left, chosen);
      return true;
    };
    named[i] = place(words, above, 0) || place(r.name, above, 0);
    if (chosen && !above) named[i] = named[i] || place(r.name, false, 1) || place(r.name, true, 1) || place(r.name, true, 2);
  };
  one(scene.controls.chosen);
  if (s.px_per_m < 12) return;
  for (const std::uint32_t i : scene.view.order)
    if (i != scene.controls.chosen) one(i);
}

/// The other groups with their sizes and gaps, from the nearest at the foot up: those behind at the left, those ahead at the right.
void draw_other_groups(Canvas& c, const GroundScale& s, const Scene& scene, const Focus& focus, LabelPlacer& placer) {
  const Palette& p = scene.palette();
  const float u = c.unit(), h = c.line_height(Size::small), row = h + 2 * u, room_h = s.room.h - key_row * u;
  const auto most = static_cast<std::size_t>(std::clamp(0.4f * room_h / row, 1.0f, 3.0f));
  const OtherGroups others = other_groups(scene.view, focus.rider, scene.controls.units, most);
  const auto column = [&](const std::vector<std::string>& lines, bool right, float foot) {
    for (std::size_t k = 0; k < lines.size(); ++k) {
      const float w = c.text_width(lines[k], Size::small) + 6 * u, x = right ? s.room.right() - w - 5 * u : s.room.x + 5 * u,
                  y = foot - row * static_cast<float>(k + 1);
      if (w > s.room.w - 10 * u || y < s.room.y || !placer.take({x, y, w, h})) continue;
      c.plate(x, y, lines[k], p.text, p.panel, Size::small, Align::left);
    }
  };
  const float foot = s.room.bottom() - key_row * u - u, warned = scene.view.overlaps.empty() ? 0 : 22 * u;
  column(others.behind, false, foot - warned);
  column(others.ahead, true, foot);
}

}  // namespace

/// Close behind the last rider of those followed.
std::optional<WorthBehind> RidersDrawing::worth_here(const Scene& scene, const Focus& focus) {
  const RiderView* last = nullptr;
  for (const RiderView& r : scene.view.riders)
    if (!r.finished && std::abs(r.distance_m - focus.middle_m) <= 0.5 * focus.length_m + 0.01)
      if (!last || r.distance_m < last->distance_m) last = &r;
  return last ? std::optional(wake_.worth_behind(*last)) : std::nullopt;
}

/// What matters most takes its place first.
void RidersDrawing::draw_words(const GroundScale& s, const Scene& scene, const Focus& focus, const Rect& taken) {
  const Palette& p = scene.palette();
  LabelPlacer placer;
  if (!taken.empty()) placer.take(taken);
  const auto wind = wind_box(canvas_, s, scene);
  std::string note;
  const Rect note_area = reading_note(s, canvas_, note);
  if (wind) placer.take(wind->area);
  if (!note_area.empty()) placer.take(note_area);
  placer.take({s.room.x, s.room.bottom() - key_row * canvas_.unit(), s.room.w, key_row * canvas_.unit()});
  keep_riders_free(s, scene, placer);
  name_ends(canvas_, s, scene.replay.road(), p, placer);
  std::vector<bool> named(scene.view.riders.size(), false);
  draw_gaps(canvas_, s, scene, placer, true);
  draw_other_groups(canvas_, s, scene, focus, placer);
  draw_names(canvas_, s, scene, placer, true, named);
  draw_gaps(canvas_, s, scene, placer, false);
  draw_names(canvas_, s, scene, placer, false, named);
  draw_next_turns(canvas_, s, scene);
  draw_overlaps(canvas_, s, scene);
  draw_keys(canvas_, s, scene, worth_here(scene, focus));
  if (!note_area.empty()) canvas_.plate(note_area.x, note_area.y, note, p.quiet, p.panel, Size::small, Align::left);
  if (wind) draw_apparent_wind(canvas_, *wind, p);
}

}  // namespace leewheel::draw
