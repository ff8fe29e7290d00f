#include "leewheel/lineup.hpp"

#include <algorithm>
#include <cassert>

#include "leewheel/ride_facts.hpp"
#include "plan/group_choice.hpp"
#include "plan/group_days.hpp"
#include "plan/group_description.hpp"
#include "plan/group_levers.hpp"
#include "plan/group_plan.hpp"
#include "plan/group_rides.hpp"
#include "plan/group_search.hpp"

namespace leewheel {

namespace {

constexpr double new_plans_a_descent = 20.0;  // about so many neighbours are not tried before, over all demands
constexpr std::size_t most_in_table = 5;
constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

/// About how many rides it takes, for progress alone.
double expected_rides(const GroupLevers& levers, const LineupSettings& settings) {
  const auto count = [](std::size_t n) { return static_cast<double>(n); };
  const double starts = count(levers.obvious_plans().size() + levers.other_starts().size());
  const double demands = count(GroupSearch::demands(settings).size());
  return starts + demands * new_plans_a_descent * count(settings.starts * settings.rounds) +
         count(2 * settings.finalists_a_demand) + count(most_in_table * settings.days);
}

/// The same plans without their waits, and without each one of them: what a wait buys is seen beside them.
void add_without_waits(std::vector<GroupPlan>& plans) {
  for (std::size_t k = 0, end = plans.size(); k < end; ++k) {
    const std::vector<double> places = plans[k].regroup_at_m;
    if (places.empty() || plans[k].kind == RideKind::race) continue;
    GroupPlan without = plans[k];
    without.name = "found";
    without.regroup_at_m.clear();
    plans.push_back(without);
    for (std::size_t p = 0; p < places.size() && places.size() > 1; ++p) {
      without.regroup_at_m = places;
      without.regroup_at_m.erase(without.regroup_at_m.begin() + static_cast<std::ptrdiff_t>(p));
      plans.push_back(without);
    }
  }
}

/// The obvious plans, then the finalists of the search, each ridden on the day as expected and no ride twice.
std::vector<PlanResult> looked_at(const GroupLevers& levers, const GroupSearch& search,
                                  const std::function<Scenario(const GroupPlan&)>& planned, GroupRides& rides) {
  std::vector<GroupPlan> plans = levers.obvious_plans();
  const std::size_t obvious = plans.size();
  for (const GroupPlan& plan : search.finalists()) plans.push_back(plan);
  add_without_waits(plans);
  std::vector<PlanResult> all(plans.size());
  rides.each(plans.size(), [&](std::size_t k) {
    std::size_t made = 0;
    all[k] = look_closely(plans[k], planned, rides.riders(), made);
    return made;
  });
  std::vector<PlanResult> results;
  for (std::size_t k = 0; k < all.size(); ++k) {
    const auto same = [&](const PlanResult& other) { return same_ride(other.plan, all[k].plan); };
    if (k < obvious || std::none_of(results.begin(), results.end(), same)) results.push_back(all[k]);
  }
  return results;
}

/// Places of those that may be chosen: within the limits, or else all that get everyone home with the margin of W' and wait
/// where a captain would.
std::vector<std::size_t> fit_to_choose(const std::vector<PlanResult>& plans, bool& within_limits) {
  std::vector<std::size_t> fit, otherwise;
  for (std::size_t k = 0; k < plans.size(); ++k) {
    if (plans[k].unfit == Unfit::none) fit.push_back(k);
    if (plans[k].unfit == Unfit::harder || plans[k].unfit == Unfit::held_back || plans[k].unfit == Unfit::too_late)
      otherwise.push_back(k);
  }
  within_limits = !fit.empty();
  return within_limits ? fit : otherwise;
}

/// Fills the table and what is left out of it; the place of the plan clubs ride in the table.
std::size_t fill_table(const std::vector<PlanResult>& plans, std::size_t obvious, Lineup& lineup) {
  const std::vector<std::size_t> fit = fit_to_choose(plans, lineup.within_limits);
  const std::vector<std::size_t> kept =
      worth_choosing(plans, fit, lineup.strong, lineup.aim, GroupLevers::clubs, most_in_table);
  std::size_t clubs = nowhere;
  for (const std::size_t k : kept) {
    if (k == GroupLevers::clubs) clubs = lineup.table.size();
    lineup.table.push_back(plans[k]);
  }
  for (std::size_t k = 0; k < obvious; ++k) {
    const bool shown = k == GroupLevers::clubs && plans[k].unfit == Unfit::none;  // in a row of its own
    if (shown || std::find(kept.begin(), kept.end(), k) != kept.end()) continue;
    lineup.left_out.push_back(plans[k]);
    if (plans[k].unfit == Unfit::none) lineup.left_out.back().unfit = Unfit::beaten;
  }
  lineup.clubs = plans[GroupLevers::clubs];
  if (clubs == nowhere && lineup.clubs.unfit == Unfit::none) lineup.clubs.unfit = Unfit::beaten;
  return clubs;
}

/// Says of every plan whether it may be chosen.
PlanLimits judge(std::vector<PlanResult>& plans, std::size_t obvious, const Scenario& scenario,
                 const LineupSettings& settings, Lineup& lineup) {
  std::vector<const PlanScore*> scores;
  for (std::size_t k = 0; k < obvious; ++k) scores.push_back(&plans[k].expected);
  const PlanLimits limits = limits_of(scores, settings);
  lineup.time_limit_s = limits.last_s, lineup.held_back_limit_s = limits.held_back_s;
  for (PlanResult& plan : plans) plan.unfit = unfit_of(plan, scenario, limits);
  return limits;
}

void choose_from_table(std::size_t clubs, const PlanLimits& limits, Lineup& lineup) {
  const auto excess = [&](const PlanResult& r) { return excess_s(r.expected, limits); };
  lineup.chosen = choose(lineup.table, clubs, lineup.aim);
  if (!lineup.within_limits)
    lineup.chosen = static_cast<std::size_t>(
        std::min_element(lineup.table.begin(), lineup.table.end(),
                         [&](const PlanResult& a, const PlanResult& b) { return excess(a) < excess(b); }) -
        lineup.table.begin());
  for (const PlanResult& r : lineup.table) lineup.against.push_back(duel(lineup.best(), r, lineup.aim));
  lineup.against_clubs = duel(lineup.best(), lineup.clubs, lineup.aim);
}

Lineup about(const LineupSettings& settings, const RidersAlone& riders) {
  Lineup lineup{};
  lineup.aim = settings.aim;
  lineup.weakest = static_cast<std::uint32_t>(riders.weakest);
  lineup.strong = strong_riders(riders);
  lineup.alone_s = riders.time_s;
  lineup.usual_effort = riders.effort;
  return lineup;
}

/// Who starts with whom under the chosen plan, and each beside the same rider alone with the efforts of that plan.
void tell_chosen(const Scenario& planned, Lineup& lineup) {
  lineup.groups = groups_at_start(planned);
  const RidersAlone alone = ride_each_alone(planned);
  for (std::size_t i = 0; i < planned.riders.size(); ++i)
    lineup.door_to_door_saved_s.push_back(alone.finishes(i) ? alone.time_s[i] - lineup.best().expected.finish_s[i]
                                                            : no_value);
}

}  // namespace

Lineup best_lineup(const Scenario& asked, const LineupSettings& settings, const std::function<bool(double)>& go_on) {
  assert(asked.riders.size() >= 2);
  const Scenario scenario = surveyed(asked);
  const RidersAlone riders = ride_each_alone(scenario);
  const std::vector<LeanSection> sections = lean_sections(scenario, riders.weakest);
  const auto planned = [&](const GroupPlan& plan) { return laid_in(scenario, plan, riders.weakest, sections); };
  const auto planned_coarse = [&](const GroupPlan& plan) {
    Scenario coarse = planned(plan);
    coarse.ride.step_s = std::max(coarse.ride.step_s, many_days_step_s);
    return coarse;
  };
  const GroupLevers levers(scenario, settings.aim, riders, sections);
  GroupRides rides(riders, expected_rides(levers, settings), go_on);
  GroupSearch search(planned_coarse, settings, levers, rides);
  search.try_obvious_plans();
  search.search();
  Lineup lineup = about(settings, riders);
  const std::size_t obvious = levers.obvious_plans().size();
  std::vector<PlanResult> plans;
  if (!rides.stopped()) plans = looked_at(levers, search, planned, rides);
  lineup.stopped = rides.stopped();
  if (lineup.stopped) return lineup;

  const PlanLimits limits = judge(plans, obvious, scenario, settings, lineup);
  const std::size_t clubs = fill_table(plans, obvious, lineup);
  lineup.found = !lineup.table.empty();
  std::vector<PlanResult*> to_ride;
  for (PlanResult& row : lineup.table) to_ride.push_back(&row);
  if (lineup.found && clubs == nowhere && lineup.clubs.expected.all_home) to_ride.push_back(&lineup.clubs);
  ride_drawn_days(to_ride, settings.days, planned_coarse, settings, rides);
  lineup.stopped = rides.stopped();
  lineup.rides = scenario.riders.size() + rides.ridden();
  if (lineup.stopped || !lineup.found) return lineup;
  if (clubs != nowhere) lineup.clubs = lineup.table[clubs];
  choose_from_table(clubs, limits, lineup);
  tell_chosen(planned(lineup.best().plan), lineup);
  return lineup;
}

}  // namespace leewheel
