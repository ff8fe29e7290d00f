#include "plan/pacing_demand.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "leewheel/motion.hpp"
#include "plan/pacing_ride.hpp"

namespace leewheel {

namespace {

constexpr double block_m = 25.0;
constexpr double slope_window_m = 100.0;  // a slope shorter than this is ridden over by momentum (assumed)
constexpr double falling_grade = -0.01;   // the road falls (assumed)
constexpr double least_run_s = 12.0;      // a shorter rise or fall is no reason to change power (assumed)

double grade_about(const Road& road, double at_m) {
  const double from_m = std::max(0.0, at_m - 0.5 * slope_window_m);
  const double to_m = std::min(road.length_m(), at_m + 0.5 * slope_window_m);
  return (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m);
}

RoadLoad load_of(const Scenario& solo) {
  const RiderSettings& rider = solo.riders[0];
  RoadLoad load;
  load.mass_kg = rider.total_mass_kg();
  load.drag_area_m2 = rider.drag_area_hoods_m2;
  load.wheel_drag_area_m2 = rider.wheel_drag_area_m2;
  load.efficiency = rider.drivetrain_efficiency;
  load.density_kgpm3 = air_density_kgpm3(solo.air);
  load.gravity_mps2 = solo.gravity_mps2;
  return load;
}

double time_s(const Demand& d, std::size_t from, std::size_t to) { return d.passed_s[to] - d.passed_s[from]; }

/// Rises and falls that are over soon go with what is about them, the shortest first.
void join_short_runs(Demand& d) {
  for (;;) {
    double shortest_s = least_run_s;
    std::size_t from = 0, to = 0;
    for (std::size_t begin = 0, end = 0; begin < d.blocks(); begin = end) {
      for (end = begin + 1; end < d.blocks() && d.falls[end] == d.falls[begin];) ++end;
      if (begin == 0 && end == d.blocks()) return;
      if (time_s(d, begin, end) < shortest_s) shortest_s = time_s(d, begin, end), from = begin, to = end;
    }
    if (to == 0) return;
    for (std::size_t k = from; k < to; ++k) d.falls[k] = !d.falls[k];
  }
}

/// Sums up to each end, of what rises and of what falls: weights, weighted values and their squares.
struct Sums {
  std::array<double, 3> of[2]{};
};

std::vector<Sums> sums_of(const Demand& d) {
  std::vector<Sums> sums(d.blocks() + 1);
  for (std::size_t k = 0; k < d.blocks(); ++k) {
    sums[k + 1] = sums[k];
    const double weight_s = time_s(d, k, k + 1), y = d.log_mps[k];
    std::array<double, 3>& sum = sums[k + 1].of[d.falls[k] ? 1 : 0];
    sum[0] += weight_s, sum[1] += weight_s * y, sum[2] += weight_s * y * y;
  }
  return sums;
}

double spread(const Sums& from, const Sums& to) {
  double total = 0.0;
  for (int c = 0; c < 2; ++c) {
    const double weight = to.of[c][0] - from.of[c][0], sum = to.of[c][1] - from.of[c][1];
    if (weight > 0.0) total += std::max(0.0, to.of[c][2] - from.of[c][2] - sum * sum / weight);
  }
  return total;
}

}  // namespace

Demand demand_of(const Scenario& solo, double power_W) {
  Demand d;
  const double length_m = solo.road.length_m();
  for (double x = 0.0; x < length_m - 0.5 * block_m; x += block_m) d.ends_m.push_back(x);
  d.ends_m.push_back(length_m);
  d.passed_s = ride_timed(solo, d.ends_m, std::vector<double>(d.ends_m.size() - 1, power_W)).passed_s;
  const Wind wind(solo.wind, solo.road);
  RoadLoad load = load_of(solo);
  for (std::size_t k = 0; k + 1 < d.ends_m.size(); ++k) {
    const double at_m = 0.5 * (d.ends_m[k] + d.ends_m[k + 1]);
    load.grade = grade_about(solo.road, at_m);
    load.rolling = solo.road.rolling(at_m) * solo.riders[0].rolling_multiplier;
    const auto air = wind.at(at_m, d.passed_s[k]);
    load.wind_along_mps = air.along_mps;
    load.wind_cross_mps = air.cross_mps;
    d.log_mps.push_back(std::log(std::clamp(steady_speed_mps(load, power_W), 0.5, solo.tactics.descent_speed_mps)));
    d.falls.push_back(load.grade < falling_grade);
  }
  join_short_runs(d);
  return d;
}

std::vector<std::size_t> runs_of(const Demand& d, double least_s, double worth) {
  const std::vector<Sums> sums = sums_of(d);
  const std::size_t last = d.blocks();
  const double price = worth * d.passed_s.back();
  std::vector<double> cost(last + 1, std::numeric_limits<double>::infinity());
  std::vector<std::size_t> before(last + 1, 0);
  cost[0] = 0.0;
  for (std::size_t to = 1; to <= last; ++to)
    for (std::size_t from = 0; from < to; ++from) {
      if (from > 0 && time_s(d, from, to) < least_s) break;
      if (from == 0 && to < last && time_s(d, 0, to) < least_s) break;
      const double through = cost[from] + price + spread(sums[from], sums[to]);
      if (through < cost[to]) cost[to] = through, before[to] = from;
    }
  std::vector<std::size_t> ends{last};
  while (ends.back() > 0) ends.push_back(before[ends.back()]);
  std::reverse(ends.begin(), ends.end());
  return ends;
}

}  // namespace leewheel
