#include "leewheel/lineup.hpp"

#include <cassert>

#include "plan/group_days.hpp"
#include "plan/group_description.hpp"
#include "plan/group_levers.hpp"
#include "plan/group_plan.hpp"
#include "plan/group_rides.hpp"
#include "plan/group_search.hpp"

namespace leewheel {

namespace {

constexpr double new_plans_a_descent = 60.0;  // about so many neighbours are not tried before, over all demands

/// About how many rides a search takes, for progress alone.
double expected_rides(const GroupLevers& levers, const LineupSettings& settings) {
  const auto count = [](std::size_t n) { return static_cast<double>(n); };
  const double obvious = count(levers.obvious_plans().size()), others = count(levers.other_starts().size());
  const double finalists = count(GroupSearch::demands(settings).size() * settings.finalists_a_demand) + obvious;
  return obvious + others + new_plans_a_descent * count(settings.starts * settings.rounds) + count(other_days) * finalists;
}

/// The plans at these places on all days; the expected day is ridden already.
std::vector<PlanResult> ride_other_days(const GroupSearch& search, const std::vector<std::size_t>& places,
                                        const std::vector<NamedDay>& days,
                                        const std::function<Scenario(const GroupPlan&)>& planned, LineupAim aim,
                                        GroupRides& rides) {
  const std::size_t others = days.size() - 1;
  const std::vector<PlanScore> scores = rides.ride_all(places.size() * others, [&](std::size_t k) {
    return on_day(planned(search.tried(places[k / others]).plan), days[1 + k % others].draw);
  });
  std::vector<PlanResult> results;
  for (std::size_t p = 0; p < places.size(); ++p) {
    const TriedPlan& tried = search.tried(places[p]);
    std::vector<PlanScore> by_day{tried.score};
    for (std::size_t d = 0; d < others; ++d) by_day.push_back(scores[p * others + d]);
    results.push_back(over_days(tried.plan, by_day, aim));
  }
  return results;
}

/// The best of each that is allowed, over the days.
void compare_split(const std::vector<PlanResult>& results, const std::function<Scenario(const GroupPlan&)>& planned,
                   Lineup& lineup) {
  const PlanResult* split = nullptr;
  const PlanResult* whole = nullptr;
  for (const PlanResult& r : results) {
    const PlanResult*& best = splits(r.plan) ? split : whole;
    if (r.allowed && (!best || r.value < best->value)) best = &r;
  }
  if (whole) lineup.best_whole = whole->value;
  if (!split) return;
  lineup.best_split = split->value;
  lineup.split_groups = groups_at_start(planned(split->plan));
}

}  // namespace

Lineup best_lineup(const Scenario& scenario, const LineupSettings& settings, const std::function<bool(double)>& go_on) {
  assert(scenario.riders.size() >= 2);
  const RidersAlone riders = ride_each_alone(scenario);
  const std::vector<LeanSection> sections = lean_sections(scenario, riders.weakest);
  const auto planned = [&](const GroupPlan& plan) { return laid_in(scenario, plan, riders.weakest, sections); };
  const GroupLevers levers(scenario, settings.aim, riders, sections);
  GroupRides rides(riders.weakest, expected_rides(levers, settings), go_on);
  GroupSearch search(planned, settings, levers, rides);

  std::vector<std::size_t> finalists = search.try_obvious_plans();
  const std::size_t obvious = finalists.size();
  search.search();
  search.choose_finalists(finalists);
  const std::vector<NamedDay> days = days_of(scenario, riders.weakest);
  std::vector<PlanResult> results = ride_other_days(search, finalists, days, planned, settings.aim, rides);

  Lineup lineup{};
  lineup.aim = settings.aim;
  lineup.weakest = static_cast<std::uint32_t>(riders.weakest);
  for (const NamedDay& day : days) lineup.day_names.push_back(day.name);
  lineup.stopped = rides.stopped();
  lineup.rides = scenario.riders.size() + rides.ridden();
  if (lineup.stopped) return lineup;
  judge(results, obvious, settings, lineup);
  compare_split(results, planned, lineup);
  if (!lineup.found) return lineup;
  const Scenario best = planned(lineup.best.plan);
  lineup.groups = groups_at_start(best);
  describe(best, lineup);
  return lineup;
}

}  // namespace leewheel
