#pragma once
/// How good a ride under a group plan is, for what the plan is wanted for.

#include "leewheel/lineup.hpp"

namespace leewheel {

/// Each rider alone on the road.
struct RidersAlone {
  std::vector<double> time_s;  ///< by rider; who does not finish is slower than all who do
  std::vector<double> effort;  ///< by rider: mean share of critical power
  std::size_t weakest = 0;     ///< the slowest
  bool finishes(std::size_t rider) const { return time_s[rider] < not_home_s / 2.0; }
  static constexpr double not_home_s = 1e9;  ///< less the metres ridden: who gets further counts as quicker
};
RidersAlone ride_each_alone(const Scenario& scenario);

PlanScore score_of(const Scenario& scenario, const RideResult& result, const RidersAlone& alone);

/// What the aim asks (s, or share of critical power); smaller is better.
double aim_value(const PlanScore& score, LineupAim aim);

/// What a plan must keep to on one day.
struct PlanLimits {
  double margin = 0.0;  ///< share of W' below which nobody falls
  double last_s = 0.0;  ///< the last is at the finish by then; 0: no limit
  double harder_share = 1e9, held_back_s = 1e9;
};

bool within(const PlanScore& score, const PlanLimits& limits);

/// By how much the limits are broken, everything in seconds; 0 within. Larger than any time where not everyone is home.
double excess_s(const PlanScore& score, const PlanLimits& limits);

/// What the search makes small: the aim, with a price on what may not be that shows the way back.
double search_value(const PlanScore& score, LineupAim aim, const PlanLimits& limits);

}  // namespace leewheel
