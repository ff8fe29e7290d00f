/// Where and how long riders waited, and who was left behind.

#include <algorithm>

#include "leewheel/ride_facts.hpp"

namespace leewheel {

namespace {

std::string name_of(const Road& road, double at_m) {
  const auto mark = landmark_near(road, at_m);
  return mark ? road.landmarks()[*mark].name : std::string();
}

/// When a rider was at a place: arriving where the rider waited there, else passing its landmark.
double there_s(const Road& road, const RiderResult& rider, double at_m) {
  for (const Wait& wait : rider.waits)
    if (wait.at_m == at_m) return wait.arrive_s;
  const auto mark = landmark_near(road, at_m);
  return mark && *mark < rider.landmarks.size() ? rider.landmarks[*mark].time_s : no_value;
}

WaitOfRide::GivenUp given_up(const Scenario& scenario, const RideResult& result, const Event& event, double at_m) {
  WaitOfRide::GivenUp left{event.time_s, event.because.values[0], event.riders, {}};
  for (std::uint32_t i = 0; i < result.riders.size(); ++i) {
    const double at_s = there_s(scenario.road, result.riders[i], at_m);
    if (!(at_s <= event.time_s)) left.late.push_back({i, at_s - event.time_s});
  }
  return left;
}

}  // namespace

std::vector<WaitOfRide> waits_of(const Scenario& scenario, const RideResult& result) {
  std::vector<WaitOfRide> places;
  for (const PlannedStop& place : waiting_places(scenario.ride)) {
    WaitOfRide& here = places.emplace_back(WaitOfRide{place, name_of(scenario.road, place.at_m), {}, {}});
    for (std::uint32_t i = 0; i < result.riders.size(); ++i)
      for (const Wait& wait : result.riders[i].waits)
        if (wait.at_m == place.at_m) here.waited.push_back({i, wait.arrive_s, wait.go_on_s});
    std::stable_sort(here.waited.begin(), here.waited.end(),
                     [](const auto& a, const auto& b) { return a.arrive_s < b.arrive_s; });
    for (const Event& event : result.events) {
      if (event.kind != EventKind::leaves) continue;
      const bool from_here = std::any_of(here.waited.begin(), here.waited.end(), [&](const auto& w) {
        return w.rider == event.riders.front() && w.go_on_s == event.time_s;
      });
      if (from_here) here.given_up.push_back(given_up(scenario, result, event, place.at_m));
    }
  }
  return places;
}

}  // namespace leewheel
