#pragma once
/// The law by which a rider holds a wheel.

#include <algorithm>

#include "leewheel/tactics.hpp"

namespace leewheel {

/// Wished acceleration (m/s2): a = k1 (s - s0 - T v) + k2 (v_wheel - v) + kg (v_front - v), s0 the gap the rider keeps; a gap
/// beyond reach pulls no harder than one at reach. From linearising the law: without the term of the first rider (kg = 0) a
/// disturbance does not grow down the line if and only if k1 T^2/2 + k2 T >= 1, which asks for longer gaps than riders keep.
inline double gap_law_mps2(const TacticsSettings& t, double gap_m, double own_gap_m, double speed_mps, double wheel_mps,
                           double front_mps) {
  return t.gap_stiffness_1ps2 * (std::min(gap_m, t.wheel_reach_m) - own_gap_m - t.headway_s * speed_mps) +
         t.speed_damping_1ps * (wheel_mps - speed_mps) + t.front_damping_1ps * (front_mps - speed_mps);
}

}  // namespace leewheel
