/// What a rider's plan asks of the rider.

#include <fmt/format.h>

#include <algorithm>

#include "app/oddities.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/integral_wbal.hpp"
#include "leewheel/low_gear.hpp"
#include "ride/watch.hpp"

namespace leewheel {

/// Rides the plan alone, at the step of many days, and adds up what it asks of W'. A rider cannot give more than there is, so the
/// ride itself never shows it.
void look_at_plan(const Scenario& scenario, std::size_t i, const ShownUnits& units, std::vector<Oddity>& list) {
  const RiderSettings& r = scenario.riders[i];
  Scenario lone = alone(scenario, i);
  lone.ride.step_s = std::max(lone.ride.step_s, many_days_step_s);
  Ride ride(lone, {.notes_debts = false});
  const RecoveryLaw law = scenario.ride.recovery_law;
  IntegralWbal spent;
  double left_J = r.w_prime_J, empty_at_m = -1.0, before_s = 0.0;
  const RideResult result = watch(ride, {10.0 * ride.step_s()}, [&](const RideView& view) {
    const double at_m = view.ride.first_distance_m(), passed_s = view.time_s() - before_s;
    before_s = view.time_s();
    if (passed_s > 0.0) {
      const double power_W = planned_power_W(scenario, i, at_m);
      spent.add(power_W - r.critical_power_W, IntegralWbal::Decay(passed_s));
      left_J = law == RecoveryLaw::integral ? r.w_prime_J - spent.spent_J()
                                            : wbal_after_J(law, r.strength(), left_J, power_W, passed_s);
    }
    if (left_J < 0.0 && empty_at_m < 0.0) empty_at_m = at_m;
  });
  const RiderResult& ridden = result.riders.front();
  if (!ridden.finished)
    list.push_back({r.name, fmt::format("alone, by the plan, gets to {} only", odd_place(ridden.distance_m, units)),
                    "too steep for the lowest gear, too little power, or the time limit",
                    "check power, gear (lowest_development_m) and ride.time_limit_s"});
  else if (empty_at_m >= 0.0 && r.target_effort <= 1.0)
    list.push_back({r.name,
                    fmt::format("the plan asks for more than the rider has from {} on", odd_place(empty_at_m, units)),
                    "W' is used up there, and what follows is ridden at critical power",
                    "plan less before it; leewheel pace finds a plan that lasts"});
}

}  // namespace leewheel
