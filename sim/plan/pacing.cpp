#include "leewheel/pacing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "plan/pacing_days.hpp"
#include "plan/pacing_rows.hpp"

namespace leewheel {

namespace {

constexpr double whole_watt = 1.0, exact_W = 0.05;
constexpr double unsteady_slack_J = 50.0;  // of a mean of rides, which is not sharper

/// What an unsteady leg costs of W' on this plan (J).
double unsteady_cost_J(const Scenario& solo, double effort_wobble, const std::vector<double>& cuts_m,
                       const std::vector<double>& powers_W, double steady_least_J) {
  if (effort_wobble <= 0.0) return 0.0;
  return std::max(0.0, steady_least_J - unsteady_least_J(solo, effort_wobble, cuts_m, powers_W));
}

double even_cost_J(const Scenario& solo, double effort_wobble, double even_W) {
  const std::vector<double> whole{0.0, solo.road.length_m()};
  return unsteady_cost_J(solo, effort_wobble, whole, {even_W}, ride_timed(solo, whole, {even_W}).wbal_least_J);
}

/// What unsteady legs cost depends on the plan: near critical power nothing of it comes back. Changes the plan until it keeps
/// the reserve with such legs; returns what they cost.
double keep_for_unsteady(Course& course, RiddenPlan& plan, double effort_wobble, double reserve_J,
                         const PacingSettings& settings) {
  double cost_J = 0.0;
  for (int round = 0; round < 3; ++round) {
    cost_J = unsteady_cost_J(course.solo, effort_wobble, course.layout.cuts_m, plan.powers_W, plan.ride.wbal_least_J);
    if (plan.ride.wbal_least_J - cost_J >= reserve_J - unsteady_slack_J) break;
    const double more_J = reserve_J + cost_J - course.reserve_J;
    course.reserve_J += more_J;
    for (double& floor_J : course.bounds.floor_J) floor_J = std::max(floor_J, course.reserve_J);
    plan = refined(course, plan, 0.02 * course.even_W, settings);
  }
  return cost_J;
}

/// Even power that leaves the plan's rider as much W' at the lowest. A plan that gains less over it than is worth its changes
/// gives way to it, with less only where the rider is held downhill; not if that costs more than the plan's changes.
void compare_with_even(Pacing& pacing, const Course& course, RiddenPlan& plan, double even_cost_less_J,
                       const PacingSettings& settings) {
  const std::vector<double> whole{0.0, course.solo.road.length_m()};
  pacing.even_power_W = even_power_W(course.solo, plan.ride.wbal_least_J + even_cost_less_J, exact_W);
  if (pacing.even_power_W <= 0.0) pacing.even_power_W = course.even_W;
  pacing.even_time_s = ride_timed(course.solo, whole, {pacing.even_power_W}).time_s;
  const double worth_s = settings.worth_share * pacing.even_time_s;
  pacing.even_is_best = plan.ride.time_s > pacing.even_time_s - worth_s;
  if (!pacing.even_is_best) return;
  RiddenPlan even = even_plan(course, exact_W);
  if (even.ride.time_s <= plan.ride.time_s + worth_s) plan = std::move(even);
}

void tell_limits(Pacing& pacing, const Course& course, const PacingSettings& settings) {
  pacing.hardest_W = settings.hardest_share * course.even_W;
  pacing.easiest_W = settings.easiest_share * course.even_W;
  pacing.calm_s = calm_for_s(pacing.even_time_s, settings);
  pacing.early_J = course.early_J;
}

void fill(Pacing& pacing, Course course, RiddenPlan plan, const PacingSettings& settings) {
  tell_limits(pacing, course, settings);
  tell_rows(pacing, course, plan);
  pacing.cuts_m = course.layout.cuts_m;
  pacing.powers_W = plan.powers_W;
  pacing.time_s = plan.ride.time_s;
  pacing.mean_power_W = plan.ride.pedal_J.back() / plan.ride.time_s;
  pacing.wbal_least_J = plan.ride.wbal_least_J;
  pacing.wbal_end_J = plan.ride.wbal_J.back();
  pacing.decide_at_m = place_to_decide_m(course, plan, settings);
  cut_at(pacing.decide_at_m, course, plan.powers_W);
  const auto decide = static_cast<std::size_t>(
      std::lower_bound(course.layout.cuts_m.begin(), course.layout.cuts_m.end(), pacing.decide_at_m) -
      course.layout.cuts_m.begin());
  pacing.decide_at_s = ride_timed(course.solo, course.layout.cuts_m, plan.powers_W).passed_s[decide];
  pacing.good_day = outcome_on(course, plan.powers_W, decide, 1.0 + settings.good_day_share);
  pacing.bad_day = outcome_on(course, plan.powers_W, decide, 1.0 + settings.bad_day_share);
  pacing.heart = heart_rise(course.solo, plan.powers_W.front());
}

}  // namespace

std::vector<PlanStep> Pacing::steps(double critical_power_W) const { return steps_of(cuts_m, powers_W, critical_power_W); }

Pacing best_pacing(const Scenario& scenario, std::size_t rider, const PacingSettings& settings) {
  assert(rider < scenario.riders.size() && settings.step_W > 0.0 && settings.changes_every_s >= 0.0);
  assert(settings.reserve_share >= 0.0 && settings.reserve_share < 1.0);
  const Scenario solo = surveyed(with_strength(rehearsal(scenario, rider), settings.sustained_share));
  const double wobble = scenario.tactics.effort_wobble;
  Pacing pacing{};
  pacing.rider = scenario.riders[rider].name;
  pacing.recovery_law = solo.ride.recovery_law;
  pacing.reserve_J = reserve_J(solo.riders[0].strength(), settings);
  const double rough_W = even_power_W(solo, pacing.reserve_J, whole_watt);
  if (rough_W <= 0.0) {
    pacing.why_not =
        "no constant power brings the rider to the top with that reserve: too steep for the lowest gear, or over the ride's "
        "time limit";
    return pacing;
  }
  const double even_J = even_cost_J(solo, wobble, rough_W);
  double kept_J = pacing.reserve_J + even_J;
  double even_W = even_power_W(solo, kept_J, exact_W);
  if (even_W <= 0.0) even_W = rough_W, kept_J = pacing.reserve_J;
  Course course = course_of(solo, layout_of(solo, even_W, settings), even_W, kept_J, settings);
  RiddenPlan plan = best_plan(course, settings);
  join_instructions(course, plan, ride_timed(solo, {0.0, solo.road.length_m()}, {even_W}).time_s, settings);
  pacing.unsteady_J = keep_for_unsteady(course, plan, wobble, pacing.reserve_J, settings);
  pacing.found = true;
  compare_with_even(pacing, course, plan, even_J - pacing.unsteady_J, settings);
  fill(pacing, course, plan, settings);
  Scenario lived = solo;
  lived.tactics = scenario.tactics;
  find_range(pacing, lived, settings.days);
  return pacing;
}

}  // namespace leewheel
