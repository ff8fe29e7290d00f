#pragma once
/// How good a ride under a group plan is, for what the plan is wanted for.

#include "leewheel/lineup.hpp"

namespace leewheel {

PlanScore score_of(const Scenario& scenario, const RideResult& result, std::size_t weakest);

/// What the aim asks (s, or share of critical power); smaller is better.
double aim_value(const PlanScore& score, LineupAim aim);

/// Everyone home, nobody's W' below the share `margin`, and the last within `limit_s` (0: no limit).
bool within(const PlanScore& score, double margin, double limit_s);

/// What the search makes small: the aim, with a price on what may not be that shows the way back.
double search_value(const PlanScore& score, LineupAim aim, double margin, double limit_s);

}  // namespace leewheel
