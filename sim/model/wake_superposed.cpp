#include <algorithm>
#include <array>
#include <cmath>

#include "model/simd.hpp"
#include "model/wake_fields.hpp"

namespace leewheel {

std::span<const NumberField<SuperposedWakes>> SuperposedWakes::fields() {
  using L = SuperposedWakes;
  static constexpr const char* line = "fitted to lines of two to nine (Blocken et al. 2018, J Wind Eng Ind Aerodyn 182:128)";
  static constexpr const char* crowd = "fitted to a bunch of 121 (Blocken et al. 2018, J Wind Eng Ind Aerodyn 179:319)";
  static constexpr auto all = with_base_fields<L>({
      {"obstruction", &L::obstruction, 0, 20, "obstruction of a rider of 0.23 m2 right behind the wheel", line},
      {"length_m", &L::length_m, 1, 200, "length of the wake in smooth air (m)", line},
      {"half_width_m", &L::half_width_m, 0.1, 5, "half width of the wake (m)",
       "fitted to crosswind rows and the bunch of 121"},
      {"line_depth", &L::line_depth, 0, 0.9, "greatest deficit of air speed in a single line", line},
      {"crowd_depth", &L::crowd_depth, 0, 0.9, "further deficit in a dense bunch", crowd},
      {"closing", &L::closing, 0, 5, "how much one rider closes a bunch", crowd},
      {"closing_ahead_m", &L::closing_ahead_m, 0.5, 50, "reach of the closing ahead (m)", "chosen; 7 and 14 fit worse"},
      {"closing_behind_m", &L::closing_behind_m, 0.5, 50, "reach of the closing behind (m)", "chosen"},
      {"closing_half_width_m", &L::closing_half_width_m, 0.5, 10, "half width of the closing (m)", "chosen"},
      {"row_spread_m", &L::row_spread_m, 0, 5,
       "riders ahead whose places along the wind spread less than this count as one row, which closes nothing (m)",
       "assumed: no source measures the second row of a wide front; larger fits worse"},
      {"push", &L::push, 0, 0.5, "help from a wheel right behind", line},
      {"push_reach_m", &L::push_reach_m, 0.2, 20, "reach of that help (m)", line},
      {"crowd_push", &L::crowd_push, 0, 0.9, "help from a dense bunch behind", crowd},
      {"abreast_cost", &L::abreast_cost, 0, 2, "cost of riding abreast, before it saturates",
       "from memory: about 6 % side by side (Barry et al. about 2014); uncertain"},
      {"abreast_half_width_m", &L::abreast_half_width_m, 0.5, 5, "half width of that cost (m)", "chosen"},
      {"halving_turbulence", &L::halving_turbulence, 0.005, 1, "turbulence intensity that halves the length of the wake",
       "stated middle between smooth computation and coasting data (Olds 1998, Eur J Appl Physiol 77:492)"},
  });
  return all;
}

namespace {
constexpr double reference_area_m2 = 0.23;  // drag area of the rider of the line table (time-trial posture)
constexpr double body_width_m = 0.45;       // what a bicycle and rider measure in a wind from the side
constexpr double abreast_share = 0.6;       // of a length: how far along the road the cost of riding abreast reaches
constexpr double no_wake_below_mps = 0.5;

LEEWHEEL_INLINE Real4 cube(const Real4& t) {
  const Real4 part = max_of(t, 0.0);
  return part * part * part;
}
/// 0 at 0, 1 from 1 on, smooth.
LEEWHEEL_INLINE Real4 smoothstep(const Real4& t) {
  const Real4 part = min_of(t, 1.0);
  return part * part * (3.0 - 2.0 * part);
}
/// How closed a crowd is, 0 to 1; of the square of what closes it.
LEEWHEEL_INLINE Real4 closed(const Real4& crowd2) {
  const Real4 half = crowd2 / (1.0 + crowd2);
  return half * half;
}

/// Riders ahead who close a crowd, and how they lie along the wind. Those of one row close none.
struct CrowdAhead {
  Real4 sum{}, first_m{}, second_m2{};

  LEEWHEEL_INLINE void add(const Real4& closing, const Real4& apart_m) {
    const Real4 moment = closing * apart_m;
    sum += closing;
    first_m += moment;
    second_m2 += moment * apart_m;
  }
  LEEWHEEL_INLINE Real4 square(double row_spread_m) const {
    constexpr double nothing = 1e-30;
    const Real4 all = sum * sum, spread = max_of(sum * second_m2 - first_m * first_m, 0.0);
    return all * spread / (spread + row_spread_m * row_spread_m * all + nothing);
  }
};
LEEWHEEL_INLINE Real4 absolute(const Real4& a) { return a < 0.0 ? -a : a; }

/// What one rider does to the others; filled once an evaluation.
struct WakeSource {
  double from_m, to_m;  ///< the road on which it does anything
  double x_m, y_m, downwind_x, downwind_y, length_m, per_length;
  double obstruction, closing, push, abreast, per_push_m, per_reach_m;
  double area_m2 = -1.0, q, root_q, cube_root_q;

  void take_area(double m2) {
    if (area_m2 == m2) return;  // a posture is held for long
    area_m2 = m2;
    q = m2 / reference_area_m2;
    root_q = std::sqrt(q);
    cube_root_q = std::cbrt(q);
  }
};

/// Room to work in, kept by each thread so that an evaluation allocates nothing. Nothing of one evaluation reaches the next but
/// roots of a drag area, which are the same for every law and every ride.
struct Buffers {
  std::vector<WakeSource> sources;
  std::array<std::vector<WakeLink>, riders_at_once> found;  ///< links of the receivers at hand
};
thread_local Buffers buffers;

/// Fills the sources and returns the reach of the furthest-reaching one.
WakeReach fill_sources(const SuperposedWakes& c, const WakeInput& in, std::vector<WakeSource>& sources) {
  const double widest_m = std::max({c.half_width_m, c.closing_half_width_m, c.abreast_half_width_m});
  sources.resize(in.distance_m.size());
  WakeReach reach{0.0, 0.0, 0.0};
  for (std::size_t j = 0; j < sources.size(); ++j) {
    const double along = in.apparent_along_mps[j], cross = in.apparent_cross_mps[j];
    const double air_mps = std::sqrt(along * along + cross * cross);
    const double started = std::min(1.0, air_mps / no_wake_below_mps), on = started * started * (3.0 - 2.0 * started);
    WakeSource& s = sources[j];
    s.take_area(in.drag_area_m2[j]);
    s.x_m = in.distance_m[j];
    s.y_m = in.lateral_m[j];
    s.downwind_x = air_mps > 1e-12 ? -along / air_mps : -1.0;
    s.downwind_y = air_mps > 1e-12 ? cross / air_mps : 0.0;
    const double ex = std::abs(s.downwind_x), ey = std::abs(s.downwind_y);
    s.length_m = bicycle_length_m * ex + body_width_m * ey;
    s.per_length = 1.0 / s.length_m;
    s.obstruction = c.obstruction * on * s.q * s.root_q;
    s.closing = c.closing * on * s.cube_root_q;
    s.push = c.push * on * s.q;
    s.abreast = c.abreast_cost * on * s.q;
    s.per_push_m = 1.0 / (c.push_reach_m * s.root_q);
    s.per_reach_m = (1.0 + in.turbulence_intensity[j] / c.halving_turbulence) / c.length_m;
    const double downwind_m = std::max(1.0 / s.per_reach_m, c.closing_ahead_m) + s.length_m;
    const double upwind_m = std::max(c.closing_behind_m, 1.0 / s.per_push_m) + s.length_m;
    const double sideways_m = widest_m * ey;
    const bool tailwind = s.downwind_x > 0.0;
    const double behind_m = (tailwind ? upwind_m : downwind_m) * ex + sideways_m;
    const double ahead_m = (tailwind ? downwind_m : upwind_m) * ex + sideways_m;
    s.from_m = s.x_m - behind_m;
    s.to_m = s.x_m + ahead_m;
    reach.behind_m = std::max(reach.behind_m, behind_m);
    reach.ahead_m = std::max(reach.ahead_m, ahead_m);
    reach.across_m = std::max(reach.across_m, std::max(downwind_m, upwind_m) * ey + widest_m * ex);
  }
  return reach;
}

/// The saving from ahead goes to the wakes by the logarithm of what each lets through, the help from behind by its size.
void share_out(std::vector<WakeLink>& found, double open, double behind, double line, double push,
               std::vector<WakeLink>& links) {
  const double ahead_saving = 1.0 - open * open, all_saving = ahead_saving + behind;
  const double line_log = std::log(line);
  double sum = 0.0;
  for (WakeLink& link : found) {
    link.share =
        link.share > 0.0 ? link.share / line_log * ahead_saving / all_saving : -link.share / push * behind / all_saving;
    sum += link.share;
  }
  // The faintest wakes have no link; what they saved goes to the others, so that nothing saved is lost from the ledger.
  // Where wakes save nothing, as with a line_depth of 0, nobody has given anything.
  if (sum > 0.0)
    for (const WakeLink& link : found) links.push_back({link.giver, link.receiver, link.share / sum});
  found.clear();
}

/// Four receivers at a time, neighbours in road order, against every source within reach of one of them: kernels are exactly
/// zero beyond their reach, so a source too many changes nothing.
LEEWHEEL_EACH_CPU void evaluate(const SuperposedWakes& c, const WakeInput& in, const WakeOutput& out,
                                std::vector<WakeLink>* links) {
  std::vector<WakeSource>& sources = buffers.sources;
  auto& found = buffers.found;
  const WakeReach reach = fill_sources(c, in, sources);
  const double per_R2 = 1.0 / (c.half_width_m * c.half_width_m);
  const double per_Rb2 = 1.0 / (c.closing_half_width_m * c.closing_half_width_m);
  const double per_Rc2 = 1.0 / (c.abreast_half_width_m * c.abreast_half_width_m);
  const double per_Lb = 1.0 / c.closing_ahead_m, per_Le = 1.0 / c.closing_behind_m;
  const std::size_t n = sources.size();
  std::size_t first = 0, end = 0;  // the riders within reach slide along with the receivers
  for (std::size_t i = 0; i < n; i += riders_at_once) {
    const std::size_t last = std::min(i + riders_at_once, n) - 1;
    Real4 x_m, y_m, q;
    for (std::size_t k = 0; k < riders_at_once; ++k) {
      const std::size_t receiver = std::min(i + k, last);
      x_m[k] = in.distance_m[receiver];
      y_m[k] = in.lateral_m[receiver];
      q[k] = in.drag_area_m2[receiver] / reference_area_m2;
    }
    const double front_m = in.distance_m[i], back_m = in.distance_m[last];
    while (sources[first].x_m > front_m + reach.behind_m) ++first;
    end = std::max(end, last);
    while (end < n && sources[end].x_m >= back_m - reach.ahead_m) ++end;
    const Real4 per_root_q = 1.0 / square_root(q);
    Real4 line = broadcast(1.0), push{}, abreast{}, crowd_behind{};
    CrowdAhead crowd_ahead;
    for (std::size_t j = first; j < end; ++j) {
      const WakeSource& s = sources[j];
      if (s.from_m > front_m || s.to_m < back_m) continue;
      const Real4 dx = x_m - s.x_m, dy = y_m - s.y_m;
      const Real4 down_m = dx * s.downwind_x + dy * s.downwind_y;
      const Real4 off_m = dy * s.downwind_x - dx * s.downwind_y, y2 = off_m * off_m;
      const Real4 apart_m = absolute(down_m), gap_m = max_of(apart_m - s.length_m, 0.0);
      const Real4 lengths = apart_m * s.per_length, begun = smoothstep(lengths);  // 0 from a rider to himself
      const Real4 narrow = begun * cube(1.0 - y2 * per_R2), wide = s.closing * begun * cube(1.0 - y2 * per_Rb2);
      const Real4 obstruction =
          down_m > 0.0 ? s.obstruction * per_root_q * narrow * cube(1.0 - gap_m * s.per_reach_m) : broadcast(0.0);
      const Real4 help = down_m > 0.0 ? broadcast(0.0) : s.push * narrow * cube(1.0 - gap_m * s.per_push_m);
      line *= 1.0 + obstruction;
      push += help;
      crowd_ahead.add(down_m > 0.0 ? wide * cube(1.0 - gap_m * per_Lb) : broadcast(0.0), apart_m);
      crowd_behind += down_m > 0.0 ? broadcast(0.0) : wide * cube(1.0 - gap_m * per_Le);
      const Real4 beside = max_of(1.0 - lengths * lengths * (1.0 / (abreast_share * abreast_share)), 0.0);
      Real4 cost = s.abreast * beside * beside * cube(1.0 - y2 * per_Rc2);
      if (j >= i && j <= last) cost[j - i] = 0.0;
      abreast += cost;
      if (!links) continue;
      const auto some = (obstruction > 0.01) | (help > 0.001);
      if ((some[0] | some[1] | some[2] | some[3]) == 0) continue;
      for (std::size_t receiver = i; receiver <= last; ++receiver) {
        const std::size_t k = receiver - i;
        const auto note = [&](double share) {
          found[k].push_back({static_cast<std::uint32_t>(j), static_cast<std::uint32_t>(receiver), share});
        };
        if (obstruction[k] > 0.01)
          note(std::log1p(obstruction[k]));
        else if (help[k] > 0.001)
          note(-help[k]);
      }
    }
    const Real4 deficit = (1.0 - 1.0 / line) * (c.line_depth + c.crowd_depth * closed(crowd_ahead.square(c.row_spread_m)));
    const Real4 open = 1.0 - deficit, behind = push / q;
    const Real4 raw = max_of(
        open * open * (1.0 + abreast / (1.0 + 10.0 * abreast)) * (1.0 - c.crowd_push * closed(crowd_behind * crowd_behind)) -
            behind,
        c.least_factor);
    const Real4 factor = raw < 1.0 ? max_of(1.0 - c.wake_scale * (1.0 - raw), c.least_factor) : raw;
    for (std::size_t receiver = i; receiver <= last; ++receiver) {
      const std::size_t k = receiver - i;
      out.factor[receiver] = factor[k];
      out.side_factor[receiver] = open[k] * open[k] * open[k];
      if (links) share_out(found[k], open[k], behind[k], line[k], push[k], *links);
    }
  }
}

}  // namespace

void SuperposedWakes::factors(const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links) const {
  evaluate(*this, in, out, links);
}

WakeReach SuperposedWakes::reach_m(const WakeInput& in) const { return fill_sources(*this, in, buffers.sources); }

}  // namespace leewheel
