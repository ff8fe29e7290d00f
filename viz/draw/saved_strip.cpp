#include "viz/draw/saved_strip.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace leewheel::draw {

using namespace view;

namespace {

/// Power against height: 0 W on a line that leaves a little room below for what company costs.
struct StripScale {
  float zero_y, px_per_W;
  float y(double watts) const { return zero_y - static_cast<float>(watts) * px_per_W; }
};

StripScale strip_scale(const RoadScale& s, const Replay& replay) {
  const float below = std::round(s.strip_h * 0.1f);
  return {s.strip_y + s.strip_h - below, (s.strip_h - below) / static_cast<float>(replay.power_scale_W())};
}

}  // namespace

void draw_saved_strip(Canvas& c, const RoadScale& s, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const SavedAlong& along = scene.replay.saved_along();
  const StripScale scale = strip_scale(s, scene.replay);
  const bool all = scene.controls.strip_of_all;
  const std::vector<SavedPiece> pieces = all ? along.mean() : along.of(scene.controls.chosen);
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const float from = std::round(s.x(static_cast<double>(k) * along.piece_m())),
                to = std::round(s.x(static_cast<double>(k + 1) * along.piece_m())),
                alone = std::max(s.strip_y, scale.y(pieces[k].alone_W));
    c.fill({from, alone, to - from, scale.zero_y - alone}, p.land);
    const float saved = std::max(s.strip_y, scale.y(pieces[k].saved_W));
    if (saved < scale.zero_y) {
      const Rect column{from, saved, to - from, scale.zero_y - saved};
      c.fill(column, faded(p.chosen, 0.3));
      c.hatch(column, p.chosen, 5 * u);
      c.fill({from, saved - u, to - from, 2 * u}, p.chosen);
    } else if (saved > scale.zero_y + 0.5f * u) {
      c.fill({from, scale.zero_y, to - from, std::min(saved, s.strip_y + s.strip_h) - scale.zero_y}, p.warning);
    }
  }
  c.fill({s.plot.x, scale.zero_y, s.plot.w, std::max(1.0f, u)}, p.quiet);
  const float h = c.line_height(Size::small), edge = s.plot.x - 7 * u;
  c.text(edge, s.strip_y - 2 * u, fmt::format("{:.0f} W", scene.replay.power_scale_W()), p.quiet, Size::small, Align::right);
  if (s.strip_h >= 2 * h) c.text(edge, scale.zero_y - h + 2 * u, "0", p.quiet, Size::small, Align::right);
  c.plate(s.plot.x + 2 * u, s.strip_y - u,
          all ? std::string("mean of all: saved (hatched) of the power alone")
              : fmt::format("{}: saved (hatched) of the power alone", scene.chosen().name),
          p.text, p.panel, Size::small, Align::left);
}

void draw_saved_now(Canvas& c, const RoadScale& s, const Scene& scene) {
  const RiderView& r = scene.chosen();
  if (r.finished) return;
  const Palette& p = scene.palette();
  const float u = c.unit(), x = s.x(r.distance_m);
  c.fill({std::round(x), s.strip_y, std::max(1.0f, 1.5f * u), s.strip_h}, p.text);
  const int saved = whole_watts(r).saved;
  const std::string words = saved < 0 ? fmt::format("costs {} W", -saved) : fmt::format("{} W", saved);
  const bool left = x + c.text_width(words, Size::small, true) + 12 * u > s.plot.right();
  c.plate(x + (left ? -4 * u : 4 * u), s.strip_y + s.strip_h - c.line_height(Size::small) - 3 * u, words,
          saved < 0 ? p.warning : p.chosen, p.panel, Size::small, left ? Align::right : Align::left, true);
}

}  // namespace leewheel::draw
