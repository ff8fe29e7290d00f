/// The rides behind a pacing plan: what is left out of them, and when a plan is kept.

#include "plan/pacing_ride.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "plan/pacing_days.hpp"
#include "plan/pacing_search.hpp"
#include "plan/pacing_sections.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario hill() {
  Scenario s =
      scenes::scene(scenes::grades({0.02, 0.06}, 1000.0), {scenes::plain_rider("Una"), scenes::plain_rider("Vera")});
  s.ride.start_speed_mps = 5.0;
  return s;
}

/// Where instructions begin, and the road's end.
std::vector<double> instructions_m(const Layout& layout) {
  std::vector<double> at;
  for (const std::size_t k : layout.begins) at.push_back(layout.cuts_m[k]);
  at.push_back(layout.cuts_m.back());
  return at;
}

/// Ends with that much W', having never had less.
PacedRide ridden(double wbal_J, bool finished = true) {
  return {600.0, wbal_J, {0.0, 300.0, 600.0}, {0.0, 75e3, 150e3}, {20000.0, wbal_J, wbal_J}, finished, 2};
}

}  // namespace

TEST_CASE("a rehearsal leaves out the others, gusts, unsteadiness, the rider's reserve and instructions", "[pacing]") {
  Scenario s = hill();
  s.wind.gusts = Gusts::on;
  s.tactics.effort_wobble = 0.03;
  s.tactics.wprime_reserve = 0.2;
  s.instructions = {{0, 0.0, 500.0, Choice::alone}};
  const Scenario solo = rehearsal(s, 1);
  REQUIRE(solo.riders.size() == 1);
  CHECK(solo.riders[0].name == "Vera");
  CHECK(solo.wind.gusts == Gusts::off);
  CHECK(solo.tactics.effort_wobble == 0.0);
  CHECK(solo.tactics.wprime_reserve == 0.0);
  CHECK(solo.instructions.empty());
}

TEST_CASE("a plan has a step where the power changes, as a share of critical power", "[pacing]") {
  const std::vector<PlanStep> steps = steps_of({0.0, 500.0, 900.0, 1400.0}, {250.0, 250.0, 200.0, 250.0}, 250.0);
  REQUIRE(steps.size() == 3);
  CHECK(std::pair(steps[0].from_m, steps[0].effort) == std::pair(0.0, 1.0));
  CHECK(std::pair(steps[1].from_m, steps[1].effort) == std::pair(900.0, 0.8));
  CHECK(std::pair(steps[2].from_m, steps[2].effort) == std::pair(1400.0, 1.0));
}

TEST_CASE("a plan keeps its reserve to the joule, arrives, and asks no power that W' does not allow", "[pacing]") {
  const Strength s{250.0, 20000.0, 900.0};
  CHECK(keeps_reserve(ridden(3000.0), {260.0, 260.0}, s, 3000.0));
  CHECK_FALSE(keeps_reserve(ridden(2999.9), {260.0, 260.0}, s, 3000.0));
  CHECK_FALSE(keeps_reserve(ridden(3000.0, false), {260.0, 260.0}, s, 3000.0));
  // 3,000 of 20,000 J allow 250 + 650 * 0.15 = 347.5 W.
  CHECK(keeps_reserve(ridden(3000.0), {260.0, 347.0}, s, 3000.0));
  CHECK_FALSE(keeps_reserve(ridden(3000.0), {260.0, 348.0}, s, 3000.0));
}

TEST_CASE("the reserve is never less than a hundredth of W'", "[pacing]") {
  PacingSettings settings;
  settings.reserve_share = 0.0;
  CHECK(reserve_J({250.0, 20000.0, 900.0}, settings) == 200.0);
  settings.reserve_share = 0.02;
  CHECK(reserve_J({250.0, 20000.0, 900.0}, settings) == 400.0);
}

TEST_CASE("the first place where something holds is looked for from the first second on", "[pacing]") {
  const Scenario solo = rehearsal(hill(), 0);
  const std::vector<double> cuts{0.0, 2000.0}, powers{240.0};
  double first_s = -1.0;
  const double at_m = first_place_m(solo, cuts, powers, [&](double time_s, double) {
    first_s = time_s;
    return true;
  });
  CHECK(first_s == Approx(1.0));
  CHECK(at_m == Approx(5.0).epsilon(0.2));
  CHECK(first_place_m(solo, cuts, powers, [](double, double) { return false; }) < 0.0);
}

TEST_CASE("even power is the hardest that keeps the reserve, to what is asked", "[pacing]") {
  const Scenario solo = rehearsal(hill(), 0);
  const std::vector<double> whole{0.0, solo.road.length_m()};
  const auto least_J = [&](double power_W) { return ride_timed(solo, whole, {power_W}).wbal_least_J; };
  for (const double exact_W : {1.0, 0.05}) {
    const double even_W = even_power_W(solo, 3000.0, exact_W);
    CHECK(least_J(even_W) >= 3000.0);
    CHECK(least_J(even_W + exact_W) < 3000.0);
  }
}

TEST_CASE("unsteady legs cost W' near critical power", "[pacing]") {
  const Scenario solo = rehearsal(hill(), 0);
  const std::vector<double> whole{0.0, solo.road.length_m()};
  const double steady_J = ride_timed(solo, whole, {255.0}).wbal_least_J;
  CHECK(unsteady_least_J(solo, 0.0, whole, {255.0}) == steady_J);
  CHECK(unsteady_least_J(solo, 0.05, whole, {255.0}) < steady_J);
}

TEST_CASE("powers are bound by the limits of the settings", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::grades({0.03, 0.06, -0.03, 0.05}, 2000.0);
  const PacingSettings settings;
  const Layout layout = layout_of(solo, 250.0, settings);
  REQUIRE(instructions_m(layout) == std::vector<double>{0.0, 900.0, 2000.0, 4025.0, 5975.0, 8000.0});  // calm for 900 m
  const Course course = course_of(solo, layout, 250.0, 3000.0, settings);
  const std::size_t falling = layout.begins[3], last = layout.sections() - 1;
  CHECK(layout.falls[falling]);
  CHECK(course.bounds.most_W[layout.lever[0]] == 250.0);
  CHECK(course.bounds.most_W[layout.lever[last]] == 312.5);
  CHECK(course.bounds.least_W[layout.lever[last]] == 125.0);
  CHECK(course.bounds.least_W[layout.lever[falling]] == 0.0);
  CHECK(course.bounds.floor_J[0] == 6000.0);
  CHECK(course.bounds.floor_J[last] == 3000.0);
  CHECK_FALSE(course.held[falling]);
}

TEST_CASE("downhill, where the speed limit holds the rider, three quarters of critical power are the most", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::grades({0.06, -0.06, 0.06}, 2000.0);
  solo.tactics.descent_speed_mps = 12.0;
  const PacingSettings settings;
  const Layout layout = layout_of(solo, 250.0, settings);
  const Course course = course_of(solo, layout, 250.0, 3000.0, settings);
  for (std::size_t k = 0; k < layout.sections(); ++k) {
    CHECK(course.held[k] == layout.falls[k]);
    if (layout.falls[k]) CHECK(course.bounds.most_W[layout.lever[k]] == 187.5);
  }
}

TEST_CASE("with fatigue a section is planned with the strength left half-way through it", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::constant_grade(30000.0, 0.05);
  Layout layout{{0.0, 10000.0, 20000.0, 30000.0}, {false, false, false}, {0, 1, 2}, {0, 1, 2}};
  const Course fresh = course_of(solo, layout, 200.0, 3000.0, {});
  solo.ride.fatigue = true;
  const Course tired = course_of(solo, layout, 200.0, 3000.0, {});
  const PacedRide even = ride_timed(solo, layout.cuts_m, {200.0, 200.0, 200.0});
  CHECK(fresh.bounds.strength[2].critical_power_W == 250.0);
  CHECK(tired.bounds.strength[2].w_prime_J ==
        tired_strength(solo.riders[0].strength(), 0.5 * (even.passed_s[2] + even.passed_s[3])).w_prime_J);
  CHECK(tired.bounds.strength[2].w_prime_J < 0.95 * solo.riders[0].w_prime_J);
}

TEST_CASE("the rule of another day changes every power alike and keeps the reserve as ridden", "[pacing]") {
  const Scenario solo = rehearsal(hill(), 0);
  const Layout layout{{0.0, 1000.0, 2000.0}, {false, false}, {0, 1}, {0, 1}};
  const Course course = course_of(solo, layout, 260.0, 3000.0, {});
  const std::vector<double> powers{250.0, 290.0};
  for (const double share : {0.9, 0.95, 1.03, 1.1}) {
    const DayOutcome day = outcome_on(course, powers, 1, share);
    INFO("share " << share << ", change " << day.change_W);
    CHECK((share < 1.0 ? day.change_W <= 0.0 : day.change_W >= 0.0));
    CHECK(day.adjusted_least_J >= 3000.0);
    CHECK(day.change_W == std::round(day.change_W));
    if (share > 1.0) CHECK(day.adjusted_s <= day.kept_s);
    const Scenario then = with_strength(solo, share);
    const std::vector<double> harder{250.0, 291.0 + day.change_W};
    if (day.change_W != 0.0)
      CHECK_FALSE(keeps_reserve(ride_timed(then, layout.cuts_m, harder), harder, then.riders[0].strength(), 3000.0));
  }
}

TEST_CASE("where the plan rolls and where the rider is held the day changes nothing", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  const Layout layout{{0.0, 500.0, 1000.0, 2000.0}, {false, false, false}, {0, 1, 2}, {0, 1, 2}};
  Course course = course_of(solo, layout, 250.0, 3000.0, {});
  course.held[1] = true;
  CHECK(changed_from(course, {200.0, 100.0, 250.0}, 0, 10.0) == std::vector<double>{210.0, 100.0, 260.0});
  CHECK(changed_from(course, {200.0, 100.0, 0.0}, 1, -10.0) == std::vector<double>{200.0, 100.0, 0.0});
}

TEST_CASE("cuts lie on landmarks nearer than 60 m, else where the road changes", "[pacing]") {
  const auto second = [](double mark_m) {
    Scenario solo = rehearsal(hill(), 0);
    solo.road = scenes::with_landmarks(solo.road, {mark_m});
    PacingSettings settings;
    settings.calm_s = 0.0;
    return instructions_m(layout_of(solo, 240.0, settings))[1];
  };
  CHECK(second(1030.0) == 1030.0);
  CHECK(second(1059.0) == 1059.0);
  CHECK(second(945.0) == 945.0);
  CHECK(second(1350.0) == 1000.0);
}

TEST_CASE("instructions hold as long as asked, are few enough and differ", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  const auto cuts = [&](const PacingSettings& settings) { return instructions_m(layout_of(solo, 240.0, settings)); };
  PacingSettings settings;
  settings.calm_s = 0.0;
  CHECK(cuts(settings) == std::vector<double>{0.0, 1000.0, 2000.0});
  settings.most_instructions = 1;
  CHECK(cuts(settings) == std::vector<double>{0.0, 2000.0});
  settings.most_instructions = 24;
  solo.road = scenes::grades({0.05, 0.051}, 1000.0);
  CHECK(cuts(settings) == std::vector<double>{0.0, 2000.0});
  solo.road = scenes::grades({0.02, 0.02, 0.02, 0.08, 0.02, 0.02, 0.02}, 200.0);
  const std::vector<double> found = cuts(settings);
  const PacedRide ride = ride_timed(solo, found, std::vector<double>(found.size() - 1, 240.0));
  for (std::size_t k = 1; k < found.size(); ++k) CHECK(ride.passed_s[k] - ride.passed_s[k - 1] >= settings.changes_every_s);
  settings.changes_every_s = 30.0;
  CHECK(cuts(settings).size() > found.size());
}

TEST_CASE("short rises and falls make a rule in two powers", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::grades({0.05, -0.05, 0.05, -0.05, 0.05, -0.05, 0.05, -0.05}, 300.0);
  PacingSettings settings;
  settings.calm_s = 0.0;
  const Layout layout = layout_of(solo, 240.0, settings);
  CHECK(layout.cuts_m == std::vector<double>{0.0, 300.0, 600.0, 900.0, 1200.0, 1500.0, 1800.0, 2100.0, 2400.0});
  for (std::size_t k = 0; k < 8; ++k) CHECK(layout.falls[k] == (k % 2 == 1));
  const PacedRide ride = ride_timed(solo, layout.cuts_m, std::vector<double>(8, 240.0));
  for (std::size_t i = 0; i < layout.begins.size(); ++i) {
    CHECK(ride.passed_s[layout.end_of(i)] - ride.passed_s[layout.begins[i]] >= settings.changes_every_s);
    for (std::size_t k = layout.begins[i] + 2; k < layout.end_of(i); ++k) CHECK(layout.lever[k] == layout.lever[k - 2]);
  }
}

TEST_CASE("a first section longer than the calm start is parted after it, which is short on a short hill", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  PacingSettings settings;
  const auto parted_after_s = [&](double length_m) {
    solo.road = scenes::constant_grade(length_m, 0.05);
    const Layout layout = layout_of(solo, 240.0, settings);
    REQUIRE(layout.begins.size() == 2);
    return ride_timed(solo, {0.0, layout.cuts_m[layout.begins[1]], length_m}, {240.0, 240.0}).passed_s[1];
  };
  CHECK(parted_after_s(20000.0) == Approx(315.0).epsilon(0.02));
  const double short_s = ride_timed(solo, {0.0, 3000.0}, {240.0}).time_s;
  CHECK(parted_after_s(3000.0) < 0.2 * short_s);
  settings.calm_s = 0.0;
  solo.road = scenes::constant_grade(4000.0, 0.05);
  CHECK(layout_of(solo, 240.0, settings).begins.size() == 1);
}

TEST_CASE("the search leaves the start calm, however steep it is", "[pacing]") {
  Scenario s = hill();
  s.road = scenes::grades({0.08, 0.02}, 1000.0);
  PacingSettings settings;
  settings.early_share = 0.0;
  settings.calm_share = 1.0;
  const Layout layout{{0.0, 500.0, 1000.0, 2000.0}, {false, false, false}, {0, 1, 2}, {0, 1, 2}};
  const double even_W = 280.0;
  for (const double calm_s : {0.0, 100.0, 300.0}) {
    settings.calm_s = calm_s;
    const RiddenPlan plan = best_plan(course_of(rehearsal(s, 0), layout, even_W, 3000.0, settings), settings);
    CHECK((plan.powers_W[0] > even_W) == (calm_s == 0.0));  // half of the climb takes 130 s
    CHECK((plan.powers_W[1] > even_W) == (calm_s < 300.0));
  }
}
