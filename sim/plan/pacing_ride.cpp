#include "plan/pacing_ride.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <cassert>
#include <cmath>
#include <numeric>

#include "ride/watch.hpp"

namespace leewheel {

namespace {

Scenario with_plan_of(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W) {
  Scenario as_planned = solo;
  as_planned.plans = {steps_of(cuts_m, powers_W, as_planned.riders[0].critical_power_W)};
  return as_planned;
}

}  // namespace

Scenario rehearsal(const Scenario& scenario, std::size_t rider) {
  Scenario solo = alone(scenario, rider);
  solo.wind.gusts = Gusts::off;
  solo.tactics.effort_wobble = 0.0;
  solo.tactics.wprime_reserve = 0.0;  // the plan keeps the reserve
  solo.instructions.clear();
  return solo;
}

Scenario with_strength(const Scenario& solo, double critical_share) {
  Scenario day = solo;
  day.riders[0].critical_power_W *= critical_share;
  return day;
}

std::vector<PlanStep> steps_of(const std::vector<double>& cuts_m, const std::vector<double>& powers_W,
                               double critical_power_W) {
  std::vector<PlanStep> plan;
  for (std::size_t k = 0; k < powers_W.size(); ++k)
    if (k == 0 || powers_W[k] != powers_W[k - 1]) plan.push_back({cuts_m[k], powers_W[k] / critical_power_W});
  return plan;
}

PacedRide ride_timed(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W) {
  assert(cuts_m.size() == powers_W.size() + 1);
  const Scenario as_planned = with_plan_of(solo, cuts_m, powers_W);
  const RideResult result = ride_to_end(
      as_planned, {.notes_debts = false, .notes_laws = false, .timing_points_m = {cuts_m.begin() + 1, cuts_m.end()}});
  const RiderResult& rider = result.riders[0];
  PacedRide ride{rider.finish_time_s, rider.wbal_least_J, {0.0}, {0.0}, {as_planned.riders[0].w_prime_J},
                 rider.finished,      rider.timing.size()};
  for (const Passage& passage : rider.timing) {
    ride.passed_s.push_back(passage.time_s);
    ride.pedal_J.push_back(passage.pedal_J);
    ride.wbal_J.push_back(passage.wbal_J);
  }
  if (ride.finished) ride.wbal_J.back() = rider.wbal_end_J;
  while (ride.passed_s.size() < cuts_m.size()) {  // not reached within the ride's time limit
    ride.passed_s.push_back(rider.finish_time_s);
    ride.pedal_J.push_back(rider.ledger.pedal_J);
    ride.wbal_J.push_back(rider.wbal_end_J);
  }
  return ride;
}

double unsteady_least_J(const Scenario& solo, double effort_wobble, const std::vector<double>& cuts_m,
                        const std::vector<double>& powers_W) {
  std::vector<double> least_J(8);
  tbb::parallel_for(std::size_t{0}, least_J.size(), [&](std::size_t k) {
    Scenario unsteady = solo;
    unsteady.tactics.effort_wobble = effort_wobble;
    unsteady.ride.seed += k;
    least_J[k] = ride_timed(unsteady, cuts_m, powers_W).wbal_least_J;
  });
  return std::accumulate(least_J.begin(), least_J.end(), 0.0) / static_cast<double>(least_J.size());
}

double even_power_W(const Scenario& solo, double reserve_J, double exact_W) {
  const Strength s = solo.riders[0].strength();
  const auto keeps = [&](double power) {
    return keeps_reserve(ride_timed(solo, {0.0, solo.road.length_m()}, {power}), {power}, s, reserve_J);
  };
  double low = std::floor(0.98 * s.critical_power_W), high = std::floor(s.peak_power_W);
  if (!keeps(low) && !keeps(low = std::floor(0.5 * s.critical_power_W))) return 0.0;
  for (double step = 4.0; low + step < high; step *= 2.0) {
    if (!keeps(low + step)) {
      high = low + step;
      break;
    }
    low += step;
  }
  long steps = std::lround((high - low) / exact_W);
  while (steps > 1) {
    const long half = steps / 2;
    const bool harder = keeps(low + static_cast<double>(half) * exact_W);
    if (harder) low += static_cast<double>(half) * exact_W;
    steps = harder ? steps - half : half;
  }
  return low;
}

double first_place_m(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W,
                     const std::function<bool(double time_s, double wbal_J)>& holds) {
  double at_m = -1.0;
  Ride ride(with_plan_of(solo, cuts_m, powers_W), {.notes_debts = false, .notes_laws = false});
  watch(ride, {1.0, [&](const Ride&) { return at_m < 0.0; }}, [&](const RideView& view) {
    if (view.whole_interval && holds(view.time_s(), view.now.wbal_J[0])) at_m = view.distance_m(0);
  });
  return at_m;
}

bool keeps_reserve(const PacedRide& ride, const std::vector<double>& powers_W, const Strength& strength, double reserve_J) {
  if (!ride.finished || ride.wbal_least_J < reserve_J - 1e-6) return false;
  for (std::size_t k = 0; k < powers_W.size(); ++k)
    if (powers_W[k] > strength.critical_power_W && powers_W[k] > power_limit_W(strength, ride.wbal_J[k + 1])) return false;
  return true;
}

}  // namespace leewheel
