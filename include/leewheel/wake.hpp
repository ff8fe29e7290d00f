#pragma once
/// The wake laws: a rider's drag factor from the riders ahead, beside and close behind. A law is a value: its coefficients,
/// `factors` and `reach_m`, and a table of its fields. Form, fit and misses of the laws: docs/model.md. How to add one:
/// DEVELOPERS.md, "A wake law".

#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "leewheel/field.hpp"

namespace leewheel {

inline constexpr double bicycle_length_m = 1.70;

/// From the rear of the rider ahead to the front of the one behind (m), both places along the road; < 0 while they overlap.
inline double wheel_gap_m(double ahead_m, double behind_m) { return ahead_m - behind_m - bicycle_length_m; }

/// Less than this across the road between two riders counts as wheels that overlap (assumed).
inline constexpr double overlap_beside_m = 0.6;
/// Less than this behind, a rider is alongside and no wheel overlaps (assumed).
inline constexpr double alongside_m = 0.5;

/// Whether a front wheel stands beside the rear of a rider `ahead_m` further along the road: a hazard.
inline bool wheels_overlap(double ahead_m, double aside_m) {
  return ahead_m > alongside_m && ahead_m < bicycle_length_m && aside_m < overlap_beside_m;
}

/// Riders from the first on the road to the last; all spans of one length.
struct WakeInput {
  std::span<const double> distance_m;            ///< falling or equal
  std::span<const double> lateral_m;             ///< across the road, > 0 left
  std::span<const double> drag_area_m2;          ///< alone
  std::span<const double> apparent_along_mps;    ///< air speed against the rider, > 0 slows
  std::span<const double> apparent_cross_mps;    ///< air towards the left
  std::span<const double> turbulence_intensity;  ///< of the air met, by `wake_turbulence`; 0 in a tunnel
};

/// One rider's share in the saving of another.
struct WakeLink {
  std::uint32_t giver, receiver;  ///< positions in WakeInput
  double share;                   ///< of the receiver's saving 1 - factor; the shares of one receiver sum to 1
};

struct WakeOutput {
  std::span<double> factor;       ///< drag over drag alone, in (0, 1.1]
  std::span<double> side_factor;  ///< side force over side force alone
};

/// Reach of a rider's wake, along and across the road. Beyond it a law has no effect.
struct WakeReach {
  double ahead_m;   ///< to riders further up the road: distance of centres
  double behind_m;  ///< to riders behind
  double across_m;  ///< to either side
};

/// What every law has.
struct WakeBase {
  double least_factor = 0.03;
  double calm_turbulence = 0.03;  ///< read by `wake_turbulence`
  double wake_scale = 1.0;
};

/// Turbulence in a wake: gusts of the outdoor wind as a share of the rider's air speed, because that mixes a wake;
/// never below that of a calm day. `wind2` and `met2` are the squared wind speed and air speed (m2/s2).
inline double wake_turbulence(const WakeBase& law, double turbulence_intensity, double wind2, double met2) {
  constexpr double least_met2 = 0.25;
  const double share = std::sqrt(wind2 / (met2 > least_met2 ? met2 : least_met2));
  const double turbulence = turbulence_intensity * share;
  return turbulence > law.calm_turbulence ? turbulence : law.calm_turbulence;
}

/// Wakes of all riders ahead together, and the help of those close behind. With q = CdA / 0.23 m2, and for each other rider j
/// the distance s down j's apparent wind, the offset y from that axis and the gap g = |s| less a bicycle's length along the wind:
///   ahead   P *= 1 + x0 q_j sqrt(q_j / q_i) r (1 - g (1 + I/I0)/L)^3 (1 - y2/R2)^3,   W += b0 cbrt(q_j) r (1 - g/Lb)^3 (1 - y2/Rb2)^3
///   behind  H += h0 q_j r (1 - g/(Lh sqrt(q_j)))^3 (1 - y2/R2)^3,                     E as W with Le
///   abreast K += c0 q_j (1 - (s/0.6 len)^2)^2 (1 - y2/Rc2)^3
///   crowd   1/V2 = 1/W2 + R^2/N,  N the sum over pairs ahead of w_j w_k (s_j - s_k)^2: riders in one row close nothing
///   deficit d = (1 - 1/P)(C1 + C2 c(V)),  c(w) = (w2/(1 + w2))^2
///   factor  F = max(F_min, (1 - d)^2 (1 + K/(1 + 10 K))(1 - H2 c(E)) - H/q_i),  side force (1 - d)^3
/// The sums do not depend on order, so identical riders may be swapped; every kernel is exactly zero beyond its reach.
/// Cost grows with the riders within reach (about 12 m ahead in turbulent air, 8 m behind), not with the field.
struct SuperposedWakes : WakeBase {
  static constexpr std::string_view name = "superposed";
  static constexpr const char* about = "wakes of all riders ahead together, and the help of those close behind";

  double obstruction = 1.66;
  double length_m = 32.9;
  double half_width_m = 0.87;
  double line_depth = 0.316;
  double crowd_depth = 0.60;
  double closing = 0.346;
  double closing_ahead_m = 10.0;
  double closing_behind_m = 6.0;
  double closing_half_width_m = 3.0;
  double row_spread_m = 0.75;
  double push = 0.018;
  double push_reach_m = 2.7;
  double crowd_push = 0.60;
  double abreast_cost = 0.13;
  double abreast_half_width_m = 2.0;
  double halving_turbulence = 0.05;

  static std::span<const NumberField<SuperposedWakes>> fields();
  void factors(const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links) const;
  WakeReach reach_m(const WakeInput& in) const;
};

/// One wheel, and nothing but the gap to it: F = F0 + F1 g + F2 g2 for g from 0 to where F is 1, about 3 m (Olds 1998, Eur J
/// Appl Physiol 77:492; form and coefficients from memory). The source has one rider straight behind another; assumed here are
/// what it does not say:
///   aside     the saving fades as 1 - (y/R)2 with the offset y across the road, whatever the wind
///   overlap   for wheels side by side the saving eases in, 0 at centres level, whole at g = 0
///   several   only the one rider ahead who saves most counts: in a line the next wheel. To take the nearest instead would make
///             the factor jump where the nearest changes
///   side      the side force falls as the drag does
/// Wind, turbulence and sizes have no effect, a rider in front gains nothing, and the third rider's factor is the second's.
struct WheelGapWake : WakeBase {
  static constexpr std::string_view name = "wheel_gap";
  static constexpr const char* about = "one wheel ahead and the gap to it, nothing else";

  double touching_factor = 0.62;  ///< F0
  double slope_per_m = -0.0104;   ///< F1
  double curve_per_m2 = 0.0452;   ///< F2
  double shelter_half_width_m = 0.9;

  static std::span<const NumberField<WheelGapWake>> fields();
  void factors(const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links) const;
  WakeReach reach_m(const WakeInput& in) const;
  double longest_gap_m() const;  ///< where the polynomial reaches 1
};

/// The closed list of laws. A scenario that names no law uses the first.
using WakeLaw = std::variant<SuperposedWakes, WheelGapWake>;

/// Names of the laws in the order of the list.
inline constexpr auto wake_law_names = []<class... Law>(std::type_identity<std::variant<Law...>>) {
  return std::array<std::string_view, sizeof...(Law)>{Law::name...};
}(std::type_identity<WakeLaw>{});
WakeLaw wake_law(std::size_t number);  ///< with its defaults, by place in the list

const WakeBase& wake_base(const WakeLaw& law);
WakeBase& wake_base(WakeLaw& law);

/// Factors of all riders. `links`, if given, receives who tows whom. Allocates nothing once its buffers have grown.
void wake_factors(const WakeLaw& law, const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links = nullptr);

/// Reach of the furthest-reaching of these riders.
WakeReach wake_reach_m(const WakeLaw& law, const WakeInput& in);

}  // namespace leewheel
