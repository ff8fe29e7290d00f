/// How good a group plan is, on one day and over days, from results made up here: nothing is ridden.

#include "plan/group_score.hpp"

#include <catch2/catch.hpp>

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

const RidersAlone vera_weakest{{1000.0, 1400.0}, {0.8, 0.75}, 1};

}  // namespace

TEST_CASE("a score takes efforts as shares of each rider's critical power while riding", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(true, 1100.0, 100.0, 210e3, 8000.0), rider(true, 1200.0, 0.0, 216e3, 3000.0)};
  const PlanScore score = score_of(two_riders(), ride, vera_weakest);
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
  CHECK(score.later_s == std::vector<double>{100.0, -200.0});
  CHECK(score.held_back_s == 100.0);
  CHECK(score.harder_share == Approx(0.9 / 0.75 - 1.0));
  CHECK(aim_value(score, LineupAim::time) == 1200.0);
  CHECK(aim_value(score, LineupAim::weakest) == score.weakest_effort);
  CHECK(aim_value(score, LineupAim::fair) == score.unfairness);
}

TEST_CASE("the least W' is that of the emptiest rider, wherever in the list", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(true, 1100.0, 0.0, 1.0, 2000.0), rider(true, 1200.0, 0.0, 1.0, 3000.0)};  // 10 % and 30 %
  CHECK(score_of(two_riders(), ride, vera_weakest).wbal_least_share == 0.1);
  ride.riders[0].wbal_least_J = 8000.0;
  CHECK(score_of(two_riders(), ride, vera_weakest).wbal_least_share == 0.3);
}

TEST_CASE("everyone is home only when each one is, wherever in the list", "[lineup]") {
  RideResult ride{};
  ride.riders = {rider(false, 1100.0, 0.0, 1.0, 1.0), rider(true, 1200.0, 0.0, 1.0, 1.0)};
  CHECK_FALSE(score_of(two_riders(), ride, vera_weakest).all_home);
  std::swap(ride.riders[0], ride.riders[1]);
  CHECK_FALSE(score_of(two_riders(), ride, vera_weakest).all_home);
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
  const auto value = [](const PlanScore& score) {
    return search_value(score, LineupAim::weakest, {.margin = 0.05, .last_s = 4500.0});
  };
  CHECK(value(allowed) == 0.9);
  CHECK(value(empty) > 1000.0 * value(allowed));
  CHECK(value(emptier) > value(empty));
  CHECK(value(late) > value(empty));
  CHECK(value(stranded) > value(late));
  CHECK(within(allowed, {.margin = 0.2, .last_s = 4000.0}));
  CHECK_FALSE(within(allowed, {.margin = 0.2001, .last_s = 4000.0}));
  CHECK_FALSE(within(allowed, {.margin = 0.2, .last_s = 3999.9}));
  CHECK(within(late, {.margin = 0.2}));  // no limit
  CHECK(value(late) == 1e6 + 100.0);
  CHECK(value(empty) == Approx(1e6 + 1000.0 * 0.01));
  CHECK(value(stranded) == 2e6);
}

TEST_CASE("nobody rides much harder than usual, and nobody is held back for long", "[lineup]") {
  PlanScore score = day(4000.0, 0.9, 0.5);
  score.harder_share = 0.05;
  score.held_back_s = 900.0;
  PlanLimits limits{.margin = 0.05, .harder_share = 0.05, .held_back_s = 900.0};
  CHECK(within(score, limits));
  CHECK(excess_s(score, limits) == 0.0);
  score.held_back_s = 910.0;
  CHECK_FALSE(within(score, limits));
  CHECK(excess_s(score, limits) == 10.0);
  score.held_back_s = 0.0;
  score.harder_share = 0.06;
  CHECK_FALSE(within(score, limits));
  CHECK(search_value(score, LineupAim::time, limits) == Approx(1e6 + 100.0));
}
