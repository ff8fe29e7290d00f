/// What the kinds promise: a race spends what there is, and in a free ride nobody leaves a wheel that asks too little.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <deque>
#include <numeric>

#include "company/rides.hpp"

using namespace leewheel;

namespace {

constexpr std::size_t memory_s = 30;  ///< over which a wheel's price is judged
constexpr std::size_t later_s = 20;   ///< after which who left a wheel has gone past or fallen behind
constexpr double behind_m = 5.0;      ///< further behind everyone who was ahead: come off

/// A rider who left a wheel.
struct Left {
  std::size_t rider;
  double time_s, asked_W, plan_W, gap_m;
  std::vector<std::size_t> ahead;  ///< riders of the group who were ahead

  /// Behind the nearest of them; < 0 ahead of one.
  double nearest_m(const RideSample& now) const {
    double nearest_m = 1e9;
    for (const std::size_t j : ahead)
      nearest_m = std::min(nearest_m, static_cast<double>(now.distance_m[j] - now.distance_m[rider]));
    return nearest_m;
  }
};

std::vector<std::size_t> ahead_in_group(const RideSample& now, std::size_t rider) {
  std::vector<std::size_t> ahead;
  for (std::size_t j = 0; j < now.distance_m.size(); ++j)
    if (now.group_id[j] == now.group_id[rider] && now.distance_m[j] > now.distance_m[rider]) ahead.push_back(j);
  return ahead;
}

/// Riders who came off a wheel though it had asked less than their plan; not those who went past it.
std::vector<Left> came_off_for_nothing(const Scenario& s) {
  std::vector<Left> left, found;
  std::vector<std::deque<double>> power_W(s.riders.size());
  Ride ride(s);
  RideSample now, before;
  ride.sample(before);
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % 10 != 0) continue;
    ride.sample(now);
    for (std::size_t i = 0; i < s.riders.size(); ++i) {
      std::deque<double>& late = power_W[i];
      const auto was = static_cast<Role>(before.role[i]), is = static_cast<Role>(now.role[i]);
      const double plan_W = s.riders[i].target_effort * s.riders[i].critical_power_W;
      if (was == Role::following && (is == Role::alone || is == Role::chasing) && late.size() == memory_s) {
        const double asked_W = std::accumulate(late.begin(), late.end(), 0.0) / static_cast<double>(memory_s);
        if (asked_W < plan_W) {
          left.push_back({i, now.time_s, asked_W, plan_W, 0.0, ahead_in_group(before, i)});
          left.back().gap_m = left.back().nearest_m(now);
        }
      }
      if (is != Role::following)
        late.clear();
      else
        late.push_back(now.power_W[i]);
      if (late.size() > memory_s) late.pop_front();
    }
    for (const Left& one : left)
      if (now.time_s >= one.time_s + later_s && before.time_s < one.time_s + later_s &&
          now.role[one.rider] != static_cast<float>(Role::finished) && !one.ahead.empty() &&
          one.nearest_m(now) > one.gap_m + behind_m)
        found.push_back(one);
    std::swap(before, now);
  }
  return found;
}

}  // namespace

namespace {

struct RaceBeside {
  company::Company steady, race;
};

RaceBeside race_beside_steady(const Road& road, std::size_t riders) {
  Scenario s = company::as_shipped(road, company::riders_of(std::vector<double>(riders, 250.0)), RideKind::steady);
  const company::Company steady = company::ride_company(s);
  s.ride.kind = RideKind::race;
  return {steady, company::ride_company(s)};
}

std::vector<Road> race_roads() {
  return {company::waves({0.0}, 500.0, 7000.0), company::waves({5.0, -5.0}, 250.0, 7000.0),
          company::waves({6.0}, 500.0, 7000.0), company::mixed_road()};
}

/// Mean share of W' at the finish: at most a tenth above the reserve.
void check_spent(const company::Company& race) {
  double left = 0.0;
  for (const company::InCompany& r : race.riders) left += r.end_wbal_share / static_cast<double>(race.riders.size());
  CHECK(left <= TacticsSettings{}.race_reserve + 0.10);
}

}  // namespace

TEST_CASE("equals in a race are faster than in a steady ride", "[race]") {
  const std::size_t riders = GENERATE(std::size_t{2}, std::size_t{5}, std::size_t{10});
  for (const Road& road : race_roads()) {
    const RaceBeside ridden = race_beside_steady(road, riders);
    INFO(riders << " riders, " << road.facts().ascent_m << " m of climbing in " << road.length_m() << " m");
    CHECK(ridden.race.mean_home_s < ridden.steady.mean_home_s);
    for (const company::InCompany& r : ridden.race.riders) CHECK(r.least_wbal_share >= 0.0);
    if (riders == 2 || road.facts().ascent_m > 200.0) check_spent(ridden.race);
  }
}
TEST_CASE("lines in a race spend what they have on the level and on waves", "[race][!mayfail]") {
  const std::size_t riders = GENERATE(std::size_t{5}, std::size_t{10});
  for (const Road& road : race_roads()) {
    INFO(riders << " riders, " << road.facts().ascent_m << " m of climbing in " << road.length_m() << " m");
    check_spent(race_beside_steady(road, riders).race);
  }
}

namespace {

/// Twelve riders of 190 to 355 W, each by the rider's own plan, on a level road.
Scenario free_ride() {
  std::vector<double> cps_W(12);
  for (std::size_t i = 0; i < cps_W.size(); ++i) cps_W[i] = 190.0 + 15.0 * static_cast<double>(i);
  return company::as_shipped(company::waves({0.0}, 500.0, 6000.0), company::riders_of(cps_W), RideKind::free);
}

}  // namespace

TEST_CASE("in a free ride nobody on the level leaves a wheel that asks less than the plan", "[free]") {
  const double start_mps = GENERATE(0.5, 3.0, 9.0);
  const std::uint64_t seed = GENERATE(range(1, 17));
  Scenario s = free_ride();
  s.ride.start_speed_mps = start_mps;
  s.ride.seed = seed;
  const std::vector<Left> left = came_off_for_nothing(s);
  for (const Left& one : left)
    UNSCOPED_INFO("start " << start_mps << " m/s, seed " << seed << ": " << s.riders[one.rider].name << " at " << one.time_s
                           << " s after " << one.asked_W << " W of " << one.plan_W);
  CHECK(left.empty());
}

TEST_CASE("who lets a cheap wheel go is seen", "[free]") {
  Scenario s = free_ride();
  constexpr std::uint32_t rider = 5;
  s.instructions.push_back({rider, 3000.0, 4000.0, Choice::lets_go});
  const std::vector<Left> left = came_off_for_nothing(s);
  REQUIRE(!left.empty());
  for (const Left& one : left) CHECK(one.rider == rider);
}
