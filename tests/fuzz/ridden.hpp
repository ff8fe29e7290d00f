#pragma once
/// A ride of 60 seconds and what must hold of any.

#include <vector>

#include "leewheel/ride.hpp"

namespace fuzz {

/// Every second of a ride, and its result.
struct Ridden {
  std::vector<leewheel::RideSample> samples;
  leewheel::RideResult result;
};

/// Rides and looks at every step: numbers, W' in bounds, nobody back or through a wheel, energy books. Calls `wrong`.
Ridden ride_watched(const leewheel::Scenario& scenario, double time_s);

/// The same ride, not looked at between seconds.
Ridden ride_unwatched(const leewheel::Scenario& scenario, double time_s);

/// Whether everyone has finished, waits, moves, or stands for a reason that an event tells. Calls `wrong`.
void check_everyone_told(const leewheel::Scenario& scenario, const Ridden& ridden);

/// Whether `other`, whose rider k is rider `from[k]` here, is the same ride to the last bit. Calls `wrong`.
void check_same(const Ridden& ridden, const Ridden& other, const std::vector<std::size_t>& from);

}  // namespace fuzz
