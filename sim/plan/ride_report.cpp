#include "leewheel/ride_report.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "plan/group_description.hpp"
#include "plan/group_turns.hpp"
#include "plan/ride_report_observers.hpp"

namespace leewheel {

namespace {

/// Steepest and lowest mean grade over 100 m.
std::pair<double, double> grades_within(const Road& road, const RoadStretch& where) {
  const double over_m = std::min(100.0, where.to_m - where.from_m);
  double steepest = -1.0, lowest = 1.0;
  for (double at_m = where.from_m; at_m + over_m <= where.to_m + 1e-6; at_m += 10.0) {
    const double grade = (road.elevation_m(at_m + over_m) - road.elevation_m(at_m)) / over_m;
    steepest = std::max(steepest, grade);
    lowest = std::min(lowest, grade);
  }
  return {steepest, lowest};
}

double ascent_m(const Road& road, const RoadStretch& where) {
  double ascent = 0.0;
  for (double at_m = where.from_m; at_m < where.to_m; at_m += 5.0)
    ascent += std::max(0.0, road.elevation_m(std::min(where.to_m, at_m + 5.0)) - road.elevation_m(at_m));
  return ascent;
}

/// A stretch that nobody rode to its end has no figures of riders.
StretchReport report_of(const Road& road, const RoadStretch& where, const RideFacts& facts, std::size_t k) {
  StretchReport s{k < facts.stretches.size() ? facts.stretches[k] : StretchOfRide{where}};
  s.ascent_m = ascent_m(road, where);
  s.grade = (road.elevation_m(where.to_m) - road.elevation_m(where.from_m)) / (where.to_m - where.from_m);
  std::tie(s.steepest_grade, s.lowest_grade) = grades_within(road, where);
  return s;
}

}  // namespace

RideReport report_ride(const Scenario& scenario, const std::function<bool()>& go_on) {
  LeaderTally leaders(scenario.road);
  TurnsTally turns(scenario);
  FirstPlaces first(scenario.road.length_m());
  Ride ride(scenario);
  RideReport report;
  report.ride = watch(ride, {1.0, [&](const Ride&) { return !go_on || go_on(); }}, leaders, turns, first);
  report.first = first.found();
  report.groups_at_start = groups_at_start(scenario);
  report.riders.resize(scenario.riders.size());
  const RideFacts facts = facts_of(scenario, report.ride);
  for (std::size_t i = 0; i < report.riders.size(); ++i) report.riders[i].facts = facts.riders[i];
  for (const RoadStretch& where : stretches_of(scenario.road)) {
    const std::size_t k = report.stretches.size();
    StretchReport s = report_of(scenario.road, where, facts, k);
    if (const LeaderTally::Sums& front = leaders.on(k); front.time_s > 0.0)
      s.front_speed_mps = front.way_m / front.time_s, s.front_power_W = front.work_J / front.time_s;
    s.groups = turns.on(k, !s.wheels_advised());
    report.stretches.push_back(std::move(s));
  }
  return report;
}

}  // namespace leewheel
