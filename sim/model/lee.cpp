#include "leewheel/lee.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

std::span<const NumberField<LeeSettings>> lee_fields() {
  using L = LeeSettings;
  static constexpr const char* line = "fitted to lines of two to nine (Blocken et al. 2018, J Wind Eng Ind Aerodyn 182:128)";
  static constexpr const char* crowd = "fitted to a bunch of 121 (Blocken et al. 2018, J Wind Eng Ind Aerodyn 179:319)";
  static constexpr NumberField<L> fields[] = {
      {"obstruction", &L::obstruction, 0, 20, "obstruction of a rider of 0.23 m2 right behind the wheel", line},
      {"length_m", &L::length_m, 1, 200, "length of the lee in smooth air (m)", line},
      {"half_width_m", &L::half_width_m, 0.1, 5, "half width of the lee (m)", "fitted to crosswind rows and the bunch of 121"},
      {"line_depth", &L::line_depth, 0, 0.9, "greatest deficit of air speed in a single line", line},
      {"crowd_depth", &L::crowd_depth, 0, 0.9, "further deficit in a closed crowd", crowd},
      {"closing", &L::closing, 0, 5, "how much one rider closes the crowd", crowd},
      {"closing_ahead_m", &L::closing_ahead_m, 0.5, 50, "reach of the closing ahead (m)", "chosen; 7 and 14 fit worse"},
      {"closing_behind_m", &L::closing_behind_m, 0.5, 50, "reach of the closing behind (m)", "chosen"},
      {"closing_half_width_m", &L::closing_half_width_m, 0.5, 10, "half width of the closing (m)", "chosen"},
      {"push", &L::push, 0, 0.5, "help from a wheel right behind", line},
      {"push_reach_m", &L::push_reach_m, 0.2, 20, "reach of that help (m)", line},
      {"crowd_push", &L::crowd_push, 0, 0.9, "help from a closed crowd behind", crowd},
      {"abreast_cost", &L::abreast_cost, 0, 2, "cost of riding abreast, before it saturates",
       "from memory: about 6 % side by side (Barry et al. about 2014); uncertain"},
      {"abreast_half_width_m", &L::abreast_half_width_m, 0.5, 5, "half width of that cost (m)", "chosen"},
      {"halving_turbulence", &L::halving_turbulence, 0.005, 1, "turbulence intensity that halves the length of the lee",
       "stated middle between smooth computation and coasting data (Olds 1998, Eur J Appl Physiol 77:492)"},
      {"least_factor", &L::least_factor, 0.001, 0.5, "no rider has less drag than this share", "chosen"},
      {"calm_turbulence", &L::calm_turbulence, 0, 1, "turbulence a rider meets outdoors on a still day", "assumed"},
      {"lee_scale", &L::lee_scale, 0, 1.5, "multiplies what a wake saves: the named uncertainty of the lee",
       "one standard deviation is 0.15: the spread between tunnel, computation, track and field"},
  };
  return fields;
}

namespace {
constexpr double reference_area_m2 = 0.23;  // drag area of the rider of the line table (time-trial posture)
constexpr double body_width_m = 0.45;       // what a bicycle and rider measure in a wind from the side
constexpr double abreast_share = 0.6;       // of a length: how far along the road the cost of riding abreast reaches
constexpr double no_wake_below_mps = 0.5;

double cube(double t) {
  t = t > 0.0 ? t : 0.0;
  return t * t * t;
}
/// 0 at 0, 1 from 1 on, smooth.
double ease_in(double t) {
  t = t < 1.0 ? t : 1.0;
  return t * t * (3.0 - 2.0 * t);
}
/// How closed a crowd is, 0 to 1.
double closed(double crowd) {
  const double c2 = crowd * crowd, half = c2 / (1.0 + c2);
  return half * half;
}
}  // namespace

void Lee::fill_sources(const LeeInput& in) {
  const LeeSettings& c = settings_;
  sources_.resize(in.distance_m.size());
  reach_behind_m_ = reach_ahead_m_ = 0.0;
  for (std::size_t j = 0; j < sources_.size(); ++j) {
    const double along = in.apparent_along_mps[j], cross = in.apparent_cross_mps[j];
    const double air_mps = std::sqrt(along * along + cross * cross);
    const double q = in.drag_area_m2[j] / reference_area_m2, root_q = std::sqrt(q);
    const double on = ease_in(air_mps / no_wake_below_mps);
    Source& s = sources_[j];
    s.x_m = in.distance_m[j];
    s.y_m = in.lateral_m[j];
    s.downwind_x = air_mps > 1e-12 ? -along / air_mps : -1.0;
    s.downwind_y = air_mps > 1e-12 ? cross / air_mps : 0.0;
    const double ex = std::abs(s.downwind_x), ey = std::abs(s.downwind_y);
    s.length_m = bicycle_length_m * ex + body_width_m * ey;
    s.per_length = 1.0 / s.length_m;
    s.obstruction = c.obstruction * on * q * root_q;
    s.closing = c.closing * on * std::cbrt(q);
    s.push = c.push * on * q;
    s.abreast = c.abreast_cost * on * q;
    s.per_push_m = 1.0 / (c.push_reach_m * root_q);
    s.per_reach_m = (1.0 + in.turbulence_intensity[j] / c.halving_turbulence) / c.length_m;
    const double downwind_m = std::max(1.0 / s.per_reach_m, c.closing_ahead_m) + s.length_m;
    const double upwind_m = std::max(c.closing_behind_m, 1.0 / s.per_push_m) + s.length_m;
    const double sideways_m = c.closing_half_width_m * ey;
    const bool tailwind = s.downwind_x > 0.0;
    reach_behind_m_ = std::max(reach_behind_m_, (tailwind ? upwind_m : downwind_m) * ex + sideways_m);
    reach_ahead_m_ = std::max(reach_ahead_m_, (tailwind ? downwind_m : upwind_m) * ex + sideways_m);
  }
}

void Lee::evaluate(const LeeInput& in, const LeeOutput& out, std::vector<LeeLink>* links) {
  fill_sources(in);
  if (links) links->clear();
  const LeeSettings& c = settings_;
  const double per_R2 = 1.0 / (c.half_width_m * c.half_width_m);
  const double per_Rb2 = 1.0 / (c.closing_half_width_m * c.closing_half_width_m);
  const double per_Rc2 = 1.0 / (c.abreast_half_width_m * c.abreast_half_width_m);
  const double per_Lb = 1.0 / c.closing_ahead_m, per_Le = 1.0 / c.closing_behind_m;
  const std::size_t n = sources_.size();
  std::size_t first = 0, end = 0;  // the riders within reach slide along with the receiver
  for (std::size_t i = 0; i < n; ++i) {
    const double x_m = in.distance_m[i], y_m = in.lateral_m[i], q_i = in.drag_area_m2[i] / reference_area_m2;
    while (sources_[first].x_m > x_m + reach_behind_m_) ++first;
    end = std::max(end, i);
    while (end < n && sources_[end].x_m >= x_m - reach_ahead_m_) ++end;
    const double per_root_q = 1.0 / std::sqrt(q_i);
    double line = 1.0, crowd_ahead = 0.0, crowd_behind = 0.0, push = 0.0, abreast = 0.0;
    const std::size_t first_link = links ? links->size() : 0;
    for (std::size_t j = first; j < end; ++j) {
      if (j == i) continue;
      const Source& s = sources_[j];
      const double dx = x_m - s.x_m, dy = y_m - s.y_m;
      const double down_m = dx * s.downwind_x + dy * s.downwind_y;
      const double off_m = dy * s.downwind_x - dx * s.downwind_y, y2 = off_m * off_m;
      const double wide = cube(1.0 - y2 * per_Rb2);
      if (wide == 0.0) continue;
      const double apart_m = std::abs(down_m), gap_m = std::max(0.0, apart_m - s.length_m);
      const double lengths = apart_m * s.per_length;
      const double begun = ease_in(lengths), narrow = begun * cube(1.0 - y2 * per_R2);
      if (down_m > 0.0) {
        const double obstruction = s.obstruction * per_root_q * narrow * cube(1.0 - gap_m * s.per_reach_m);
        line *= 1.0 + obstruction;
        crowd_ahead += s.closing * begun * wide * cube(1.0 - gap_m * per_Lb);
        if (links && obstruction > 0.01)
          links->push_back({static_cast<std::uint32_t>(j), static_cast<std::uint32_t>(i), std::log1p(obstruction)});
      } else {
        const double help = s.push * narrow * cube(1.0 - gap_m * s.per_push_m);
        push += help;
        crowd_behind += s.closing * begun * wide * cube(1.0 - gap_m * per_Le);
        if (links && help > 0.001)
          links->push_back({static_cast<std::uint32_t>(j), static_cast<std::uint32_t>(i), -help});
      }
      const double beside = 1.0 - lengths * lengths * (1.0 / (abreast_share * abreast_share));
      if (beside > 0.0) abreast += s.abreast * beside * beside * cube(1.0 - y2 * per_Rc2);
    }
    const double deficit = (1.0 - 1.0 / line) * (c.line_depth + c.crowd_depth * closed(crowd_ahead));
    const double open = 1.0 - deficit, behind = push / q_i;
    const double factor = std::max(c.least_factor, open * open * (1.0 + abreast / (1.0 + 10.0 * abreast)) *
                                                           (1.0 - c.crowd_push * closed(crowd_behind)) - behind);
    out.factor[i] = factor < 1.0 ? std::max(c.least_factor, 1.0 - c.lee_scale * (1.0 - factor)) : factor;
    out.side_factor[i] = open * open * open;
    if (!links) continue;
    // The saving from ahead goes to the wakes by the logarithm of what each lets through, the help from behind by its size.
    const double ahead_saving = 1.0 - open * open, all_saving = ahead_saving + behind;
    const double line_log = std::log(line);
    double sum = 0.0;
    for (std::size_t l = first_link; l < links->size(); ++l) {
      double& share = (*links)[l].share;
      share = share > 0.0 ? share / line_log * ahead_saving / all_saving : -share / push * behind / all_saving;
      sum += share;
    }
    // The faintest wakes have no link; what they saved goes to the others, so that nothing saved is lost from the books.
    for (std::size_t l = first_link; l < links->size(); ++l) (*links)[l].share /= sum;
  }
}

}  // namespace leewheel
