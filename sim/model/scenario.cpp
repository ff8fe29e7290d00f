#include "leewheel/scenario.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace leewheel {

std::span<const NumberField<RideSettings>> ride_fields() {
  using R = RideSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<R> fields[] = {
      {"step_s", &R::step_s, 0.02, 1.0, "time step (s)", ours},
      {"wake_interval_s", &R::wake_interval_s, 0.02, 2.0,
       "interval at which drag factor, wind, air density and rolling resistance are updated (s)", ours},
      {"record_interval_s", &R::record_interval_s, 0.1, 600.0, "interval between samples of the trace (s)", ours},
      {"time_limit_s", &R::time_limit_s, 1.0, 7 * 86400.0, "longest ride (s)", ours},
      {"start_speed_mps", &R::start_speed_mps, 0.0, 20.0, "rolling start (m/s)", ours},
      {"start_gap_m", &R::start_gap_m, 0.1, 50.0, "wheel gap at the start (m)", ours},
  };
  return fields;
}

bool closed_to_traffic(const Scenario& scenario, double distance_m) {
  constexpr double back_m = 150.0;  // (assumed)
  const Road& road = scenario.road;
  return scenario.ride.closed_road || (road.closed(distance_m) && road.closed(distance_m + back_m));
}

Lane lane_at(const Scenario& scenario, double distance_m) {
  constexpr double edge_m = 0.4, middle_m = 0.2;  // kept from the road's edge and from oncoming traffic (assumed)
  const double outer_m = std::max(0.2, 0.5 * scenario.road.width_m(distance_m) - edge_m);
  if (closed_to_traffic(scenario, distance_m)) return {-outer_m, outer_m};
  return scenario.ride.keep_right ? Lane{-outer_m, -middle_m} : Lane{middle_m, outer_m};
}

bool room_for_two(const Scenario& scenario, double distance_m) {
  const Lane lane = lane_at(scenario, distance_m);
  const bool allowed = closed_to_traffic(scenario, distance_m) || scenario.road.abreast(distance_m) > 1;
  return allowed && lane.high_m - lane.low_m >= scenario.tactics.swing_off_m;
}

Scenario alone(const Scenario& scenario, std::size_t rider) {
  Scenario solo = scenario;
  solo.riders = {scenario.riders[rider]};
  solo.rests_on.clear();
  solo.plans = {rider < scenario.plans.size() ? scenario.plans[rider] : std::vector<PlanStep>{}};
  solo.instructions.clear();
  solo.ride.start_order.clear();
  solo.ride.regroup_at_m.clear();
  solo.ride.stops.clear();
  return solo;
}

std::vector<PlannedStop> waiting_places(const RideSettings& ride) {
  constexpr double same_place_m = 50.0;  // (assumed)
  std::vector<PlannedStop> places = ride.stops;
  for (const double at_m : ride.regroup_at_m)
    if (std::none_of(ride.stops.begin(), ride.stops.end(),
                     [&](const PlannedStop& stop) { return std::abs(stop.at_m - at_m) < same_place_m; }))
      places.push_back({at_m, 0.0, ""});
  std::stable_sort(places.begin(), places.end(), [](const auto& a, const auto& b) { return a.at_m < b.at_m; });
  return places;
}

Scenario with_named_waits(Scenario scenario) {
  for (const PlannedStop& place : waiting_places(scenario.ride)) {
    const bool on_the_way = place.at_m > 0.0 && place.at_m < scenario.road.length_m();
    if (!on_the_way || landmark_near(scenario.road, place.at_m)) continue;
    RoadProfile profile = scenario.road.profile();
    const long tenths = std::lround(place.at_m / 100.0);
    profile.landmarks.push_back({"km " + std::to_string(tenths / 10) + "." + std::to_string(tenths % 10), place.at_m});
    std::stable_sort(profile.landmarks.begin(), profile.landmarks.end(),
                     [](const Landmark& a, const Landmark& b) { return a.distance_m < b.distance_m; });
    scenario.road = Road(std::move(profile));
  }
  return scenario;
}

}  // namespace leewheel
