#pragma once
/// The power that a climb takes, from its length, grade and time.

#include <optional>

#include "leewheel/rider.hpp"

namespace leewheel {

struct RiddenClimb {
  double length_m;  ///< along the road
  double grade;     ///< rise over run, the same all the way
  double time_s;
};

/// The steady power (W) at which this rider needs that time, found by riding the climb with the model: alone, in still standard
/// air at sea level, on worn asphalt, from a rolling start at the mean speed. The rider's own strength is not looked at.
/// Nothing when no power of a person, 20 to 900 W, does it.
std::optional<double> power_for_climb_W(const RiderSettings& rider, const RiddenClimb& climb);

}  // namespace leewheel
