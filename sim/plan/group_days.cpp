#include "plan/group_days.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "leewheel/percentile.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

namespace {

constexpr std::uint64_t days_seed = 1;               // of the drawn days, mixed with the scenario's own
constexpr double better_share = 0.75;                // of the days, for a win (assumed)
constexpr double gain_s = 10.0, gain_effort = 0.01;  // on average, for a win (assumed)

}  // namespace

void sum_up_days(PlanResult& plan, const LineupSettings& settings) {
  assert(!plan.days.empty());
  std::vector<double> last_s;
  double sum = 0.0, kept = 0.0;
  for (const PlanScore& day : plan.days) {
    last_s.push_back(day.last_s);
    sum += aim_value(day, settings.aim);
    kept += within(day, {.margin = settings.wbal_margin_share}) ? 1.0 : 0.0;
  }
  const auto count = static_cast<double>(plan.days.size());
  const Middle80 middle = middle_80(last_s);
  plan.value = sum / count;
  plan.margin_days = kept / count;
  plan.last_low_s = middle.low, plan.last_high_s = middle.high, plan.last_ends_s = middle.ends_error;
}

void ride_drawn_days(const std::vector<PlanResult*>& plans, std::size_t days,
                     const std::function<Scenario(const GroupPlan&)>& planned, const LineupSettings& settings,
                     GroupRides& rides) {
  const std::vector<PlanScore> scores = rides.ride_all(
      plans.size() * days, [&](std::size_t k) { return drawn_day(planned(plans[k / days]->plan), days_seed, k % days); });
  if (rides.stopped()) return;
  for (std::size_t p = 0; p < plans.size(); ++p) {
    const auto first = scores.begin() + static_cast<std::ptrdiff_t>(p * days);
    plans[p]->days.assign(first, first + static_cast<std::ptrdiff_t>(days));
    sum_up_days(*plans[p], settings);
  }
}

PlanDuel duel(const PlanResult& one, const PlanResult& other, LineupAim aim) {
  PlanDuel found;
  const std::size_t days = std::min(one.days.size(), other.days.size());
  for (std::size_t d = 0; d < days; ++d) {
    const double gain = aim_value(other.days[d], aim) - aim_value(one.days[d], aim);
    found.gain += gain / static_cast<double>(days);
    found.days_better += gain > 0.0;
    found.days_worse += gain < 0.0;
  }
  const double counts = aim == LineupAim::time ? gain_s : gain_effort, enough = better_share * static_cast<double>(days);
  found.wins = found.gain >= counts && static_cast<double>(found.days_better) >= enough;
  found.loses = -found.gain >= counts && static_cast<double>(found.days_worse) >= enough;
  return found;
}

}  // namespace leewheel
