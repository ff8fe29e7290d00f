#pragma once
/// Ramps where a rider's lowest gear is too high to sit and pedal.

#include <vector>

#include "leewheel/scenario.hpp"

namespace leewheel {

/// Turns of the cranks a minute in the lowest gear below which a rider stands up, and below which the rider walks (assumed; on
/// long climbs riders choose 60 to 90, common practice, no source).
inline constexpr double stands_below_rpm = 50.0, walks_below_rpm = 30.0;

/// Power (W) the rider means to ride at a place: by the plan there, else by the usual effort.
double planned_power_W(const Scenario& scenario, std::size_t rider, double at_m);

/// A ramp where the cadence in the lowest gear falls below `stands_below_rpm`, at the power planned there, alone, in still air.
struct LowGearRamp {
  double from_m, to_m;
  double grade;                            ///< the steepest, over 20 m
  double power_W, speed_mps, cadence_rpm;  ///< there
  bool walks() const { return cadence_rpm < walks_below_rpm; }
};

/// In the order of the road; ramps less than 50 m apart are one. It changes no ride: a rider of the model pedals on.
std::vector<LowGearRamp> low_gear_ramps(const Scenario& scenario, std::size_t rider);

}  // namespace leewheel
