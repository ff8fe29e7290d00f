#pragma once
/// The plan, ridden once: every rider second by second.

#include <vector>

#include "after/pace_profile.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

struct PlannedRider {
  std::vector<double> distance_m, speed_mps, power_W;  ///< by whole second
  std::vector<float> drag_factor;
  std::vector<Stand> stands;
  PaceProfile profile;
  std::vector<double> saved_share;  ///< by cell: 1 - drag factor where company saves something, else 0
  std::vector<bool> in_company;     ///< by cell: another rider is near, ahead or behind
  double usual_saved_share = 0.25;  ///< where company saves something, mean
};

struct PlannedRide {
  RideResult result;
  std::vector<PlannedRider> riders;  ///< of the scenario
};

PlannedRide ride_plan(const Scenario& scenario);

}  // namespace leewheel
