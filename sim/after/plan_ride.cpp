#include "after/plan_ride.hpp"

#include <algorithm>
#include <cmath>

#include "ride/watch.hpp"

namespace leewheel {

namespace {

constexpr double saves_from = 0.03;  // a smaller saving is none (assumed)

std::vector<Stand> stands_of(const PlannedRider& rider) {
  RiddenWay way;
  way.distance_m = rider.distance_m, way.speed_mps = rider.speed_mps;
  return stands(way);
}

void sum_up(PlannedRider& rider, double length_m) {
  rider.stands = stands_of(rider);
  rider.profile = profile_of({rider.distance_m, rider.speed_mps, rider.power_W, rider.drag_factor, rider.stands}, length_m);
  double saved = 0.0, cells = 0.0;
  for (const double factor : rider.profile.drag_factor) {
    rider.saved_share.push_back(1.0 - factor > saves_from ? 1.0 - factor : 0.0);
    if (rider.saved_share.back() > 0.0) saved += rider.saved_share.back(), ++cells;
  }
  if (cells > 0.0) rider.usual_saved_share = saved / cells;
}

void find_company(PlannedRide& plan) {
  for (PlannedRider& rider : plan.riders) {
    rider.in_company.assign(rider.saved_share.size(), false);
    for (std::size_t k = 0; k < rider.distance_m.size(); ++k)
      for (const PlannedRider& other : plan.riders)
        if (&other != &rider && k < other.distance_m.size() && std::abs(other.distance_m[k] - rider.distance_m[k]) < leave_m)
          rider.in_company[std::min(static_cast<std::size_t>(rider.distance_m[k] / cell_length_m),
                                    rider.in_company.size() - 1)] = true;
  }
}

}  // namespace

PlannedRide ride_plan(const Scenario& scenario) {
  PlannedRide plan;
  plan.riders.resize(scenario.riders.size());
  Ride ride(scenario);
  WatchSettings every_second;
  plan.result = watch(ride, every_second, [&](const RideView& view) {
    for (std::size_t r = 0; r < plan.riders.size(); ++r) {
      PlannedRider& rider = plan.riders[r];
      if (!view.on_road(r) && !rider.distance_m.empty() && rider.distance_m.back() >= scenario.road.length_m()) continue;
      rider.distance_m.push_back(view.now.distance_m[r]);
      rider.speed_mps.push_back(view.now.speed_mps[r]);
      rider.power_W.push_back(view.now.power_W[r]);
      rider.drag_factor.push_back(view.now.drag_factor[r]);
    }
  });
  for (PlannedRider& rider : plan.riders) sum_up(rider, scenario.road.length_m());
  find_company(plan);
  return plan;
}

}  // namespace leewheel
