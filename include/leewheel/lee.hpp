#pragma once
/// The lee: what the wakes of the riders ahead, and the pressure of those close behind, make of a rider's drag.
/// The form, its coefficients and what it meets and misses are told in docs/model.md.

#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/field.hpp"

namespace leewheel {

inline constexpr double bicycle_length_m = 1.70;  ///< wheel gap = distance of centres - this

/// Riders from the first on the road to the last; all spans of one length.
struct LeeInput {
  std::span<const double> distance_m;            ///< falling or equal
  std::span<const double> lateral_m;             ///< across the road, > 0 left
  std::span<const double> drag_area_m2;          ///< alone
  std::span<const double> apparent_along_mps;    ///< air against the rider, > 0 slows
  std::span<const double> apparent_cross_mps;    ///< air towards the left
  std::span<const double> turbulence_intensity;  ///< of the outdoor wind, 0 in a tunnel
};

/// One rider's share in the shelter of another.
struct LeeLink {
  std::uint32_t giver, receiver;  ///< positions in LeeInput
  double share;                   ///< of the receiver's saving 1 - factor; the shares of one receiver sum to 1
};

struct LeeOutput {
  std::span<double> factor;       ///< drag over drag alone, in (0, 1.1]
  std::span<double> side_factor;  ///< side force over side force alone
};

/// Coefficients of the lee; meaning and source of each in `lee_fields()`.
struct LeeSettings {
  double obstruction = 1.64;
  double length_m = 33.7;
  double half_width_m = 0.88;
  double line_depth = 0.314;
  double crowd_depth = 0.60;
  double closing = 0.322;
  double closing_ahead_m = 10.0;
  double closing_behind_m = 6.0;
  double closing_half_width_m = 3.0;
  double push = 0.017;
  double push_reach_m = 3.4;
  double crowd_push = 0.60;
  double abreast_cost = 0.13;
  double abreast_half_width_m = 2.0;
  double halving_turbulence = 0.05;
  double least_factor = 0.03;
  double calm_turbulence = 0.03;  ///< read by `wake_turbulence`, not by `Lee`
  double lee_scale = 1.0;
};
std::span<const NumberField<LeeSettings>> lee_fields();

/// Turbulence a wake meets: gusts of the outdoor wind as a share of the air the rider meets, for that is what mixes a wake;
/// never below a calm day's. `wind2` and `met2` are the squared speeds (m2/s2) of the wind and of the air met.
inline double wake_turbulence(const LeeSettings& lee, double turbulence_intensity, double wind2, double met2) {
  constexpr double least_met2 = 0.25;
  const double share = std::sqrt(wind2 / (met2 > least_met2 ? met2 : least_met2));
  const double turbulence = turbulence_intensity * share;
  return turbulence > lee.calm_turbulence ? turbulence : lee.calm_turbulence;
}

/// Factors of all riders. With q = CdA / 0.23 m2, and for each other rider j the distance s down j's apparent wind, the
/// offset y from that axis and the gap g = |s| less a bicycle's length along the wind:
///   ahead   P *= 1 + x0 q_j sqrt(q_j / q_i) r (1 - g (1 + I/I0)/L)^3 (1 - y2/R2)^3,   W += b0 cbrt(q_j) r (1 - g/Lb)^3 (1 - y2/Rb2)^3
///   behind  H += h0 q_j r (1 - g/(Lh sqrt(q_j)))^3 (1 - y2/R2)^3,                     E as W with Le
///   abreast K += c0 q_j (1 - (s/0.6 len)^2)^2 (1 - y2/Rc2)^3
///   deficit d = (1 - 1/P)(C1 + C2 c(W)),  c(w) = (w2/(1 + w2))^2
///   factor  F = max(F_min, (1 - d)^2 (1 + K/(1 + 10 K))(1 - H2 c(E)) - H/q_i),  side force (1 - d)^3
/// The sums know no order, so identical riders may be swapped; every kernel is exactly zero beyond its reach.
/// Cost grows with the riders within reach (about 12 m ahead in turbulent air, 8 m behind), not with the field.
class Lee {
 public:
  explicit Lee(const LeeSettings& settings) : settings_(settings) {}

  /// `links`, if given, receives who shelters whom. Allocates nothing once its buffers have grown.
  void evaluate(const LeeInput& in, const LeeOutput& out, std::vector<LeeLink>* links = nullptr);
  const LeeSettings& settings() const { return settings_; }

 private:
  /// What one rider does to the others; filled once an evaluation.
  struct Source {
    double x_m, y_m, downwind_x, downwind_y, length_m, per_length;
    double obstruction, closing, push, abreast, per_push_m, per_reach_m;
    double area_m2 = -1.0, q, root_q, cube_root_q;
  };
  void fill_sources(const LeeInput& in);
  static void share_out(std::vector<LeeLink>& found, double open, double behind, double line, double push,
                        std::vector<LeeLink>& links);
  LeeSettings settings_;
  std::vector<Source> sources_;
  std::array<std::vector<LeeLink>, 4> found_;  ///< links of the receivers at hand
  double reach_behind_m_ = 0.0;                ///< of any source, along the road, towards riders behind it ...
  double reach_ahead_m_ = 0.0;                 ///< ... and ahead of it
};

}  // namespace leewheel
