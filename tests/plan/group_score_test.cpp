/// How good a group plan is, on one day and over days, from results made up here: nothing is ridden.

#include "plan/group_score.hpp"

#include <catch2/catch.hpp>

#include "plan/group_days.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Una with 300 W, Vera with 200 W.
Scenario two_riders() {
  Scenario s =
      scenes::scene(scenes::flat_road(1000.0), {scenes::plain_rider("Una", 300.0), scenes::plain_rider("Vera", 200.0)});
  s.riders[0].w_prime_J = 20000.0;
  s.riders[1].w_prime_J = 10000.0;
  return s;
}

RiderResult rider(bool finished, double finish_s, double waited_s, double pedal_J, double wbal_least_J) {
  RiderResult r;
  r.finished = finished;
  r.finish_time_s = finish_s;
  r.waited_s = waited_s;
  r.ledger.pedal_J = pedal_J;
  r.wbal_least_J = wbal_least_J;
  return r;
}

PlanScore day(double last_s, double effort, double wbal_least_share, bool all_home = true) {
  PlanScore score;
  score.all_home = all_home;
  score.last_s = last_s;
  score.weakest_effort = effort;
  score.wbal_least_share = wbal_least_share;
  return score;
}

/// Alike on all days.
PlanResult plan(double last_s, double effort, double wbal_least_share = 0.5) {
  const PlanScore score = day(last_s, effort, wbal_least_share);
  return over_days({}, {score, score}, LineupAim::weakest);
}

LineupSettings for_the_weakest() {
  LineupSettings settings;
  settings.aim = LineupAim::weakest;
  settings.time_limit_share = 0.03;
  settings.wbal_margin_share = 0.05;
  return settings;
}

Lineup judged(std::vector<PlanResult>& results, std::size_t obvious, const LineupSettings& settings) {
  Lineup lineup{};
  judge(results, obvious, settings, lineup);
  return lineup;
}

}  // namespace

TEST_CASE("a score takes efforts as shares of each rider's critical power while riding", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(true, 1100.0, 100.0, 210e3, 8000.0), rider(true, 1200.0, 0.0, 216e3, 3000.0)};
  const PlanScore score = score_of(two_riders(), ride, 1);
  CHECK(score.all_home);
  CHECK(score.last_s == 1200.0);
  CHECK(score.mean_s == 1150.0);
  CHECK(score.longest_wait_s == 100.0);
  CHECK(score.effort[0] == Approx(0.7));  // 210 W of 300 W: 100 of its 1,100 s are spent waiting
  CHECK(score.effort[1] == Approx(0.9));
  CHECK(score.weakest_effort == Approx(0.9));
  CHECK(score.unfairness == Approx(0.2));
  CHECK(score.wbal_share == std::vector<double>{0.4, 0.3});
  CHECK(score.wbal_least_share == 0.3);
  CHECK(aim_value(score, LineupAim::time) == 1200.0);
  CHECK(aim_value(score, LineupAim::weakest) == score.weakest_effort);
  CHECK(aim_value(score, LineupAim::fair) == score.unfairness);
}

TEST_CASE("the least W' is that of the emptiest rider, wherever in the list", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(true, 1100.0, 0.0, 1.0, 2000.0), rider(true, 1200.0, 0.0, 1.0, 3000.0)};  // 10 % and 30 %
  CHECK(score_of(two_riders(), ride, 1).wbal_least_share == 0.1);
  ride.riders[0].wbal_least_J = 8000.0;
  CHECK(score_of(two_riders(), ride, 1).wbal_least_share == 0.3);
}

TEST_CASE("everyone is home only when each one is, wherever in the list", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(false, 1100.0, 0.0, 1.0, 1.0), rider(true, 1200.0, 0.0, 1.0, 1.0)};
  CHECK_FALSE(score_of(two_riders(), ride, 1).all_home);
  std::swap(ride.riders[0], ride.riders[1]);
  CHECK_FALSE(score_of(two_riders(), ride, 1).all_home);
}

TEST_CASE("a plan that may not be is worse than any that may, and less so the nearer it comes", "[lineup]") {
  PlanScore allowed, empty, emptier, late, stranded;
  for (PlanScore* score : {&allowed, &empty, &emptier, &late, &stranded}) {
    score->all_home = true;
    score->last_s = 4000.0;
    score->wbal_least_share = 0.2;
    score->weakest_effort = 0.9;
  }
  empty.wbal_least_share = 0.04;
  emptier.wbal_least_share = 0.01;
  late.last_s = 4600.0;
  stranded.all_home = false;
  const auto value = [](const PlanScore& score) { return search_value(score, LineupAim::weakest, 0.05, 4500.0); };
  CHECK(value(allowed) == 0.9);
  CHECK(value(empty) > 1000.0 * value(allowed));
  CHECK(value(emptier) > value(empty));
  CHECK(value(late) > value(empty));
  CHECK(value(stranded) > value(late));
  CHECK(within(allowed, 0.2, 4000.0));
  CHECK_FALSE(within(allowed, 0.2001, 4000.0));
  CHECK_FALSE(within(allowed, 0.2, 3999.9));
  CHECK(within(late, 0.2, 0.0));  // no limit
  CHECK(value(late) == 1e6 + 100.0);
  CHECK(value(empty) == Approx(1e6 + 1000.0 * 0.01));
  CHECK(value(stranded) == 2e6);
}

TEST_CASE("the days differ in one thing each: the wind, or who has a bad day", "[lineup]") {
  const std::vector<NamedDay> days = days_of(two_riders(), 1);
  REQUIRE(days.size() == 1 + other_days);
  constexpr auto speed = static_cast<std::size_t>(Input::wind_speed),
                 direction = static_cast<std::size_t>(Input::wind_direction);
  constexpr std::size_t cp = static_cast<std::size_t>(Input::critical_power) - shared_inputs;
  const auto at = [&](std::size_t k) { return days[k].draw; };
  CHECK(std::pair(at(1).shared[speed], at(2).shared[speed]) == std::pair(1.0, -1.0));
  CHECK(std::pair(at(3).shared[direction], at(4).shared[direction]) == std::pair(1.0, -1.0));
  CHECK(std::pair(at(5).own[0][cp], at(5).own[1][cp]) == std::pair(0.0, -1.5));
  CHECK(std::pair(at(6).own[0][cp], at(6).own[1][cp]) == std::pair(-1.5, 0.0));
  int changed = 0;
  for (const NamedDay& day : days) {
    for (const double z : day.draw.shared) changed += z != 0.0;
    for (const auto& own : day.draw.own)
      for (const double z : own) changed += z != 0.0;
  }
  CHECK(changed == 6);
}

TEST_CASE("the value of a plan is the mean over its days, with the lowest and the highest", "[lineup]") {
  const PlanResult r = over_days({}, {day(100.0, 0.8, 0.5), day(130.0, 0.9, 0.5), day(130.0, 0.7, 0.5)}, LineupAim::time);
  CHECK(r.value == 120.0);
  CHECK(std::pair(r.value_low, r.value_high) == std::pair(100.0, 130.0));
  CHECK(r.expected.last_s == 100.0);
}

TEST_CASE("a plan for the weakest may take 3 percent longer than the quickest obvious one, and the best of those is found",
          "[lineup]") {
  std::vector<PlanResult> results{plan(1000.0, 0.95), plan(1200.0, 0.60), plan(1029.9, 0.80), plan(1030.1, 0.70),
                                  plan(900.0, 0.90)};
  const Lineup lineup = judged(results, 2, for_the_weakest());
  CHECK(lineup.time_limit_s == 1030.0);  // the 900 s are of no obvious plan
  CHECK(lineup.obvious.size() == 2);
  REQUIRE(lineup.found);
  CHECK(lineup.best.value == 0.80);
  std::vector<bool> allowed;
  for (const PlanResult& r : results) allowed.push_back(r.allowed);
  CHECK(allowed == std::vector<bool>{true, false, true, false, true});
}

TEST_CASE("a plan must hold on every day, and an obvious plan that does not hold sets no limit of time", "[lineup]") {
  LineupSettings settings = for_the_weakest();
  std::vector<PlanResult> results{plan(1000.0, 0.95, 0.04), plan(1100.0, 0.90, 0.05), plan(1100.0, 0.80)};
  results[2].days[1].wbal_least_share = 0.04;
  Lineup lineup = judged(results, 2, settings);
  CHECK(lineup.time_limit_s == 1.03 * 1100.0);
  REQUIRE(lineup.found);
  CHECK(lineup.best.value == 0.90);
  settings.aim = LineupAim::time;
  CHECK(judged(results, 2, settings).time_limit_s == 0.0);
  settings.wbal_margin_share = 0.6;
  CHECK_FALSE(judged(results, 2, settings).found);
}
