#include "plan/group_score.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

namespace leewheel {

namespace {

constexpr double forbidden = 1e6;        // added to the value of a plan that may not be; twice where not everyone is home
constexpr double wbal_price_s = 1000.0;  // of a whole W' missing, beside a second too late
constexpr double harder_price_s = 1e4;   // of a whole critical power too much

double effort_of(const RiderResult& ridden, const RiderSettings& rider) {
  return ridden.ledger.pedal_J / std::max(1.0, ridden.finish_time_s - ridden.waited_s) / rider.critical_power_W;
}

}  // namespace

RidersAlone ride_each_alone(const Scenario& asked) {
  const Scenario scenario = surveyed(asked);
  const auto& r = scenario.riders;
  RidersAlone found{std::vector<double>(r.size()), std::vector<double>(r.size()), 0};
  tbb::parallel_for(std::size_t{0}, r.size(), [&](std::size_t i) {
    const RiderResult rider = ride_to_end(alone(scenario, i), {.notes_debts = false, .notes_laws = false}).riders[0];
    found.time_s[i] = rider.finished ? rider.finish_time_s : RidersAlone::not_home_s - rider.distance_m;
    found.effort[i] = effort_of(rider, r[i]);
  });
  std::size_t& weakest = found.weakest;
  for (std::size_t i = 0; i < r.size(); ++i)
    if (found.time_s[i] > found.time_s[weakest] || (found.time_s[i] == found.time_s[weakest] && r[i].name < r[weakest].name))
      weakest = i;
  return found;
}

PlanScore score_of(const Scenario& scenario, const RideResult& result, const RidersAlone& alone) {
  PlanScore score;
  score.all_home = true;
  double hardest = 0.0, easiest = 1e9;
  score.wbal_least_share = 1e9;
  score.harder_share = -1.0;
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& r = result.riders[i];
    score.all_home = score.all_home && r.finished;
    score.last_s = std::max(score.last_s, r.finish_time_s);
    score.mean_s += r.finish_time_s / static_cast<double>(result.riders.size());
    score.longest_wait_s = std::max(score.longest_wait_s, r.waited_s);
    const double effort = effort_of(r, scenario.riders[i]);
    const double wbal_share = r.wbal_least_J / scenario.riders[i].w_prime_J;
    score.effort.push_back(effort);
    score.wbal_share.push_back(wbal_share);
    score.finish_s.push_back(r.finish_time_s);
    score.later_s.push_back(alone.finishes(i) ? r.finish_time_s - alone.time_s[i] : 0.0);
    score.held_back_s = std::max(score.held_back_s, score.later_s.back());
    score.harder_share = std::max(score.harder_share, effort / std::max(0.01, alone.effort[i]) - 1.0);
    hardest = std::max(hardest, effort);
    easiest = std::min(easiest, effort);
    score.wbal_least_share = std::min(score.wbal_least_share, wbal_share);
    if (i == alone.weakest) score.weakest_effort = effort;
  }
  score.unfairness = hardest - easiest;
  return score;
}

double aim_value(const PlanScore& score, LineupAim aim) {
  switch (aim) {
    case LineupAim::time: return score.last_s;
    case LineupAim::weakest: return score.weakest_effort;
    case LineupAim::fair: return score.unfairness;
  }
  return 0.0;
}

bool within(const PlanScore& score, const PlanLimits& limits) {
  return score.all_home && score.wbal_least_share >= limits.margin &&
         (limits.last_s <= 0.0 || score.last_s <= limits.last_s) && score.harder_share <= limits.harder_share &&
         score.held_back_s <= limits.held_back_s;
}

double excess_s(const PlanScore& score, const PlanLimits& limits) {
  const auto over = [](double value, double limit) { return std::max(0.0, value - limit); };
  return (score.all_home ? 0.0 : forbidden) + wbal_price_s * over(limits.margin, score.wbal_least_share) +
         (limits.last_s > 0.0 ? over(score.last_s, limits.last_s) : 0.0) +
         harder_price_s * over(score.harder_share, limits.harder_share) + over(score.held_back_s, limits.held_back_s);
}

double search_value(const PlanScore& score, LineupAim aim, const PlanLimits& limits) {
  return within(score, limits) ? aim_value(score, aim) : forbidden + excess_s(score, limits);
}

}  // namespace leewheel
