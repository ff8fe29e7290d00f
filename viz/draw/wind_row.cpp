/// The wind under the profile: a band as wide as the wind met head-on, with strokes slanted by the wind from the side.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "viz/draw/road_ground.hpp"
#include "viz/view/wind_band.hpp"

namespace leewheel::draw {

using namespace view;

namespace {

constexpr std::size_t band_pieces = 120;

/// Filled where the wind is against, two lines where it comes from behind.
void draw_band(Canvas& c, const RoadScale& s, const WindBand& band, const Palette& p) {
  const float u = c.unit(), mid = s.wind_y + s.wind_h / 2, most = s.wind_h / 2 - 2 * u;
  const auto half = [&](std::size_t k) {
    return std::max(0.75f * u, most * static_cast<float>(std::abs(band.share_against(k))));
  };
  const auto x = [&](std::size_t k) {
    return s.plot.x + s.plot.w * static_cast<float>(k) / static_cast<float>(band_pieces);
  };
  for (std::size_t k = 0; k < band_pieces; ++k) {
    if (!band.pieces[k]) continue;
    const float from = x(k), to = x(k + 1), here = half(k),
                next = k + 1 < band_pieces && band.pieces[k + 1] ? half(k + 1) : here;
    if (band.share_against(k) > 0) {
      const sf::Color fill = colour(p.land);
      c.mesh({{from, mid - here}, fill}, {{to, mid - next}, fill}, {{to, mid + next}, fill});
      c.mesh({{from, mid - here}, fill}, {{to, mid + next}, fill}, {{from, mid + here}, fill});
    }
    for (const float side : {-1.0f, 1.0f})
      c.line(from, mid + side * here, to, mid + side * next, p.quiet, std::max(1.0f, u));
  }
}

/// Where the wind blows, seen from above with travel to the right, and how strong it is.
void draw_direction(Canvas& c, const RoadScale& s, float x, const MetWind& wind, const Palette& p, Units units) {
  const float u = c.unit(), mid = s.wind_y + s.wind_h / 2, reach = s.wind_h / 2 - 2 * u;
  const double speed_mps = std::hypot(wind.along_mps, wind.cross_mps), unit_mps = std::max(speed_mps, 1e-6);
  const float dx = static_cast<float>(wind.along_mps / unit_mps) * reach,
              dy = -static_cast<float>(wind.cross_mps / unit_mps) * reach;
  c.arrow(x - dx, mid - dy, x + dx, mid + dy, p.text, 1.5f * u, 6 * u);
  const double shown = units == Units::metric ? kmh_from_mps(speed_mps) : speed_mps * 3600 / mile_m;
  c.text(x + reach + 3 * u, mid - c.line_height(Size::small) / 2, fmt::format("{:.0f}", shown), p.text, Size::small);
}

}  // namespace

void draw_wind(Canvas& c, const RoadScale& s, const Replay& replay, const Palette& p, Units units) {
  const float u = c.unit(), spacing = 66 * u;
  c.text(s.plot.x - 7 * u, s.wind_y + (s.wind_h - c.line_height(Size::small)) / 2, "wind", p.quiet, Size::small,
         Align::right);
  const WindBand band = wind_band(replay, band_pieces);
  draw_band(c, s, band, p);
  if (const auto most = replay.most_exposed())
    c.fill({s.x(most->from_m), s.wind_y + s.wind_h - 3 * u, s.x(most->to_m) - s.x(most->from_m), 2 * u}, p.warning);
  for (float x = s.plot.x + 14 * u; x < s.plot.right() - 28 * u; x += spacing)
    if (const auto& wind = band.pieces[static_cast<std::size_t>((x - s.plot.x) / s.plot.w * band_pieces)])
      draw_direction(c, s, x, *wind, p, units);
}

}  // namespace leewheel::draw
