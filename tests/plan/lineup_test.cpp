#include "leewheel/lineup.hpp"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/support.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
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

LineupSettings quick(LineupAim aim) {
  LineupSettings settings;
  settings.aim = aim;
  settings.rounds = 1;
  settings.starts = 1;
  settings.finalists_a_demand = 2;
  return settings;
}

}  // namespace

TEST_CASE("no obvious plan that is allowed beats the plan found, for any aim", "[lineup]") {
  for (const LineupAim aim : {LineupAim::time, LineupAim::weakest, LineupAim::fair}) {
    const Lineup lineup = best_lineup(larkmoor(), quick(aim));
    INFO(lineup_aim_names[static_cast<std::size_t>(aim)]);
    REQUIRE(lineup.found);
    CHECK(lineup.obvious.size() == 4);
    for (const PlanResult& plain : lineup.obvious) {
      INFO(plain.plan.name);
      if (plain.allowed) CHECK(lineup.best.value <= plain.value);
    }
  }
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
  double last_s = 0.0;
  for (std::size_t i = 0; i < ride.riders.size(); ++i) {
    INFO(ride.riders[i].name);
    CHECK(ride.riders[i].finished);
    CHECK(ride.riders[i].wbal_least_J >= settings.wbal_margin_share * scenario.riders[i].w_prime_J);
    last_s = std::max(last_s, ride.riders[i].finish_time_s);
  }
  CHECK(last_s == lineup.best.expected.last_s);
}

TEST_CASE("a plan for the weakest is no later than the limit of time it states", "[lineup]") {
  const Lineup lineup = best_lineup(larkmoor(), quick(LineupAim::weakest));
  REQUIRE(lineup.found);
  double mean_s = 0.0;
  for (const PlanScore& day : lineup.best.days) mean_s += day.last_s / static_cast<double>(lineup.best.days.size());
  CHECK(lineup.time_limit_s > 0.0);
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

TEST_CASE("stretches of the plan cover the road and the time in front adds up", "[lineup]") {
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, quick(LineupAim::time));
  REQUIRE(lineup.found);
  CHECK(lineup.stretches.front().where.from_m == 0.0);
  CHECK(lineup.stretches.back().where.to_m == scenario.road.length_m());
  double by_stretch_s = 0.0, by_rider_s = 0.0;
  for (const LineupStretch& s : lineup.stretches)
    for (const double front_s : s.front_s) by_stretch_s += front_s;
  for (const Pull& pull : lineup.pulls) by_rider_s += pull.in_front_s;
  CHECK(by_stretch_s == by_rider_s);
  CHECK(by_rider_s > 0.0);
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

TEST_CASE("a plan that leans leaves the mean effort over time about as it was", "[lineup]") {
  const Scenario scenario = scenes::scene(scenes::grades({0.01, 0.07, 0.01, 0.07}, 1500.0),
                                          {scenes::plain_rider("Una"), scenes::plain_rider("Vera", 200.0)});
  GroupPlan plan{"lean", RideKind::race, Formation::turns, "", {}, {}, 45.0, 8.0, 0.85, 1.1, 1.25, 0.97, 0.15, 0.05, 1.0};
  const Scenario leaning = with_plan(scenario, plan, 1);
  const auto mean_W = [&](const Scenario& s) {
    const RiderResult rider = ride_to_end(alone(s, 0)).riders[0];
    return rider.mean_power_W;
  };
  REQUIRE(leaning.plans[0].size() > 1);
  CHECK(mean_W(leaning) == Approx(mean_W(scenario)).epsilon(0.01));  // slopes are weighed by still-air speeds
  CHECK(ride_to_end(alone(leaning, 0)).time_s < ride_to_end(alone(scenario, 0)).time_s);
}

TEST_CASE("a search asked to stop says so", "[lineup]") {
  int asked = 0;
  const Lineup lineup = best_lineup(small_club(), quick(LineupAim::time), [&](double) { return ++asked < 5; });
  CHECK(lineup.stopped);
  CHECK(!lineup.found);
}

TEST_CASE("a planned scenario written by the program from another folder rides as promised", "[lineup][app]") {
  const app_test::Folder folder;
  app_test::fs::create_directory(folder / "hill");
  folder.write("hill/road.yaml",
               "start_elevation_m: 0\nstretches: [{length_m: 1500, grade_percent: 1, heading_deg: 0}, {length_m: 1000, "
               "grade_percent: 7}, {length_m: 1000, grade_percent: 1}]\n");
  folder.write("hill/scenario.yaml",
               "title: Short\nroad: {file: road.yaml}\nwind: {from: N, speed_kmh: 20}\nriders: [{name: Una, "
               "critical_power_W: 290}, {name: Vera}, {name: Wim, critical_power_W: 210}]\n");
  const app_test::Answer answer = app_test::leewheel(folder, "lineup hill/scenario.yaml --for fair --json -o planned.yaml");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const RideResult ride = ride_to_end(read_scenario((folder / "planned.yaml").string()));
  double last_s = 0.0;
  for (const RiderResult& rider : ride.riders) last_s = std::max(last_s, rider.finish_time_s);
  CHECK(last_s == Approx(nlohmann::json::parse(answer.out)["plan"]["last_s"].get<double>()).epsilon(1e-9));
}

TEST_CASE("lineup answers no with code 1, and bad input with code 2", "[lineup][app]") {
  const app_test::Folder folder;
  const std::string road =
      "title: Short\nroad: {start_elevation_m: 0, stretches: [{length_m: 3000, grade_percent: 5, heading_deg: 0}]}\n";
  folder.write("late.yaml", road + "ride: {time_limit_s: 60}\nriders: [{name: Una}, {name: Vera}]\n");
  folder.write("lone.yaml", road + "riders: [{name: Una}]\n");
  CHECK(app_test::leewheel(folder, "lineup late.yaml -o planned.yaml").code == 1);
  CHECK(!app_test::fs::exists(folder / "planned.yaml"));
  const app_test::Answer lone = app_test::leewheel(folder, "lineup lone.yaml");
  CHECK(lone.code == 2);
  CHECK(lone.err == "lone.yaml: riders: found one rider, expected at least two; see leewheel pace\n");
  CHECK(app_test::leewheel(folder, "lineup lone.yaml --for glory").code == 2);
  CHECK(app_test::leewheel(folder, "lineup --help").out.find("Example") != std::string::npos);
}
