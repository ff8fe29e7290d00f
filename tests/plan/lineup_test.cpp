#include "leewheel/lineup.hpp"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "io/scenario_reader.hpp"
#include "ride/watch.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario larkmoor() { return read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml"); }

/// Four riders over a flat, a climb and a flat: rides in a moment.
Scenario small_club() {
  Scenario s = scenes::scene(scenes::grades({0.01, 0.07, 0.01}, 1000.0), scenes::club(4));
  scenes::set_wind(s, 4.0, 0.0);
  return s;
}

double last_home_s(const RideResult& ride) {
  double last_s = 0.0;
  for (const RiderResult& rider : ride.riders) last_s = std::max(last_s, rider.finish_time_s);
  return last_s;
}

LineupSettings quick(LineupAim aim) {
  LineupSettings settings;
  settings.aim = aim;
  settings.rounds = 1;
  settings.starts = 1;
  settings.finalists_a_demand = 2;
  return settings;
}

}  // namespace

TEST_CASE("the search finds a plan that is better than every obvious one, for any aim", "[lineup]") {
  const Scenario scenario = larkmoor();
  for (const LineupAim aim : {LineupAim::time, LineupAim::weakest, LineupAim::fair}) {
    const Lineup lineup = best_lineup(scenario, quick(aim));
    INFO(lineup_aim_names[static_cast<std::size_t>(aim)]);
    REQUIRE(lineup.found);
    REQUIRE(lineup.obvious.size() == 4);
    CHECK(std::count_if(lineup.obvious.begin(), lineup.obvious.end(), [](const PlanResult& r) { return r.allowed; }) == 3);
    for (const PlanResult& plain : lineup.obvious) {
      INFO(plain.plan.name);
      CHECK(plain.expected.last_s == last_home_s(ride_to_end(with_plan(scenario, plain.plan, lineup.weakest))));
      if (plain.allowed) CHECK(lineup.best.value < plain.value);
    }
  }
}

TEST_CASE("a second round of changes goes on from what the first found", "[lineup]") {
  LineupSettings settings = quick(LineupAim::weakest);
  const Lineup once = best_lineup(larkmoor(), settings);
  settings.rounds = 2;
  const Lineup twice = best_lineup(larkmoor(), settings);
  REQUIRE(once.found);
  REQUIRE(twice.found);
  CHECK(twice.rides > once.rides);
  CHECK(twice.best.value < once.best.value);
}

TEST_CASE("under the plan found everyone is home with the margin of W' left, on every day ridden", "[lineup]") {
  const LineupSettings settings = quick(LineupAim::time);
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, settings);
  REQUIRE(lineup.found);
  for (const PlanScore& day : lineup.best.days) {
    CHECK(day.all_home);
    CHECK(day.wbal_least_share >= settings.wbal_margin_share);
  }
  const RideResult ride = ride_to_end(with_plan(scenario, lineup.best.plan, lineup.weakest));
  for (std::size_t i = 0; i < ride.riders.size(); ++i) {
    INFO(ride.riders[i].name);
    CHECK(ride.riders[i].finished);
    CHECK(ride.riders[i].wbal_least_J >= settings.wbal_margin_share * scenario.riders[i].w_prime_J);
  }
  CHECK(last_home_s(ride) == lineup.best.expected.last_s);
}

TEST_CASE("a plan for the weakest is no later than the limit of time it states", "[lineup]") {
  const Lineup lineup = best_lineup(larkmoor(), quick(LineupAim::weakest));
  REQUIRE(lineup.found);
  double mean_s = 0.0;
  for (const PlanScore& day : lineup.best.days) mean_s += day.last_s / static_cast<double>(lineup.best.days.size());
  CHECK(lineup.best.days.size() == 7);
  CHECK(mean_s <= lineup.time_limit_s);
}

TEST_CASE("the plan does not hang on the number of threads or on the order of riders in the file", "[lineup][determinism]") {
  const auto plan_of = [](const Scenario& scenario, std::size_t threads) {
    const tbb::global_control control(tbb::global_control::max_allowed_parallelism, threads);
    return best_lineup(scenario, quick(LineupAim::fair));
  };
  const Scenario scenario = small_club();
  Scenario turned = scenario;
  std::reverse(turned.riders.begin(), turned.riders.end());
  const Lineup one = plan_of(scenario, 1), four = plan_of(scenario, 4), other = plan_of(turned, 2);
  CHECK(one.best.value == four.best.value);
  CHECK(one.best.plan.order == four.best.plan.order);
  CHECK(one.rides == four.rides);
  CHECK(one.best.plan.order == other.best.plan.order);
  CHECK(one.best.value == Approx(other.best.value).epsilon(1e-9));  // sums over riders in another order
}

TEST_CASE("stretches of the plan cover the road, and the time in front is that of a ride under the plan", "[lineup]") {
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, quick(LineupAim::time));
  REQUIRE(lineup.found);
  CHECK(lineup.stretches.front().where.from_m == 0.0);
  CHECK(lineup.stretches.back().where.to_m == scenario.road.length_m());
  for (std::size_t k = 1; k < lineup.stretches.size(); ++k)
    CHECK(lineup.stretches[k].where.from_m == lineup.stretches[k - 1].where.to_m);
  std::vector<std::vector<double>> in_front_s(lineup.stretches.size(), std::vector<double>(scenario.riders.size(), 0.0));
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  Ride ride(with_plan(scenario, lineup.best.plan, lineup.weakest));
  watch(ride, {1.0}, [&](const RideView& view) {
    for (std::size_t i = 0; i < view.riders(); ++i)
      if (view.time_s() > 0.0 && view.role(i) == Role::front) ++in_front_s[stretch_at(stretches, view.distance_m(i))][i];
  });
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    double all_s = 0.0;
    for (std::size_t k = 0; k < stretches.size(); ++k) {
      CHECK(lineup.stretches[k].front_s[i] == in_front_s[k][i]);
      all_s += in_front_s[k][i];
    }
    CHECK(lineup.pulls[i].in_front_s == all_s);
  }
}

TEST_CASE("two groups by strength are told with every rider in one of them", "[lineup]") {
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, quick(LineupAim::weakest));
  REQUIRE(lineup.split_groups.size() == 2);
  std::vector<std::uint32_t> all = lineup.split_groups[0];
  all.insert(all.end(), lineup.split_groups[1].begin(), lineup.split_groups[1].end());
  std::sort(all.begin(), all.end());
  CHECK(all == std::vector<std::uint32_t>{0, 1, 2, 3, 4, 5});
}

TEST_CASE("a search asked to stop says so", "[lineup]") {
  int asked = 0;
  const Lineup lineup = best_lineup(small_club(), quick(LineupAim::time), [&](double) { return ++asked < 5; });
  CHECK(lineup.stopped);
  CHECK(!lineup.found);
}
