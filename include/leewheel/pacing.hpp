#pragma once
/// The best power along the road for one rider alone: least time within the rider's strength, in few instructions that a
/// person can follow. All times come from rides: the planner has no physics of its own.
///
/// How it is solved. The road is parted where it asks for another power (slope, wind, exposure). An instruction is one power,
/// or a rule in two: one where the road rises, one where it falls. Rides in which some sections are ridden otherwise tell
/// what a change of power in a section does to time and work, there and beyond. A sweep over the instructions keeps, for each
/// level of W' left, the least time in which it can be reached (dynamic programming, Bellman 1957, Dynamic Programming,
/// Princeton); the best at the top is ridden, and the round begins anew with smaller steps until none wins. No gradient
/// method, because the optimum sits on corners: W' is lost at full price above critical power and regained at a discount
/// below it.

#include <cstddef>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// The limits that a plan keeps to. Shares of even power are of the highest constant power with the same reserve.
struct PacingSettings {
  double reserve_share = 0.15;  ///< W' never falls below this share of the full store, also at the top; at least 1 % is kept
  double sustained_share = 1.0;  ///< share of critical power planned with; below 1 for long days or hot ones
  double hardest_share = 1.25;   ///< of even power: no harder (assumed)
  double easiest_share = 0.5;    ///< of even power: no easier but where the road falls, there down to rolling (assumed)
  double calm_s = 300.0;         ///< no harder than even power in what begins before this (common practice, no source) ...
  double calm_share = 0.1;  ///< ... or before this share of the even ride's time, which is less on short hills (assumed)
  double changes_every_s = 120.0;  ///< an instruction holds so long at the least (assumed)
  double early_share = 0.3;        ///< of W': kept until the last third of the time that is not spent downhill (assumed)
  double held_share = 0.75;  ///< of critical power: the most downhill where bends or the speed limit hold a rider (assumed)
  std::size_t most_instructions = 24;  ///< more are not kept in mind (assumed)
  double worth_share = 0.001;          ///< of even power's time: a plan that gains less is not worth its changes (assumed)
  double step_W = 1.0;                 ///< powers are whole multiples of it
  double bad_day_share = -0.05;        ///< change of critical power on a bad day (assumed) ...
  double good_day_share = 0.03;        ///< ... and on a good one
  int days = 20;                       ///< drawn for the range (leewheel/uncertainty.hpp)
};

/// One instruction: a stretch ridden at one power, or by a rule in two.
struct PacedSection {
  double from_m, to_m;
  std::string name;     ///< of the landmark where it begins; "start"; or empty
  double grade;         ///< mean, rise over run
  double headwind_mps;  ///< mean at the rider, > 0 slows
  double power_W;       ///< of fresh strength: with the ride's fatigue on it stands for that share of what is left
  bool by_rule;         ///< `power_W` where the road rises or is flat, `falling_W` where it falls
  double falling_W;     ///< else the same as power_W; 0: roll
  bool held;            ///< downhill where bends or the speed limit hold the rider
  double ridden_W;      ///< mean really ridden
  double time_s;        ///< spent in it
  double wbal_end_J;
};

/// Where W' comes back.
enum class Easing : std::uint8_t { flat, dip, lull };
inline constexpr const char* easing_names[] = {"flat", "downhill", "lull in the wind"};
struct Recovery {
  double from_m, to_m;
  Easing easing;
  double time_s, regained_J;
};

/// A ride on one day: with the plan kept exactly, and with every power changed alike from `decide_at_m` on.
struct DayOutcome {
  double critical_power_W;
  double kept_s, kept_least_J;  ///< finish time and lowest W' with the plan as it stands
  double empty_at_m;            ///< where W' first ran out; < 0: never
  double adjusted_s, adjusted_least_J;
  double change_W;  ///< of each power from `decide_at_m` on, but where the plan rolls; whole watts
};

/// Heart rate while it rises to the level of the first section's power.
struct HeartRise {
  double time_s;
  double least_share, share, most_share;  ///< of the whole rise; time constant +-40 % (from memory)
};

struct Pacing {
  bool found = false;  ///< false: `why_not` says why there is no plan
  std::string why_not;
  std::string rider;
  RecoveryLaw recovery_law;
  double reserve_J;
  double unsteady_J;                     ///< of W', kept beside the reserve for what the rider's own unsteadiness costs
  double even_power_W, even_time_s;      ///< the constant power (to 0.05 W) with the same lowest W' as the plan's
  bool even_is_best = false;             ///< no varied plan was quicker by `worth_share`: ride evenly
  std::vector<PacedSection> sections;    ///< in road order
  std::vector<double> cuts_m, powers_W;  ///< as ridden: `powers_W[k]` between `cuts_m[k]` and `cuts_m[k + 1]`
  double time_s, mean_power_W;
  double wbal_least_J, wbal_end_J;
  double hardest_W, easiest_W, calm_s, early_J;  ///< the limits as numbers for this ride
  std::vector<Recovery> recoveries;
  std::vector<std::size_t> easiest;  ///< if W' recovers nowhere: sections with the highest speed for their power
  double decide_at_m,
      decide_at_s;  ///< at a quarter of the time, or sooner if a bad day leaves little W' by then; not atop a wall
  DayOutcome bad_day, good_day;
  double time_low_s, time_high_s;  ///< middle 80 % of the drawn days, the plan kept, with the rider's own unsteadiness
  double gain_low_s, gain_s, gain_high_s;  ///< the same of even power's time minus this plan's, and their middle
  std::vector<HeartRise> heart;

  std::vector<PlanStep> steps(double critical_power_W) const;  ///< as a scenario takes it
};

/// @param rider  index into scenario.riders. Asserts that it is one and that settings are sensible (positive steps and
/// lengths, reserve in [0, 1)). Gusts are left out; the ride's other settings hold.
Pacing best_pacing(const Scenario& scenario, std::size_t rider, const PacingSettings& settings = {});

/// Boundaries of sections: where the road asks for another power of a rider at that power, or begins to rise or fall; on
/// multiples of 25 m or landmarks.
std::vector<double> pacing_cuts_m(const Scenario& scenario, std::size_t rider, double power_W,
                                  const PacingSettings& settings);

}  // namespace leewheel
