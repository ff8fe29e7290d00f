#include "leewheel/ride_report.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

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

StretchReport facts_of(const Road& road, const RoadStretch& where) {
  StretchReport s{where};
  s.ascent_m = ascent_m(road, where);
  s.grade = (road.elevation_m(where.to_m) - road.elevation_m(where.from_m)) / (where.to_m - where.from_m);
  std::tie(s.steepest_grade, s.lowest_grade) = grades_within(road, where);
  return s;
}

void add_lines(StretchReport& s, std::size_t stretch, const std::vector<RiderReport>& riders) {
  double riding_s = 0.0, line_s = 0.0, saved_J = 0.0;
  for (const RiderReport& rider : riders) {
    const RiddenStretch& r = rider.stretches[stretch];
    riding_s += r.riding_s;
    line_s += r.front_s + r.follow_s;
    saved_J += r.alone_J - r.pedal_J;
  }
  if (riding_s <= 0.0) return;
  s.line_share = line_s / riding_s;
  s.saved_W = saved_J / riding_s;
}

}  // namespace

RideReport report_ride(const Scenario& scenario, const std::function<bool()>& go_on) {
  RiderTally riders(scenario);
  LeaderTally leaders(scenario.road);
  GroupsSeen groups(scenario.road);
  FirstPlaces first(scenario.road.length_m());
  Ride ride(scenario);
  RideReport report;
  report.ride = watch(ride, {1.0, [&](const Ride&) { return !go_on || go_on(); }}, riders, leaders, groups, first);
  report.first = first.found();
  report.riders.resize(scenario.riders.size());
  for (std::size_t i = 0; i < report.riders.size(); ++i) report.riders[i].stretches = riders.of(i);
  for (const RoadStretch& where : stretches_of(scenario.road)) {
    const std::size_t k = report.stretches.size();
    StretchReport s = facts_of(scenario.road, where);
    add_lines(s, k, report.riders);
    if (const LeaderTally::Sums& front = leaders.on(k); front.time_s > 0.0)
      s.front_speed_mps = front.way_m / front.time_s, s.front_power_W = front.work_J / front.time_s;
    s.groups = groups.on(k);
    report.stretches.push_back(std::move(s));
  }
  return report;
}

}  // namespace leewheel
