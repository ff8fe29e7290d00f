#include "plan/pacing_search.hpp"

#include <algorithm>
#include <cmath>

#include "plan/pacing_tables.hpp"

namespace leewheel {

namespace {

constexpr double unrest_sPW = 0.005;  // of two plans about as fast, the one with smaller changes: so much a watt (assumed)
constexpr int rounds_a_step = 3, asked_again = 6;
constexpr double quicker_s = 1e-3, asked_more_J = 10.0;

/// How far W' falls below what it must not (J).
double shortage_J(const Course& course, const PacedRide& ride) {
  double most_J = course.reserve_J - ride.wbal_least_J;
  for (std::size_t k = 0; k < course.bounds.floor_J.size(); ++k)
    most_J = std::max(most_J, course.bounds.floor_J[k] - ride.wbal_J[k + 1]);
  return most_J;
}

/// What the search makes small: time, and a little for every watt of change from one instruction to the next.
double burden_s(const Course& course, const RiddenPlan& plan) {
  double change_W = 0.0;
  for (std::size_t i = 1; i < course.layout.begins.size(); ++i) {
    const std::size_t k = course.layout.begins[i];
    change_W += std::abs(plan.powers_W[k] - plan.powers_W[course.layout.begins[i - 1]]);
  }
  return plan.ride.time_s + unrest_sPW * change_W;
}

RiddenPlan ridden(const Course& course, const std::vector<double>& powers_W) {
  return {powers_W, ride_timed(course.solo, course.layout.cuts_m, powers_W)};
}

/// Floors for the sweep: what the tables promise a plan of these choices above what it has when ridden is asked for as well.
std::vector<double> floors_by_tables_J(const Course& course, const PacedRide& ride, const SectionCosts& costs,
                                       const std::vector<std::size_t>& choices) {
  std::vector<double> floors_J = course.bounds.floor_J;
  double wbal_J = course.solo.riders[0].w_prime_J;
  for (std::size_t k = 0; k < floors_J.size(); ++k) {
    const Strength& strength = course.bounds.strength[k];
    const double time_s = costs.time_s[k][choices[k]], mean_W = costs.work_J[k][choices[k]] / time_s;
    if (!std::isfinite(time_s)) return course.bounds.floor_J;
    wbal_J = std::min(strength.w_prime_J, wbal_after_J(course.bounds.law, strength, wbal_J, mean_W, time_s));
    floors_J[k] += wbal_J - ride.wbal_J[k + 1];
  }
  return floors_J;
}

/// What the sweep makes of the choices about a plan, ridden. The tables are right for small changes only: each ride tells by
/// how much they promise too much or too little, and the sweep is asked again. The quickest that keeps the limits; `plan`
/// itself if none does.
RiddenPlan swept(const Course& course, const RiddenPlan& plan, const Choices& choices) {
  const SectionCosts costs = costs_about(course, plan.powers_W, choices);
  PacingBounds bounds = course.bounds;
  RiddenPlan best = plan;
  std::vector<double> last;
  double more_J = 0.0;  // for what W' falls below within sections
  for (int round = 0; round < asked_again; ++round) {
    const std::vector<std::size_t> chosen = fastest_choices(course.layout, costs, bounds, course.solo.riders[0].w_prime_J);
    if (chosen.empty()) break;
    std::vector<double> powers;
    for (std::size_t k = 0; k < chosen.size(); ++k) powers.push_back(costs.power_W[k][chosen[k]]);
    if (powers == last) break;
    last = powers;
    RiddenPlan found = ridden(course, powers);
    bounds.floor_J = floors_by_tables_J(course, found.ride, costs, chosen);
    const bool keeps = keeps_limits(course, found);
    if (!keeps) more_J += std::max(asked_more_J, 0.5 * shortage_J(course, found.ride));
    for (double& floor_J : bounds.floor_J) floor_J += more_J;
    if (keeps && (!keeps_limits(course, best) || burden_s(course, found) < burden_s(course, best))) best = std::move(found);
  }
  return best;
}

}  // namespace

bool keeps_limits(const Course& course, const RiddenPlan& plan) {
  if (!keeps_reserve(plan.ride, plan.powers_W, course.solo.riders[0].strength(), course.reserve_J)) return false;
  for (std::size_t k = 0; k < plan.powers_W.size(); ++k)
    if (plan.ride.wbal_J[k + 1] < course.bounds.floor_J[k] - 1e-6) return false;
  return true;
}

RiddenPlan refined(const Course& course, RiddenPlan plan, double first_step_W, const PacingSettings& settings) {
  const double first = std::max(1.0, std::round(first_step_W / settings.step_W));
  for (double steps = first; steps >= 1.0; steps = std::floor(0.5 * steps)) {
    for (int round = 0; round < rounds_a_step; ++round) {
      RiddenPlan found = swept(course, plan, about(course, plan.powers_W, steps * settings.step_W));
      const bool mends = !keeps_limits(course, plan) && keeps_limits(course, found);
      if (!mends && burden_s(course, found) >= burden_s(course, plan) - quicker_s) break;
      plan = std::move(found);
    }
  }
  return plan;
}

RiddenPlan even_plan(const Course& course, double step_W) {
  std::vector<double> powers;
  for (const std::size_t lever : course.layout.lever)
    powers.push_back(step_W * std::floor(std::min(course.even_W, course.bounds.most_W[lever]) / step_W + 1e-6));
  return ridden(course, powers);
}

RiddenPlan best_plan(const Course& course, const PacingSettings& settings) {
  const RiddenPlan even = even_plan(course, settings.step_W);
  RiddenPlan best = even;
  // On rolling roads what a rise costs depends on how the fall before it was ridden: hence a second start.
  for (const double eased : {0.0, 0.5}) {
    RiddenPlan start = even;
    for (std::size_t k = 0; k < start.powers_W.size(); ++k)
      if (course.layout.falls[k]) start.powers_W[k] = std::floor((1.0 - eased) * start.powers_W[k]);
    if (start.powers_W == even.powers_W && eased > 0.0) break;
    start.ride = ride_timed(course.solo, course.layout.cuts_m, start.powers_W);
    RiddenPlan found = swept(course, start, whole_range(course, settings));
    found = refined(course, std::move(found), 0.05 * course.even_W, settings);
    if (keeps_limits(course, found) && burden_s(course, found) < burden_s(course, best)) best = std::move(found);
  }
  return best;
}

std::vector<double> changed_from(const Course& course, const std::vector<double>& powers_W, std::size_t from,
                                 double change_W) {
  std::vector<double> changed = powers_W;
  for (std::size_t k = from; k < changed.size(); ++k)
    if (changed[k] > 0.0 && !course.held[k]) changed[k] = std::max(0.0, changed[k] + change_W);
  return changed;
}

double most_change_W(const Course& course, const Scenario& day, const std::vector<double>& powers_W, std::size_t from,
                     double least_W, double most_W) {
  const Strength strength = day.riders[0].strength();
  const auto keeps = [&](double change_W) {
    const std::vector<double> powers = changed_from(course, powers_W, from, change_W);
    return keeps_reserve(ride_timed(day, course.layout.cuts_m, powers), powers, strength, course.reserve_J);
  };
  double low = std::ceil(least_W), high = std::floor(most_W) + 1.0;
  while (high - low > 1.0) {
    const double middle = std::floor(0.5 * (low + high));
    (keeps(middle) ? low : high) = middle;
  }
  return low;
}

}  // namespace leewheel
