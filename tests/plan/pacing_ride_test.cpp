/// The rides behind a pacing plan: what is left out of them, and when a plan is kept.

#include "plan/pacing_ride.hpp"

#include <catch2/catch.hpp>

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

/// Ends with that much W', having never had less.
PacedRide ridden(double wbal_J, bool finished = true) {
  return {600.0, wbal_J, {0.0, 300.0, 600.0}, {0.0, 75e3, 150e3}, {20000.0, wbal_J, wbal_J}, finished};
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

TEST_CASE("steps of power reach from two fifths below the even power to a quarter above it", "[pacing]") {
  const Course course = course_of(rehearsal(hill(), 0), {0.0, 1000.0, 2000.0}, 250.0, {});
  CHECK(course.costs.power_W.front() == 150.0);
  CHECK(course.costs.power_W.back() == 310.0);  // the last whole step below 312.5 W
  CHECK(course.costs.power_W.size() == 33);
}

TEST_CASE("with fatigue a section is planned with the strength left half-way through it", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::constant_grade(30000.0, 0.05);
  const std::vector<double> cuts{0.0, 10000.0, 20000.0, 30000.0};
  const Course fresh = course_of(solo, cuts, 200.0, {});
  solo.ride.fatigue = true;
  const Course tired = course_of(solo, cuts, 200.0, {});
  const double half_way_s = 0.5 * (tired.bounds.begins_s[2] + tired.bounds.begins_s[3]);
  CHECK(fresh.bounds.strength[2].critical_power_W == 250.0);
  CHECK(tired.bounds.strength[2].w_prime_J == tired_strength(solo.riders[0].strength(), half_way_s).w_prime_J);
  CHECK(tired.bounds.strength[2].w_prime_J < 0.95 * solo.riders[0].w_prime_J);
}

TEST_CASE("on another day the plan is made with that day's strength", "[pacing]") {
  const Scenario solo = rehearsal(hill(), 0);
  const std::vector<double> cuts{0.0, 1000.0, 2000.0};
  PacingSettings settings;
  settings.calm_s = 0.0;
  const Course course = course_of(solo, cuts, 300.0, settings);
  std::vector<double> weak, strong;
  outcome_on(course, {250.0, 300.0}, 1, 0.9, weak);
  outcome_on(course, {250.0, 300.0}, 1, 1.1, strong);
  CHECK(weak[0] == 250.0);
  CHECK(weak[1] < 300.0);
  CHECK(strong[1] > weak[1] + 40.0);  // a fifth of critical power is 50 W
}

TEST_CASE("cuts lie on landmarks nearer than 60 m, else on whole hundreds", "[pacing]") {
  const auto second = [](double mark_m) {
    Scenario solo = rehearsal(hill(), 0);
    solo.road = scenes::with_landmarks(solo.road, {mark_m});
    PacingSettings settings;
    settings.calm_s = 0.0;
    return section_cuts_m(solo, 240.0, settings)[1];
  };
  CHECK(second(1030.0) == 1030.0);
  CHECK(second(1059.0) == 1059.0);
  CHECK(second(940.0) == 1000.0);  // ends a block of its own
  CHECK(second(1350.0) == 1000.0);
}

TEST_CASE("sections are joined until they are long enough, few enough and different", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  const auto cuts = [&](const PacingSettings& settings) { return section_cuts_m(solo, 240.0, settings); };
  PacingSettings settings;
  settings.calm_s = 0.0;
  CHECK(cuts(settings) == std::vector<double>{0.0, 1000.0, 2000.0});
  settings.most_sections = 1;
  CHECK(cuts(settings) == std::vector<double>{0.0, 2000.0});
  settings.most_sections = 24;
  solo.road = scenes::grades({0.05, 0.051}, 1000.0);
  CHECK(cuts(settings) == std::vector<double>{0.0, 2000.0});
  solo.road = scenes::grades({0.02, 0.02, 0.02, 0.08, 0.02, 0.02, 0.02}, 200.0);
  const std::vector<double> found = cuts(settings);
  for (std::size_t k = 1; k < found.size(); ++k) CHECK(found[k] - found[k - 1] >= settings.least_section_m);
  settings.least_section_m = 200.0;
  CHECK(cuts(settings).size() > found.size());
}

TEST_CASE("a first section longer than the calm start is parted after it", "[pacing]") {
  Scenario solo = rehearsal(hill(), 0);
  solo.road = scenes::constant_grade(4000.0, 0.05);
  PacingSettings settings;
  settings.calm_s = 0.0;
  CHECK(section_cuts_m(solo, 240.0, settings).size() == 2);
  settings.calm_s = 300.0;
  const std::vector<double> cuts = section_cuts_m(solo, 240.0, settings);
  REQUIRE(cuts.size() == 3);
  const PacedRide ride = ride_timed(solo, cuts, {240.0, 240.0});
  CHECK(ride.passed_s[1] >= 300.0);
  CHECK(ride.passed_s[1] < 360.0);
}

TEST_CASE("exchanges leave the start calm, however steep it is", "[pacing]") {
  Scenario s = hill();
  s.road = scenes::grades({0.08, 0.02}, 1000.0);
  PacingSettings settings;
  settings.step_W = 10.0;
  const std::vector<double> cuts{0.0, 500.0, 1000.0, 2000.0};
  const double even_W = 280.0;
  for (const double calm_s : {0.0, 100.0, 300.0}) {
    settings.calm_s = calm_s;
    const Course course = course_of(rehearsal(s, 0), cuts, even_W, settings);
    const std::vector<double> powers = best_powers_from(course, {}, s.riders[0].w_prime_J);
    REQUIRE(powers.size() == 3);
    CHECK((powers[0] > even_W) == (calm_s == 0.0));  // half of the climb takes 130 s
    CHECK((powers[1] > even_W) == (calm_s < 300.0));
  }
}

TEST_CASE("the place to decide begins a section, with the same power on both sides of it", "[pacing]") {
  Scenario s = hill();
  s.road = scenes::constant_grade(4000.0, 0.05);
  PacingSettings settings;
  settings.calm_s = settings.good_day_share = settings.bad_day_share = 0.0;
  settings.days = 0;
  const Pacing plan = best_pacing(s, 0, settings);
  REQUIRE(plan.found);
  REQUIRE(plan.sections.size() == 2);
  CHECK(plan.sections[0].power_W == plan.sections[1].power_W);
  CHECK(plan.sections[1].from_m == plan.decide_at_m);
}
