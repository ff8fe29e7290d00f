#include "plan/group_score.hpp"

#include <algorithm>

namespace leewheel {

namespace {

constexpr double forbidden = 1e6;      // added to the value of a plan that may not be; twice where not everyone is home
constexpr double wbal_price = 1000.0;  // of a whole W' missing, beside a second too late

}  // namespace

PlanScore score_of(const Scenario& scenario, const RideResult& result, std::size_t weakest) {
  PlanScore score;
  score.all_home = true;
  double hardest = 0.0, easiest = 1e9;
  score.wbal_least_share = 1e9;
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& r = result.riders[i];
    const RiderSettings& s = scenario.riders[i];
    score.all_home = score.all_home && r.finished;
    score.last_s = std::max(score.last_s, r.finish_time_s);
    score.mean_s += r.finish_time_s / static_cast<double>(result.riders.size());
    score.longest_wait_s = std::max(score.longest_wait_s, r.waited_s);
    const double effort = r.ledger.pedal_J / std::max(1.0, r.finish_time_s - r.waited_s) / s.critical_power_W;
    const double wbal_share = r.wbal_least_J / s.w_prime_J;
    score.effort.push_back(effort);
    score.wbal_share.push_back(wbal_share);
    score.finish_s.push_back(r.finish_time_s);
    hardest = std::max(hardest, effort);
    easiest = std::min(easiest, effort);
    score.wbal_least_share = std::min(score.wbal_least_share, wbal_share);
    if (i == weakest) score.weakest_effort = effort;
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

bool within(const PlanScore& score, double margin, double limit_s) {
  return score.all_home && score.wbal_least_share >= margin && (limit_s <= 0.0 || score.last_s <= limit_s);
}

double search_value(const PlanScore& score, LineupAim aim, double margin, double limit_s) {
  if (within(score, margin, limit_s)) return aim_value(score, aim);
  const double wbal_missing = std::max(0.0, margin - score.wbal_least_share);
  const double late_s = limit_s > 0.0 ? std::max(0.0, score.last_s - limit_s) : 0.0;
  return forbidden * (score.all_home ? 1.0 : 2.0) + late_s + wbal_price * wbal_missing;
}

}  // namespace leewheel
