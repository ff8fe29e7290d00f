#pragma once
/// The best power along the road for one rider alone: least time within the rider's strength, in sections and whole steps of
/// power that a person can follow. All times come from rides: the planner has no physics of its own.
///
/// How it is solved. The road is cut into sections of about even slope and wind. For each step of power one ride at that
/// power gives time and work in every section. A sweep over the sections keeps, for each level of W' left, the least time in
/// which it can be reached with W' never below the reserve (dynamic programming, Bellman 1957, Dynamic Programming,
/// Princeton); the best at the top is the plan. No gradient method, because the optimum sits on corners: W' is lost at
/// full price above critical power and regained at a discount below it, and power comes in whole steps. What neighbouring
/// sections do to each other by the speed carried over is left to a last round of exchanges, each judged by a real ride.

#include <cstddef>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// What a rider can follow (assumed; the calm first minutes and the small rest at the top: common practice, no source).
struct PacingSettings {
  double reserve_share = 0.15;  ///< W' never falls below this share of the full store, also at the top; at least 1 % is kept
  double sustained_share = 1.0;  ///< share of critical power planned with; below 1 for long days or hot ones
  double least_section_m = 300.0;
  std::size_t most_sections = 24;
  double step_W = 5.0;  ///< powers are whole multiples of it
  double calm_s =
      300.0;  ///< sections begun before this are ridden no harder than the even power; a long one is parted there
  double most_easier = 0.40;     ///< lowest power planned, below the even one, as a share
  double most_harder = 0.25;     ///< highest, above it
  double bad_day_share = -0.05;  ///< change of critical power on a bad day ...
  double good_day_share = 0.03;  ///< ... and on a good one
  int days = 20;                 ///< drawn for the range (leewheel/uncertainty.hpp)
};

/// One stretch ridden at one power.
struct PacedSection {
  double from_m, to_m;
  std::string name;              ///< of the landmark where it begins; "start"; or empty
  double grade;                  ///< mean, rise over run
  double headwind_mps;           ///< mean at the rider, > 0 slows
  double power_W;                ///< of fresh strength: with the ride's fatigue on it stands for that share of what is left
  double good_day_W, bad_day_W;  ///< power from `decide_at_m` on, by the day; power_W before that
  double time_s;                 ///< spent in it
  double wbal_end_J;
};

/// Where W' comes back.
enum class Easing : std::uint8_t { flat, dip, lull };
inline constexpr const char* easing_names[] = {"flat", "dip", "lull in the wind"};
struct Recovery {
  double from_m, to_m;
  Easing easing;
  double time_s, regained_J;
};

/// A ride on one day: with the plan kept exactly, and with the plan changed from `decide_at_m` on.
struct DayOutcome {
  double critical_power_W;
  double kept_s, kept_least_J;  ///< finish time and lowest W' with the plan as it stands
  double empty_at_m;            ///< where W' first ran out; < 0: never
  double adjusted_s, adjusted_least_J;
  double change_W;  ///< mean change of power from `decide_at_m` on
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
  double even_power_W, even_time_s;    ///< the hardest constant power (whole watts) with the same reserve
  bool even_is_best = false;           ///< no varied plan in whole steps was quicker: the plan is the even power
  std::vector<PacedSection> sections;  ///< neighbours with equal power are one, unless a landmark is between them
  double time_s, mean_power_W;
  double wbal_least_J, wbal_end_J;
  std::vector<Recovery> recoveries;
  std::vector<std::size_t> easiest;  ///< if W' recovers nowhere: sections with the highest speed for their power
  double decide_at_m, decide_at_s;   ///< at a quarter of the time, or sooner if a bad day leaves little W' by then
  DayOutcome bad_day, good_day;
  double time_low_s, time_high_s;  ///< middle 80 % of the drawn days, the plan kept
  double gain_low_s, gain_high_s;  ///< the same of even plan minus this plan
  std::vector<HeartRise> heart;

  std::vector<PlanStep> steps(double critical_power_W) const;  ///< as a scenario takes it
};

/// @param rider  index into scenario.riders. Asserts that it is one and that settings are sensible (positive steps and
/// lengths, reserve in [0, 1)). Gusts and the rider's own unsteadiness are left out; the ride's other settings hold.
Pacing best_pacing(const Scenario& scenario, std::size_t rider, const PacingSettings& settings = {});

/// Boundaries of sections: where slope and wind change most for a rider at that power, rounded to places a rider can find
/// (landmarks, else whole hundreds of metres).
std::vector<double> pacing_cuts_m(const Scenario& scenario, std::size_t rider, double power_W,
                                  const PacingSettings& settings);

}  // namespace leewheel
