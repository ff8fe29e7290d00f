#include "leewheel/from_here.hpp"

#include <algorithm>
#include <cassert>
#include <chrono>
#include <cmath>

namespace leewheel {

namespace {

/// The road without its first grid points; landmarks up to `passed_m` on the whole road are gone.
Road cut(const Road& road, std::size_t points, double passed_m) {
  RoadProfile p = road.profile();
  const auto shorten = [&](auto& values) {
    if (!values.empty()) values.erase(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(points));
  };
  shorten(p.elevation_m), shorten(p.heading_rad), shorten(p.rolling), shorten(p.width_m);
  shorten(p.exposure_left), shorten(p.exposure_right), shorten(p.abreast), shorten(p.closed);
  std::erase_if(p.landmarks, [&](const Landmark& mark) { return mark.distance_m <= passed_m; });
  for (Landmark& mark : p.landmarks) mark.distance_m -= static_cast<double>(points) * p.spacing_m;
  p.named.clear();  // a name stands where its stretch begins, and that may be behind
  return Road(std::move(p));
}

void move_land(WindSettings& wind, double cut_m) {
  for (Windbreak& row : wind.windbreaks) row.from_m -= cut_m, row.to_m -= cut_m;
  for (RoadHill& hill : wind.hills) hill.crest_m -= cut_m, hill.from_m -= cut_m, hill.to_m -= cut_m;
  std::erase_if(wind.windbreaks, [](const Windbreak& row) { return row.to_m <= 0.0; });
}

/// Stations stand where they are: their places count from the start of the road.
void move_stations(WindSettings& wind, const Road& road, double cut_m) {
  double east_m = 0.0, north_m = 0.0;
  for (double at_m = 0.0; at_m < cut_m; at_m += road.spacing_m()) {
    const double heading_rad = road.heading_rad(at_m + 0.5 * road.spacing_m());
    east_m += road.spacing_m() * std::sin(heading_rad), north_m += road.spacing_m() * std::cos(heading_rad);
  }
  for (WindStation& station : wind.stations) station.east_m -= east_m, station.north_m -= north_m;
}

/// A plan's steps from the cut on; the step that holds there begins the rest.
std::vector<PlanStep> rest_of(const std::vector<PlanStep>& plan, double cut_m) {
  std::vector<PlanStep> rest;
  for (const PlanStep& step : plan) {
    if (step.from_m <= cut_m) rest.clear();
    rest.push_back({std::max(0.0, step.from_m - cut_m), step.effort});
  }
  return rest;
}

}  // namespace

Scenario starting_later(Scenario s, double by_s) {
  const auto sooner = [&](std::vector<ForecastPoint>& forecast) {
    for (ForecastPoint& at : forecast) at.time_s -= by_s;
  };
  sooner(s.wind.forecast);
  for (WindStation& station : s.wind.stations) sooner(station.forecast);
  if (s.start) *s.start += std::chrono::seconds(std::lround(by_s));
  return s;
}

FromHere from_here(const Scenario& scenario, const RideNow& now) {
  assert(!now.riders.empty());
  double last_m = scenario.road.length_m(), first_m = 0.0;
  for (const RiderNow& rider : now.riders) last_m = std::min(last_m, rider.at_m), first_m = std::max(first_m, rider.at_m);
  const double spacing_m = scenario.road.spacing_m();
  const auto points = static_cast<std::size_t>(std::floor(last_m / spacing_m));
  const double cut_m = static_cast<double>(points) * spacing_m;
  FromHere rest{scenario, cut_m, first_m};
  Scenario& s = rest.scenario;
  s.road = cut(scenario.road, points, first_m);
  move_land(s.wind, cut_m);
  move_stations(s.wind, scenario.road, cut_m);
  s = starting_later(std::move(s), now.time_s);
  std::erase_if(s.ride.regroup_at_m, [&](double at_m) { return at_m <= first_m; });
  for (double& at_m : s.ride.regroup_at_m) at_m -= cut_m;
  std::erase_if(s.ride.stops, [&](const PlannedStop& stop) { return stop.at_m <= first_m; });
  for (PlannedStop& stop : s.ride.stops) stop.at_m -= cut_m;
  s.instructions.clear();
  s.riders.clear(), s.plans.clear(), s.rests_on.clear(), s.ride.on_the_way.clear();
  for (const RiderNow& rider : now.riders)
    for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
      if (scenario.riders[i].name != rider.rider) continue;
      s.riders.push_back(scenario.riders[i]);
      if (rider.cracked) s.riders.back().critical_power_W *= cracked_share;
      s.plans.push_back(i < scenario.plans.size() ? rest_of(scenario.plans[i], cut_m) : std::vector<PlanStep>{});
      if (i < scenario.rests_on.size()) s.rests_on.push_back(scenario.rests_on[i]);
      s.ride.on_the_way.push_back({rider.rider, rider.at_m - cut_m, rider.wbal_share});
    }
  assert(s.riders.size() == now.riders.size());
  std::erase_if(s.ride.start_order, [&](const std::string& name) {
    return std::none_of(s.riders.begin(), s.riders.end(), [&](const RiderSettings& r) { return r.name == name; });
  });
  return rest;
}

Lineup on_whole_road(Lineup lineup, const FromHere& rest, const Road& road) {
  const auto move = [&](PlanResult& result) {
    for (double& at_m : result.plan.regroup_at_m) at_m += rest.cut_m;
    for (RegroupWait& wait : result.waits) wait.at_m += rest.cut_m;
    for (LineupStretch& s : result.stretches) s.where.from_m += rest.cut_m, s.where.to_m += rest.cut_m;
    if (result.stretches.empty()) return;
    LineupStretch& here = result.stretches.front();
    here.where.from = "here";
    here.where.from_m = rest.first_m;
    here.grade = (road.elevation_m(here.where.to_m) - road.elevation_m(rest.first_m)) / (here.where.to_m - rest.first_m);
  };
  for (PlanResult& result : lineup.table) move(result);
  for (PlanResult& result : lineup.left_out) move(result);
  move(lineup.clubs);
  return lineup;
}

Scenario on_whole_road(Scenario planned, const FromHere& rest, const Road& road) {
  planned.road = road;
  for (double& at_m : planned.ride.regroup_at_m) at_m += rest.cut_m;
  for (PlannedStop& stop : planned.ride.stops) stop.at_m += rest.cut_m;
  for (std::vector<PlanStep>& plan : planned.plans)
    for (PlanStep& step : plan) step.from_m += rest.cut_m;
  return planned;
}

}  // namespace leewheel
