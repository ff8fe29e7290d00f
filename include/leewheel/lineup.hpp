#pragma once
/// The group's plan: kind of ride, order, turns, where to climb freely and wait, in one group or in two. Found by riding a
/// few hundred plans; the model's own rules decide inside each ride who can hold what. A small search on purpose: from the
/// plan clubs ride, other obvious plans and a few more, one setting at a time (coordinate descent). The plans worth choosing
/// between are then ridden on drawn days. It finds a good plan, not a proven best.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "leewheel/ensemble.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// What a plan is good for.
enum class LineupAim : std::uint8_t { time, weakest, fair };
inline constexpr std::array<std::string_view, 3> lineup_aim_names{
    "time",     // the last is at the finish soonest
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
  double lean = 0.0;      ///< share by which all ride harder on steep road and easier elsewhere, at the same mean effort;
                          ///< nobody changes within two minutes
  double weakest_effort = 1.0;  ///< factor on the weakest rider's own plan
};

inline constexpr double usual_held_back_s = 15 * 60.0;  // (assumed)

/// Limits hold on the day as expected.
struct LineupSettings {
  LineupAim aim = LineupAim::time;
  double wbal_margin_share = 0.05;  ///< nobody's W' falls below this share, there and on `margin_days_share` of drawn days
                                    ///< (assumed)
  double harder_share = 0.05;  ///< nobody's mean effort is above the rider's own alone by more than this share (assumed)
  double held_back_s = usual_held_back_s;  ///< nobody is at the finish later than alone by more
  double time_limit_share = 0.03;          ///< weakest, fair: how much slower than the quickest obvious plan (assumed)
  std::size_t starts = 3, rounds = 2;      ///< of the search: number of best plans to improve, and rounds of changes
  std::size_t finalists_a_demand = 3;      ///< looked at closely: for each demand on W' left
  std::size_t days = 100;                  ///< drawn days on which each plan of the table is ridden
};
inline constexpr double margin_days_share = 0.95;  // of drawn days on which the margin of W' must hold (assumed)
inline constexpr double least_wait_s = 60.0;       // nobody stops for less at a place chosen here (assumed)

/// One ride under a plan.
struct PlanScore {
  bool all_home = false;
  double last_s = 0.0, mean_s = 0.0;
  double weakest_effort = 0.0;    ///< mean share of critical power while riding
  double unfairness = 0.0;        ///< largest minus smallest mean share of critical power
  double wbal_least_share = 0.0;  ///< lowest W' of anyone, share of that rider's own
  double longest_wait_s = 0.0;
  double harder_share = 0.0;                         ///< largest of effort over the rider's own alone, less 1
  double held_back_s = 0.0;                          ///< largest of `later_s`
  std::vector<double> effort, wbal_share, finish_s;  ///< by rider: mean share of critical power, lowest share of W', time
  std::vector<double> later_s;  ///< by rider: at the finish, waits included, later than alone; 0 for who is not home alone
};

/// How one group shares the front on one stretch.
struct GroupTurns {
  std::vector<std::uint32_t> line;  ///< from the first: by when they lead, then those who sit in
  std::vector<double> turn_s;       ///< as `line`: length of a turn in round numbers; 0: sits in
  bool own_pace = false;            ///< everyone rides at the own pace: no turns
  /// The first of the line leads all the time.
  bool stays_in_front() const {
    return !own_pace && line.size() > 1 && std::ranges::count_if(turn_s, [](double s) { return s > 0.0; }) == 1;
  }
  friend bool operator==(const GroupTurns&, const GroupTurns&) = default;
};

/// What the plan needs between two landmarks, from a ride under it.
struct LineupStretch {
  RoadStretch where;
  double grade, headwind_mps, crosswind_mps;
  double front_speed_mps, front_power_W;  ///< of whoever leads the largest group
  bool in_a_line;                         ///< else everyone rides at the own pace, as `StretchOfRide::in_a_line`
  double saved_W, saved_share;            ///< as `StretchOfRide`
  std::vector<double> front_s;            ///< by rider: time in front of others in a line; 0 where the form is `own_pace`
  enum class Form : std::uint8_t { single_file, two_abreast, circulating, echelon, own_pace } form;
  double first_arrives_s = 0.0, last_arrives_s = 0.0;  ///< at its end
  std::vector<GroupTurns> groups{};                    ///< who ride together most of the stretch, from the first on the road
};
inline constexpr const char* form_names[] = {"single file", "two abreast", "double line, circulating", "echelon in the lane",
                                             "each rider at his or her own pace"};

struct RegroupWait {
  double at_m;
  std::string name;  ///< of a landmark there; may be empty
  std::uint32_t first_rider, last_rider;
  double first_waits_s;
  double first_arrives_s = 0.0, first_goes_on_s = 0.0;
};

/// Why a plan may not be chosen.
enum class Unfit : std::uint8_t { none, not_home, runs_dry, bad_place, harder, held_back, too_late, beaten };
inline constexpr std::array<std::string_view, 8> unfit_names{
    "none",
    "not_home",   // not everyone gets home
    "runs_dry",   // someone's W' falls below the margin
    "bad_place",  // waits where no captain would
    "harder",     // asks more of someone than the own usual effort allows
    "held_back",  // someone is later than alone by more than the limit
    "too_late",   // later than the limit of time of the aim
    "beaten"};    // another plan is as good or better in every column of the table

struct PlanResult {
  GroupPlan plan;
  PlanScore expected{};                    ///< on the day of the scenario
  std::vector<LineupStretch> stretches{};  ///< on that day
  std::vector<RegroupWait> waits{};        ///< on that day
  std::vector<PlanScore> days{};           ///< drawn, the same for all plans; empty for those not in the table
  double value = 0.0;                      ///< mean of the aim's measure over those days (s, or share); smaller is better
  double last_low_s = 0.0, last_high_s = 0.0;  ///< the last at the finish: 8 of 10 of those days
  double last_ends_s = 0.0;                    ///< how still those two ends stand: their larger standard error
  double margin_days = 0.0;                    ///< share of those days with everyone home and the margin of W' kept
  Unfit unfit = Unfit::none;
};

/// One plan beside another on the same drawn days. `value` of the aim: s, or share.
struct PlanDuel {
  double gain = 0.0;  ///< mean of the other's value less this one's; > 0 better
  std::size_t days_better = 0, days_worse = 0;
  bool wins = false, loses = false;  ///< holds on the days; neither: as good as the other
};

struct Lineup {
  bool found = false;  ///< false: no plan brings everyone home within the W' margin
  LineupAim aim;
  std::uint32_t weakest;              ///< slowest alone
  std::vector<std::uint32_t> strong;  ///< quickest alone first; the upper half, four at most: columns of the table
  std::vector<double> alone_s;        ///< by rider
  std::vector<double> usual_effort;   ///< by rider: mean share of critical power alone
  /// By rider, of the chosen plan: as `door_to_door_saved_s`. Alone there is with the plan's own efforts, here `alone_s` is
  /// with the usual ones.
  std::vector<double> door_to_door_saved_s;
  double time_limit_s = 0.0;  ///< 0 for aim `time`
  double held_back_limit_s = 0.0;
  bool within_limits = true;                       ///< false: no plan keeps to the limits; the chosen one is nearest to them
  std::vector<PlanResult> table;                   ///< none of them beaten by another in every column, `columns_of`
  std::size_t chosen = 0;                          ///< place in `table`
  std::vector<PlanDuel> against;                   ///< as `table`: the chosen plan beside that one
  PlanResult clubs;                                ///< the plan clubs ride, in the table or not
  PlanDuel against_clubs;                          ///< the chosen plan beside it
  std::vector<PlanResult> left_out;                ///< obvious plans not in the table; `unfit` says why
  std::vector<std::vector<std::uint32_t>> groups;  ///< at the start of the chosen plan: one, or the two of a split
  std::size_t rides = 0;
  bool stopped = false;  ///< by `go_on`; the other members are not valid then
  const PlanResult& best() const { return table[chosen]; }
};

/// Efforts are rounded to 1e-4, so that a plan written down is the plan ridden.
Scenario with_plan(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest);

/// Places where a captain may let the first wait for the last: a landmark where standing is not too steep, not in the last
/// kilometre (m, rising).
std::vector<double> places_to_wait(const Road& road);

/// What a choice is made by, on the day as expected, smaller is better: when the last is at the finish (s), the weakest's
/// effort, by strong rider how much later than alone (s), longest wait (s), and for the aim `fair` the spread of efforts.
std::vector<double> columns_of(const PlanResult& plan, const std::vector<std::uint32_t>& strong, LineupAim aim);

/// As good in every column and better in one.
bool beats(const std::vector<double>& one, const std::vector<double>& other);

/// One plan beside another on drawn days. It wins where it is better on three days of four and by a gain that counts on
/// average (10 s, or one hundredth of critical power; assumed).
PlanDuel duel(const PlanResult& one, const PlanResult& other, LineupAim aim);

/// @param go_on  called by one thread at a time with the share of rides done; false stops the search
/// The answer depends only on scenario and settings, not on threads. Asserts at least two riders.
Lineup best_lineup(const Scenario& scenario, const LineupSettings& settings, const std::function<bool(double)>& go_on = {});

}  // namespace leewheel
