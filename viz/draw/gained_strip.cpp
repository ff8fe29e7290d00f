#include "viz/draw/gained_strip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel::draw {

using namespace view;

namespace {

using Gained = std::vector<std::optional<GainedHere>>;

/// Both lines as shares of the largest that each reaches, drawn between the lowest and the highest share.
struct GainScale {
  double most_s = 1.0, most_J = 1000.0, low = 0.0, high = 0.1;
  float top, h;

  float y(double share) const { return top + h * static_cast<float>((high - share) / (high - low)); }
  float time_y(const GainedHere& gained) const { return y(gained.time_s / most_s); }
  float work_y(const GainedHere& gained) const { return y(gained.work_J / most_J); }
};

GainScale gain_scale(const RoadScale& s, const Gained& along, float u) {
  GainScale scale;
  scale.top = s.gain_y + 2 * u, scale.h = s.gain_h - 4 * u;
  for (const auto& one : along)
    if (one)
      scale.most_s = std::max(scale.most_s, std::abs(one->time_s)),
      scale.most_J = std::max(scale.most_J, std::abs(one->work_J));
  for (const auto& one : along)
    if (one)
      for (const double share : {one->time_s / scale.most_s, one->work_J / scale.most_J})
        scale.low = std::min(scale.low, share), scale.high = std::max(scale.high, share);
  return scale;
}

std::string signed_time(double time_s) {
  return (time_s <= -0.5 ? "\xE2\x88\x92" : time_s >= 0.5 ? "+" : "") + minutes_seconds_text(std::abs(time_s));
}

std::string signed_work(double work_J) {
  const double spared_kJ = std::round(work_J / 1000);
  return fmt::format("{}{:.0f} kJ", spared_kJ < 0 ? "\xE2\x88\x92" : spared_kJ > 0 ? "+" : "", std::abs(spared_kJ));
}

}  // namespace

std::string gained_heading(const GhostScene& ghost) {
  return fmt::format("against {} (hollow): line = time gained, dashes = work spared", ghost.name);
}

void draw_gained_strip(Canvas& c, const RoadScale& s, const Scene& scene) {
  if (!scene.ghost || s.gain_h <= 0) return;
  const Palette& p = scene.palette();
  const float u = c.unit();
  const Gained& along = scene.ghost->along;
  const GainScale scale = gain_scale(s, along, u);
  c.fill({s.plot.x, s.gain_y, s.plot.w, s.gain_h}, p.raised);
  c.fill({s.plot.x, std::round(scale.y(0)), s.plot.w, std::max(1.0f, u)}, p.quiet);
  c.text(s.plot.x - 7 * u, s.gain_y + (s.gain_h - c.line_height(Size::small)) / 2, "gained", p.quiet, Size::small,
         Align::right);
  const auto x = [&](std::size_t k) { return s.plot.x + s.plot.w * static_cast<float>(k) / SavedAlong::pieces; };
  for (std::size_t k = 1; k < along.size(); ++k) {
    if (!along[k - 1] || !along[k]) continue;
    c.line(x(k - 1), scale.time_y(*along[k - 1]), x(k), scale.time_y(*along[k]), p.chosen, 2 * u);
    if (k % 2 == 0) c.line(x(k - 1), scale.work_y(*along[k - 1]), x(k), scale.work_y(*along[k]), p.text, 1.5f * u);
  }
}

void draw_gained_now(Canvas& c, const RoadScale& s, const Scene& scene) {
  if (!scene.ghost || s.gain_h <= 0) return;
  const Palette& p = scene.palette();
  const RiderView& r = scene.chosen();
  const float u = c.unit(), h = c.line_height(Size::small), y = s.gain_y + (s.gain_h - h) / 2;
  LabelPlacer placer;
  const auto label = [&](float at, bool left, const GainedHere& gained, bool bold) {
    const std::string words = signed_time(gained.time_s) + "  \xC2\xB7  " + signed_work(gained.work_J);
    const float w = c.text_width(words, Size::small, bold) + 6 * u;
    if (!placer.take({left ? at - w : at, y, w, h})) return;
    c.plate(at, y, words, bold ? p.chosen : p.text, p.panel, Size::small, left ? Align::right : Align::left, bold);
  };
  const auto& now = scene.ghost->difference;
  if (now && now->here && !r.finished) {
    const float x = s.x(r.distance_m);
    c.fill({std::round(x), s.gain_y, std::max(1.0f, 1.5f * u), s.gain_h}, p.text);
    label(x + (x > s.plot.x + s.plot.w / 2 ? -4 : 4) * u, x > s.plot.x + s.plot.w / 2, *now->here, true);
  }
  if (const auto& last = scene.ghost->along.back()) label(s.plot.right() - 2 * u, true, *last, r.finished);
}

}  // namespace leewheel::draw
