#pragma once
/// Group plans on drawn days of wind, fitness and coefficients, the same for all of them, each with a seed of its own.

#include <functional>
#include <vector>

#include "plan/group_rides.hpp"

namespace leewheel {

/// Rides every plan on `days` drawn days and fills in what is known from them.
/// @param planned  lays a plan into the scenario, at the step of many rides
void ride_drawn_days(const std::vector<PlanResult*>& plans, std::size_t days,
                     const std::function<Scenario(const GroupPlan&)>& planned, const LineupSettings& settings,
                     GroupRides& rides);

/// What `plan.days` say. Asserts at least one.
void sum_up_days(PlanResult& plan, const LineupSettings& settings);

}  // namespace leewheel
