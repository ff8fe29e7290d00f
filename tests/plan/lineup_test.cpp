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
  settings.days = 12;
  return settings;
}

std::vector<PlanResult> all_of(const Lineup& lineup) {
  std::vector<PlanResult> all = lineup.table;
  all.insert(all.end(), lineup.left_out.begin(), lineup.left_out.end());
  return all;
}

}  // namespace

TEST_CASE("no plan of the table is beaten by another in every column, and the chosen one is in it, for any aim",
          "[lineup]") {
  const Scenario scenario = larkmoor();
  for (const LineupAim aim : {LineupAim::time, LineupAim::weakest, LineupAim::fair}) {
    LineupSettings settings = quick(aim);
    settings.held_back_s = 40 * 60.0;  // as many minutes as the plan clubs ride takes, and more
    const Lineup lineup = best_lineup(scenario, settings);
    INFO(lineup_aim_names[static_cast<std::size_t>(aim)]);
    REQUIRE(lineup.found);
    CHECK(lineup.within_limits);
    REQUIRE(lineup.table.size() >= 2);
    REQUIRE(lineup.table.size() <= 5);
    for (const PlanResult& a : lineup.table)
      for (const PlanResult& b : lineup.table)
        CHECK_FALSE(beats(columns_of(a, lineup.strong, aim), columns_of(b, lineup.strong, aim)));
    for (const PlanResult& plan : all_of(lineup)) {
      INFO(plan.plan.name);
      CHECK(plan.expected.last_s == last_home_s(ride_to_end(with_plan(scenario, plan.plan, lineup.weakest))));
    }
  }
}

TEST_CASE("the plan clubs ride is always shown: in the table, or left out of it for a reason", "[lineup]") {
  for (const LineupAim aim : {LineupAim::time, LineupAim::fair}) {
    const Lineup lineup = best_lineup(larkmoor(), quick(aim));
    const auto is_clubs = [](const PlanResult& r) { return r.plan.name == "as clubs ride"; };
    CHECK(is_clubs(lineup.clubs));
    CHECK(lineup.clubs.days.size() == 12);
    const PlanResult* const clubs = &lineup.clubs;
    const bool in_table = std::any_of(lineup.table.begin(), lineup.table.end(), is_clubs);
    CHECK(in_table == (clubs->unfit == Unfit::none));
    const bool left_out = std::any_of(lineup.left_out.begin(), lineup.left_out.end(), is_clubs);
    CHECK(left_out == (!in_table && clubs->unfit != Unfit::beaten));  // beaten it stands in a row of its own
    REQUIRE(clubs->waits.size() == 1);
    CHECK(clubs->waits[0].name == "Shepherds' flat");
    std::vector<std::size_t> parts;
    for (const LineupStretch& s : clubs->stretches) parts.push_back(s.groups.size());
    CHECK(parts[0] == 1);  // together over the levels, free in the wood, together again
    CHECK(parts[1] > 2);
    CHECK(parts[2] == 1);
    CHECK(clubs->stretches[1].form == LineupStretch::Form::own_pace);
  }
}

TEST_CASE("the chosen plan beats the plan clubs ride on drawn days, or it is that plan or as good", "[lineup]") {
  LineupSettings settings = quick(LineupAim::time);
  settings.held_back_s = 40 * 60.0;  // the plan clubs ride holds the strongest back by 24 minutes
  const Lineup lineup = best_lineup(larkmoor(), settings);
  REQUIRE(lineup.found);
  CHECK_FALSE(lineup.against_clubs.loses);
  CHECK(lineup.against_clubs.wins);
  CHECK(lineup.against_clubs.days_better >= 9);
  for (std::size_t k = 0; k < lineup.table.size(); ++k) {
    CHECK(lineup.table[k].days.size() == 12);
    const PlanDuel again = duel(lineup.best(), lineup.table[k], LineupAim::time);
    CHECK(again.gain == lineup.against[k].gain);
  }
}

TEST_CASE("nobody rides harder than usual by more than the limit, or is held back for longer, unless asked", "[lineup]") {
  LineupSettings settings = quick(LineupAim::weakest);
  const Lineup usual = best_lineup(larkmoor(), settings);
  REQUIRE(usual.found);
  CHECK(usual.held_back_limit_s == 900.0);
  for (const PlanResult& plan : usual.table) {
    CHECK(plan.expected.harder_share <= settings.harder_share);
    CHECK(plan.expected.held_back_s <= usual.held_back_limit_s);
    for (std::size_t i = 0; i < plan.expected.effort.size(); ++i)
      CHECK(plan.expected.effort[i] <= (1.0 + settings.harder_share) * usual.usual_effort[i] + 1e-9);
  }
  settings.held_back_s = 8 * 60.0;
  const Lineup asked = best_lineup(larkmoor(), settings);
  REQUIRE(asked.found);
  CHECK(asked.held_back_limit_s == 480.0);
  if (asked.within_limits) CHECK(asked.best().expected.held_back_s <= 480.0);
  settings.harder_share = -0.5;  // at half the usual effort nobody goes with the others
  const Lineup none = best_lineup(larkmoor(), settings);
  CHECK(none.found);
  CHECK_FALSE(none.within_limits);
}

TEST_CASE("plans wait only where a captain would, and never for less than a minute", "[lineup]") {
  Scenario scenario = larkmoor();
  scenario.ride.regroup_at_m = {6000.0, 7770.0, 12900.0};  // in the steep wood; Shepherds' flat; in the last kilometre
  const Lineup lineup = best_lineup(scenario, quick(LineupAim::weakest));
  const std::vector<double> places = places_to_wait(scenario.road);
  REQUIRE(lineup.found);
  for (const PlanResult& plan : lineup.table)
    for (const RegroupWait& wait : plan.waits) {
      CHECK(std::find(places.begin(), places.end(), wait.at_m) != places.end());
      CHECK(wait.first_waits_s >= least_wait_s);
    }
  const auto own = std::find_if(lineup.left_out.begin(), lineup.left_out.end(),
                                [](const PlanResult& r) { return r.plan.name == "as the scenario stands"; });
  REQUIRE(own != lineup.left_out.end());
  CHECK(own->unfit == Unfit::bad_place);
}

TEST_CASE("under the plan found everyone is home with the margin of W' left, on the day as expected", "[lineup]") {
  const LineupSettings settings = quick(LineupAim::time);
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, settings);
  REQUIRE(lineup.found);
  std::size_t kept = 0;
  for (const PlanScore& day : lineup.best().days) kept += day.all_home && day.wbal_least_share >= settings.wbal_margin_share;
  CHECK(lineup.best().margin_days == Approx(static_cast<double>(kept) / 12.0));
  CHECK(lineup.best().margin_days >= margin_days_share);
  const RideResult ride = ride_to_end(with_plan(scenario, lineup.best().plan, lineup.weakest));
  for (std::size_t i = 0; i < ride.riders.size(); ++i) {
    INFO(ride.riders[i].name);
    CHECK(ride.riders[i].finished);
    CHECK(ride.riders[i].wbal_least_J >= settings.wbal_margin_share * scenario.riders[i].w_prime_J);
  }
}

TEST_CASE("drawn days are the same for every plan, and each has a seed of its own", "[lineup]") {
  const Scenario scenario = larkmoor();
  CHECK(drawn_day(scenario, 1, 3).ride.seed != drawn_day(scenario, 1, 4).ride.seed);
  Scenario planned = scenario;
  planned.ride.kind = RideKind::together;
  CHECK(drawn_day(scenario, 1, 3).ride.seed == drawn_day(planned, 1, 3).ride.seed);
  CHECK(drawn_day(scenario, 1, 3).wind.forecast[0].speed_mps == drawn_day(planned, 1, 3).wind.forecast[0].speed_mps);
}

TEST_CASE("a plan for the weakest is no later than the limit of time it states", "[lineup]") {
  const Lineup lineup = best_lineup(larkmoor(), quick(LineupAim::weakest));
  REQUIRE(lineup.found);
  REQUIRE(lineup.time_limit_s > 0.0);
  for (const PlanResult& plan : lineup.table) CHECK(plan.expected.last_s <= lineup.time_limit_s);
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
  CHECK(one.best().value == four.best().value);
  CHECK(one.best().plan.order == four.best().plan.order);
  CHECK(one.rides == four.rides);
  CHECK(one.best().plan.order == other.best().plan.order);
  CHECK(one.best().value == Approx(other.best().value).epsilon(1e-9));  // sums over riders in another order
}

TEST_CASE("stretches of the plan cover the road, and the time in front is that of a ride under the plan", "[lineup]") {
  const Scenario scenario = larkmoor();
  const Lineup lineup = best_lineup(scenario, quick(LineupAim::time));
  REQUIRE(lineup.found);
  const std::vector<LineupStretch>& told = lineup.best().stretches;
  CHECK(told.front().where.from_m == 0.0);
  CHECK(told.back().where.to_m == scenario.road.length_m());
  for (std::size_t k = 1; k < told.size(); ++k) CHECK(told[k].where.from_m == told[k - 1].where.to_m);
  std::vector<std::vector<double>> in_front_s(told.size(), std::vector<double>(scenario.riders.size(), 0.0));
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  Ride ride(with_plan(scenario, lineup.best().plan, lineup.weakest));
  watch(ride, {1.0}, [&](const RideView& view) {
    for (std::size_t i = 0; i < view.riders(); ++i)
      if (view.time_s() > 0.0 && view.role(i) == Role::front && view.group(i) != no_group)
        ++in_front_s[stretch_at(stretches, view.distance_m(i))][i];
  });
  for (std::size_t k = 0; k < stretches.size(); ++k) {
    const bool own_pace = told[k].form == LineupStretch::Form::own_pace;
    for (std::size_t i = 0; i < scenario.riders.size(); ++i)
      CHECK(told[k].front_s[i] == (own_pace ? 0.0 : in_front_s[k][i]));
    std::size_t riders = 0;
    for (const GroupTurns& group : told[k].groups) riders += group.line.size();
    CHECK(riders == scenario.riders.size());
  }
}

TEST_CASE("a search asked to stop says so", "[lineup]") {
  int asked = 0;
  const Lineup lineup = best_lineup(small_club(), quick(LineupAim::time), [&](double) { return ++asked < 5; });
  CHECK(lineup.stopped);
  CHECK(!lineup.found);
}
