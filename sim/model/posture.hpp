#pragma once
/// When a rider sits up and when the hands go to the drops.

#include <algorithm>

#include "leewheel/rider.hpp"

namespace leewheel {

inline constexpr double upright_below_mps = 7.0,
                        upright_blend_mps = 2.0;                       // sits up to climb below 7 m/s, fully at 5 (assumed)
inline constexpr double drops_above_mps = 9.0, drops_blend_mps = 2.0;  // goes to the drops from 9 m/s, fully at 11 (assumed)

/// Drag area in the posture taken, for one rider; the step takes four at once by the same limits (advance_wide.cpp).
/// @param climbing  0 on the flat, 1 where a rider sits up to climb
inline double posture_area_m2(const RiderSettings& rider, double climbing, double speed_mps) {
  const auto share = [](double x) { return std::clamp(x, 0.0, 1.0); };
  const double upright = climbing * share((upright_below_mps - speed_mps) / upright_blend_mps);
  const double drops = (1.0 - climbing) * share((speed_mps - drops_above_mps) / drops_blend_mps);
  return rider.drag_area_hoods_m2 + upright * (rider.drag_area_upright_m2 - rider.drag_area_hoods_m2) +
         drops * (rider.drag_area_drops_m2 - rider.drag_area_hoods_m2);
}

}  // namespace leewheel
