#pragma once
/// The law by which a rider holds a wheel.

#include <algorithm>

#include "leewheel/tactics.hpp"

namespace leewheel {

/// What a rider sees of the wheel ahead and of the first rider.
struct WheelSeen {
  double gap_m, own_gap_m, wheel_mps, wheel_mps2, front_mps;
};

/// Wished acceleration (m/s2): a = a_wheel + k1 (s - s0 - T v) + k2 (v_wheel - v) + kg (v_front - v), s0 the gap the rider
/// keeps; a gap beyond reach pulls no harder than one at reach. Taking over the wheel's own acceleration keeps the gap where a
/// line slows into a rise. From linearising the law, T = 0: a line that follows its first rider keeps its shape, and no
/// disturbance of the first grows down the line. Room is used before the brakes are: of the wheel's own slowing, the less is taken
/// over the more room there is. On a road that rolls the gaps so open on the way down and close at the foot of the next rise.
inline double gap_law_mps2(const TacticsSettings& t, const WheelSeen& seen, double speed_mps) {
  const double room_m = seen.gap_m - seen.own_gap_m - t.headway_s * speed_mps;
  const double over_m = std::min(room_m, t.wheel_reach_m - seen.own_gap_m - t.headway_s * speed_mps);
  const double used = std::clamp(room_m / t.room_used_m, 0.0, 1.0);
  const double law_mps2 = std::max(seen.wheel_mps2, (1.0 - used) * seen.wheel_mps2) + t.gap_stiffness_1ps2 * over_m +
                          t.speed_damping_1ps * (seen.wheel_mps - speed_mps) +
                          t.front_damping_1ps * (seen.front_mps - speed_mps);
  if (seen.gap_m < t.caught_share * t.wheel_reach_m) return law_mps2;
  // A wheel that is still far costs no speed: nobody slows harder than to meet it at its own speed.
  const double faster_mps = std::max(0.0, speed_mps - seen.wheel_mps);
  return std::max(law_mps2, -0.5 * faster_mps * faster_mps / room_m);
}

}  // namespace leewheel
