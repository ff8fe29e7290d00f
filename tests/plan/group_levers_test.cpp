/// What a group plan can change, and what it changes in a scenario.

#include "plan/group_levers.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "plan/group_description.hpp"
#include "plan/group_places.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Four riders over a flat, a climb and a flat: rides in a moment.
Scenario small_club() {
  Scenario s = scenes::scene(scenes::grades({0.01, 0.07, 0.01}, 1000.0), scenes::club(4));
  scenes::set_wind(s, 4.0, 0.0);
  return s;
}

/// Una is the strongest, Vera the largest, Wim the weakest, Xan the smallest.
Scenario four_kinds() {
  Scenario s = scenes::scene(scenes::constant_grade(1000.0, 0.05),
                             {scenes::plain_rider("Una", 300.0), scenes::plain_rider("Vera", 280.0),
                              scenes::plain_rider("Wim", 200.0), scenes::plain_rider("Xan", 220.0)});
  s.riders[1].drag_area_hoods_m2 = 0.40;
  s.riders[3].drag_area_hoods_m2 = 0.28;
  return s;
}

std::vector<LeanSection> by_grade(const std::vector<double>& grades) {
  std::vector<LeanSection> sections;
  for (const double grade : grades) {
    const double from_m = 1000.0 * static_cast<double>(sections.size());
    sections.push_back({from_m, from_m + 1000.0, grade, grade > 0.03, false});
  }
  return sections;
}

GroupPlan leaning_plan(double lean) {
  return {.name = "lean",
          .kind = RideKind::race,
          .order_rule = "",
          .order = {},
          .regroup_at_m = {},
          .turn_s = 45.0,
          .circulate_s = 8.0,
          .pace_share = 0.85,
          .hold_margin = 1.1,
          .front_effort = 1.25,
          .free_climb_fraction = 0.97,
          .wprime_reserve = 0.15,
          .lean = lean};
}

/// Values of one lever among the neighbours of the obvious plan.
template <class Value>
std::vector<Value> tried(const std::vector<GroupPlan>& plans, Value GroupPlan::*lever) {
  std::vector<Value> values;
  for (const GroupPlan& plan : plans)
    if (std::find(values.begin(), values.end(), plan.*lever) == values.end()) values.push_back(plan.*lever);
  std::sort(values.begin(), values.end());
  return values;
}

}  // namespace

TEST_CASE("the weakest is the slowest alone; who does not get home is slower than all who do", "[lineup]") {
  Scenario s = four_kinds();
  CHECK(ride_each_alone(s).weakest == 2);
  std::swap(s.riders[0], s.riders[2]);
  CHECK(ride_each_alone(s).weakest == 0);
  const std::vector<double> alone_s = ride_each_alone(s).time_s;
  CHECK(std::max(alone_s[2], alone_s[1]) < alone_s[3]);
  CHECK(alone_s[3] < alone_s[0]);
  s.ride.time_limit_s = 0.5 * (alone_s[0] + alone_s[3]);  // Wim is on the way then
  const std::vector<double> limited_s = ride_each_alone(s).time_s;
  CHECK(limited_s[3] == alone_s[3]);
  CHECK(limited_s[0] > 1e8);
  CHECK(ride_each_alone(s).weakest == 0);
}

TEST_CASE("start orders tried: as it stands, by power, by time alone, by size, the weakest second or in the middle",
          "[lineup]") {
  using Names = std::vector<std::string>;
  Scenario s = four_kinds();
  s.ride.start_order = {"Xan"};
  const RidersAlone riders{{500.0, 600.0, 900.0, 550.0}, {}, 2};
  const GroupLevers levers(s, LineupAim::fair, riders, by_grade({0.05}));
  const std::vector<GroupPlan> around = levers.neighbours(levers.obvious_plans().front());
  std::vector<Names> orders;
  for (std::size_t k = 0; k < 6; ++k) orders.push_back(around[k].order);
  CHECK(orders == std::vector<Names>{{"Xan"},
                                     {"Una", "Vera", "Xan", "Wim"},
                                     {"Wim", "Vera", "Xan", "Una"},
                                     {"Vera", "Una", "Wim", "Xan"},
                                     {"Una", "Wim", "Vera", "Xan"},
                                     {"Una", "Vera", "Wim", "Xan"}});
}

TEST_CASE("the plan clubs ride waits at the first fit place behind the top of each steep piece", "[lineup]") {
  using Places = std::vector<double>;
  const auto waits = [](const std::vector<double>& grades, const std::vector<double>& marks_m) {
    Scenario s = four_kinds();
    s.road = scenes::with_landmarks(scenes::grades(grades, 1000.0), marks_m);
    const GroupLevers levers(s, LineupAim::fair, {{1.0, 1.0, 1.0, 1.0}, {}, 2}, by_grade(grades));
    return levers.obvious_plans()[GroupLevers::clubs].regroup_at_m;
  };
  CHECK(waits({0.041, 0.0, 0.0}, {1100.0}) == Places{1100.0});
  CHECK(waits({0.041, 0.0, 0.0}, {890.0, 1100.0, 1300.0}) == Places{1100.0});  // more than 100 m before the top
  CHECK(waits({0.041, 0.0, 0.0}, {910.0, 1100.0}) == Places{910.0});
  CHECK(waits({0.039, 0.0, 0.0}, {1100.0}) == Places{});  // not steep
  CHECK(waits({0.08, 0.039, 0.0}, {1100.0}) == Places{1100.0});
  CHECK(waits({0.08, 0.041, 0.0}, {1100.0}) == Places{});  // the road does not ease by half
  CHECK(waits({0.08, 0.0, 0.06, 0.0, 0.0}, {1100.0, 3100.0}) == Places{1100.0, 3100.0});
  CHECK(waits({0.08, 0.0, 0.06, 0.0, 0.0}, {2100.0, 3100.0}) == Places{3100.0});  // the first lies on the next climb
  CHECK(waits({0.08, 0.0}, {1100.0}) == Places{});                                // in the last kilometre
}

TEST_CASE(
    "the plan clubs ride is steady at a pace for everyone, free on the steep, and waits where the scenario says if fit",
    "[lineup]") {
  Scenario s = four_kinds();
  s.road = scenes::with_landmarks(scenes::grades({0.0, 0.08, 0.0, 0.0}, 1000.0), {800.0, 1500.0, 2100.0});
  s.ride.kind = RideKind::race;
  s.ride.formation = Formation::one_in_front;
  s.ride.regroup_at_m = {800.0, 1500.0};
  s.tactics.free_climb_fraction = 1.01;
  const GroupLevers levers(s, LineupAim::time, {{1.0, 1.0, 2.0, 1.0}, {}, 2}, by_grade({0.0, 0.08, 0.0, 0.0}));
  const GroupPlan clubs = levers.obvious_plans()[GroupLevers::clubs];
  CHECK(clubs.name == "as clubs ride");
  CHECK(clubs.kind == RideKind::steady);
  CHECK(clubs.formation == Formation::turns);
  CHECK(clubs.pace_share == 1.0);
  CHECK(clubs.free_climb_fraction == TacticsSettings{}.free_climb_fraction);
  CHECK(clubs.regroup_at_m == std::vector<double>{800.0});  // 1500 is too steep to stand
  CHECK(clubs.order == std::vector<std::string>{"Una", "Vera", "Wim", "Xan"});
  s.ride.start_order = {"Xan"};
  const GroupLevers own(s, LineupAim::time, {{1.0, 1.0, 2.0, 1.0}, {}, 2}, by_grade({0.0, 0.08, 0.0, 0.0}));
  CHECK(own.obvious_plans()[GroupLevers::clubs].order == std::vector<std::string>{"Xan"});
}

TEST_CASE("a captain lets riders wait at a landmark, flat enough, not in the last kilometre", "[lineup]") {
  const Road road =
      scenes::with_landmarks(scenes::grades({0.0, 0.051, 0.049, 0.0}, 1000.0), {500.0, 1500.0, 2500.0, 3001.0});
  CHECK(places_to_wait(road) == std::vector<double>{500.0, 2500.0});
  CHECK(unfit_to_wait(road, 1500.0) == "too steep to stand");
  CHECK(unfit_to_wait(road, 3001.0) == "in the last kilometre");
  CHECK(unfit_to_wait(road, 700.0) == "no landmark there");
  CHECK(unfit_to_wait(road, 540.0) == "");
}

TEST_CASE("a plan for the time alone does not spare the weakest, and a race knows no shared pace", "[lineup]") {
  const Scenario s = four_kinds();
  const RidersAlone riders{{1.0, 1.0, 1.0, 1.0}, {}, 2};
  const GroupLevers quick(s, LineupAim::time, riders, {}), fair(s, LineupAim::fair, riders, {});
  const GroupPlan own = fair.obvious_plans().front(), race = fair.obvious_plans().back();
  CHECK(tried(quick.neighbours(own), &GroupPlan::weakest_effort) == std::vector<double>{1.0});
  CHECK(tried(fair.neighbours(own), &GroupPlan::weakest_effort) == std::vector<double>{0.94, 0.97, 1.0});
  REQUIRE(race.kind == RideKind::race);
  CHECK(tried(fair.neighbours(race), &GroupPlan::pace_share) == std::vector<double>{race.pace_share});
  CHECK(tried(fair.neighbours(race), &GroupPlan::free_climb_fraction) == std::vector<double>{race.free_climb_fraction});
  CHECK(fair.other_starts().size() == 18);  // three kinds, three formations, with and without waiting
}

TEST_CASE("neighbours of a plan differ from it in one lever, and the obvious plans begin with the scenario's own",
          "[lineup]") {
  Scenario scenario = small_club();
  scenario.road = scenes::with_landmarks(scenario.road, {500.0});
  scenario.ride.regroup_at_m = {500.0};
  scenario.tactics.turn_s = 33.0;
  scenario.tactics.pace_share_together = 0.77;
  scenario.ride.kind = RideKind::together;
  const RidersAlone riders = ride_each_alone(scenario);
  const GroupLevers levers(scenario, LineupAim::fair, riders, lean_sections(scenario, riders.weakest));
  const GroupPlan own = levers.obvious_plans().front();
  CHECK(own.kind == RideKind::together);
  CHECK(own.turn_s == 33.0);
  CHECK(own.pace_share == 0.77);
  CHECK(own.regroup_at_m == std::vector<double>{500.0});
  const std::vector<GroupPlan> around = levers.neighbours(own);
  CHECK(around.size() == 37);
  int as_before = 0;
  for (const GroupPlan& plan : around) {
    const int changes = (plan.order != own.order) + (plan.regroup_at_m != own.regroup_at_m) + (plan.turn_s != own.turn_s) +
                        (plan.circulate_s != own.circulate_s) + (plan.pace_share != own.pace_share) +
                        (plan.hold_margin != own.hold_margin) + (plan.front_effort != own.front_effort) +
                        (plan.free_climb_fraction != own.free_climb_fraction) + (plan.wprime_reserve != own.wprime_reserve) +
                        (plan.lean != own.lean) + (plan.weakest_effort != own.weakest_effort);
    CHECK(changes <= 1);  // none: the plan itself, at the scenario's own value of a lever
    as_before += changes == 0;
    CHECK(plan.kind == own.kind);
    CHECK(plan.formation == own.formation);
  }
  CHECK(as_before == 7);
}

TEST_CASE("a plan that leans leaves the mean effort over time about as it was", "[lineup]") {
  const Scenario scenario = scenes::scene(scenes::grades({0.01, 0.07, 0.01, 0.07}, 1500.0),
                                          {scenes::plain_rider("Una"), scenes::plain_rider("Vera", 200.0)});
  const Scenario leaning = with_plan(scenario, leaning_plan(0.05), 1);
  const auto mean_W = [&](const Scenario& s) {
    const RiderResult rider = ride_to_end(alone(s, 0)).riders[0];
    return rider.mean_power_W;
  };
  REQUIRE(leaning.plans[0].size() == 4);
  CHECK(mean_W(leaning) == Approx(mean_W(scenario)).epsilon(0.01));  // slopes are weighed by still-air speeds
  CHECK(ride_to_end(alone(leaning, 0)).time_s < ride_to_end(alone(scenario, 0)).time_s);
}

TEST_CASE("nobody changes the effort of a plan that leans within two minutes", "[lineup]") {
  Scenario rolling = scenes::scene(scenes::grades({0.05, -0.02, 0.05, 0.0, 0.06, 0.0}, 125.0), {scenes::plain_rider("Una")});
  CHECK(with_plan(rolling, leaning_plan(0.1), 0).plans[0].size() == 1);
  rolling = scenes::scene(scenes::grades({0.05, 0.0, 0.05, 0.0}, 1500.0), {scenes::plain_rider("Una")});
  rolling = with_plan(rolling, leaning_plan(0.1), 0);
  REQUIRE(rolling.plans[0].size() == 4);
  const RideResult ridden =
      ride_to_end(rolling, {.timing_points_m = {rolling.plans[0][1].from_m, rolling.plans[0][2].from_m}});
  CHECK(ridden.riders[0].timing[1].time_s - ridden.riders[0].timing[0].time_s >= 120.0);
}

TEST_CASE("little flat pays only for a little lean", "[lineup]") {
  const auto efforts = [](const std::vector<LeanSection>& sections) {
    const Scenario s =
        laid_in(scenes::scene(scenes::flat_road(2000.0), {scenes::plain_rider("Una")}), leaning_plan(0.1), 1, sections);
    return std::pair(s.plans[0].front().effort, s.plans[0].back().effort);
  };
  const auto [steep, flat] = efforts({{0.0, 1000.0, 0.0, true, true}, {1000.0, 2000.0, 0.0, false, false}});
  CHECK(std::pair(steep, flat) == std::pair(1.1, 0.9));
  // A tenth of the time on the flat pays for 1.5 times the lean there and no more.
  const auto [most, rest] = efforts({{0.0, 1800.0, 0.0, true, true}, {1800.0, 2000.0, 0.0, false, false}});
  CHECK(most == Approx(1.0 + 0.1 * 1.5 / 9.0).margin(1e-4));
  CHECK(rest == Approx(1.0 - 0.1 * 1.5).margin(1e-4));
}

TEST_CASE("a piece of road is steep above its mean and above 3 percent, with the mean grade of its parts", "[lineup]") {
  const auto sections = [](const std::vector<double>& grades) {
    return lean_sections(scenes::scene(scenes::grades(grades, 1000.0), {scenes::plain_rider("Una")}), 0);
  };
  CHECK(sections({0.0, 0.028, 0.0}).size() == 1);
  const std::vector<LeanSection> climb = sections({0.0, 0.05, 0.09, 0.0});
  REQUIRE(climb.size() == 3);
  CHECK(climb[1].steep);
  CHECK(climb[1].grade == Approx(0.07).margin(0.003));
  CHECK_FALSE(climb[2].steep);
}

TEST_CASE("a plan spares the weakest alone and sets the pace of its own kind of ride", "[lineup]") {
  Scenario s = four_kinds();
  s.tactics.pace_share_steady = 0.61;
  s.tactics.pace_share_together = 0.62;
  GroupPlan plan = leaning_plan(0.0);
  plan.weakest_effort = 0.94;
  plan.kind = RideKind::together;
  const Scenario planned = laid_in(s, plan, 2, {});
  CHECK(planned.tactics.pace_share_together == 0.85);
  CHECK(planned.tactics.pace_share_steady == 0.61);
  CHECK(planned.plans[0].empty());
  REQUIRE(planned.plans[2].size() == 1);
  CHECK(planned.plans[2][0].effort == 0.94);
  plan.kind = RideKind::steady;
  CHECK(laid_in(s, plan, 2, {}).tactics.pace_share_steady == 0.85);
}

TEST_CASE("a ride by strength starts in two groups", "[lineup]") {
  Scenario s = four_kinds();
  s.ride.kind = RideKind::by_strength;
  CHECK(groups_at_start(s) == std::vector<std::vector<std::uint32_t>>{{0, 1}, {2, 3}});
  s.ride.kind = RideKind::steady;
  CHECK(groups_at_start(s).size() == 1);
}
