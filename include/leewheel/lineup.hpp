#pragma once
/// The group's plan: kind of ride, order, lengths of pulls, where to climb freely and wait, in one group or in two
/// groups. Found by riding a few hundred plans; the model's own rules decide inside each ride who can hold what. A small
/// search on purpose: from the obvious plans and a few others, one setting at a time (coordinate descent), then the best
/// against the obvious ones over several winds and days of fitness. It finds a good plan, not a proven best.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "leewheel/ensemble.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// What a plan is good for.
enum class LineupAim : std::uint8_t { time, weakest, fair };
inline constexpr std::array<std::string_view, 3> lineup_aim_names{
    "time",     // the last is home soonest
    "weakest",  // the weakest works least: mean share of critical power while riding, within a limit of time
    "fair"};    // everyone works alike: largest minus smallest of those shares, within a limit of time

/// A plan simple enough for a captain to announce. `with_plan` puts it into a scenario.
struct GroupPlan {
  std::string name;
  RideKind kind = RideKind::steady;
  Formation formation = Formation::turns;
  std::string order_rule;  ///< in words
  std::vector<std::string> order;
  std::vector<double> regroup_at_m;
  double turn_s, circulate_s;
  double pace_share;  ///< share of the group that the pace must suit, for the kind of the plan
  double hold_margin, front_effort, free_climb_fraction;
  double wprime_reserve;  ///< share of W' at which a rider lets costly wheels go and leaves the front
  double lean = 0.0;      ///< share by which all ride harder on steep road and easier elsewhere, at the same mean effort
  double weakest_effort = 1.0;  ///< factor on the weakest rider's own plan
};

struct LineupSettings {
  LineupAim aim = LineupAim::time;
  double wbal_margin_share = 0.05;  ///< nobody's W' falls below this share, on any of the days (assumed)
  double time_limit_share = 0.03;   ///< weakest, fair: how much slower than the quickest obvious plan is allowed (assumed)
  std::size_t starts = 3, rounds = 2;  ///< of the search: number of best plans to improve, and rounds of changes
  std::size_t finalists_a_demand =
      4;  ///< ridden on all days beside the obvious plans: for each demand on W' left on the expected day
};

/// One ride under a plan.
struct PlanScore {
  bool all_home = false;
  double last_s = 0.0, mean_s = 0.0;
  double weakest_effort = 0.0;    ///< mean share of critical power while riding
  double unfairness = 0.0;        ///< largest minus smallest mean share of critical power
  double wbal_least_share = 0.0;  ///< lowest W' of anyone, share of that rider's own
  double longest_wait_s = 0.0;
  std::vector<double> effort, wbal_share,
      finish_s;  ///< by rider: mean share of critical power, lowest share of W', time at the top
};

struct PlanResult {
  GroupPlan plan;
  PlanScore expected;           ///< on the day of the scenario
  std::vector<PlanScore> days;  ///< the same day first
  double value = 0.0;           ///< mean over the days of the aim's measure (s, or share); smaller is better
  double value_low = 0.0, value_high = 0.0;
  bool allowed = false;  ///< W' margin, everyone home, limit of time
};

/// What the plan needs between two landmarks, from a ride under it.
struct LineupStretch {
  RoadStretch where;
  double grade, headwind_mps, crosswind_mps;
  double front_speed_mps, front_power_W;  ///< of whoever leads the largest group
  double in_line_share;                   ///< of riders' time on a wheel, in front of a line or drifting back
  double saved_share;                     ///< of their power alone, by riders in a line, the first included
  std::vector<double> front_s;            ///< by rider: time in front of a line
  enum class Form : std::uint8_t { single_file, two_abreast, circulating, echelon, own_pace } form;
};
inline constexpr const char* form_names[] = {"single file", "two abreast", "double line, circulating", "echelon in the lane",
                                             "each rider at his or her own pace"};

struct RegroupWait {
  double at_m;
  std::string name;
  std::uint32_t first_rider, last_rider;
  double first_waits_s;
};

struct Pull {
  std::uint32_t rider;
  std::size_t turns;
  double in_front_s;  ///< of a line of two or more
};

struct Lineup {
  bool found = false;  ///< false: no plan brings everyone home within the W' margin
  LineupAim aim;
  std::uint32_t weakest;      ///< slowest alone
  double time_limit_s = 0.0;  ///< mean over the days; 0 for aim `time`
  PlanResult best;
  std::vector<PlanResult> obvious;
  std::vector<std::string> day_names;
  std::vector<LineupStretch> stretches;
  std::vector<RegroupWait> waits;
  std::vector<Pull> pulls;
  std::vector<std::vector<std::uint32_t>> groups;  ///< one, or the two of a split
  double best_whole = 0.0, best_split = 0.0;       ///< value of the best that was allowed, mean over the days; 0: none was
  std::vector<std::vector<std::uint32_t>> split_groups;  ///< the two groups tried
  std::size_t rides = 0;
  bool stopped = false;  ///< by `go_on`; the other members are not valid then
};

/// Efforts are rounded to 1e-4, so that a plan written down is the plan ridden.
Scenario with_plan(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest);

/// @param go_on  called by one thread at a time with the share of rides done; false stops the search
/// The answer depends only on scenario and settings, not on threads. Asserts at least two riders.
Lineup best_lineup(const Scenario& scenario, const LineupSettings& settings, const std::function<bool(double)>& go_on = {});

}  // namespace leewheel
