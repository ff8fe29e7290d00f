#include "plan/group_days.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/group_score.hpp"

namespace leewheel {

namespace {

constexpr double bad_day = -1.5;  // standard deviations of critical power

double mean_last_s(const PlanResult& result) {
  double sum = 0.0;
  for (const PlanScore& day : result.days) sum += day.last_s;
  return sum / static_cast<double>(result.days.size());
}

}  // namespace

std::vector<NamedDay> days_of(const Scenario& scenario, std::size_t weakest) {
  Draw usual;
  usual.own.resize(scenario.riders.size());
  std::vector<NamedDay> days{{"as expected", usual}};
  const auto shared = [&](const char* name, Input input, double z) {
    days.push_back({name, usual});
    days.back().draw.shared[static_cast<std::size_t>(input)] = z;
  };
  shared("more wind", Input::wind_speed, 1.0);
  shared("less wind", Input::wind_speed, -1.0);
  shared("wind veered", Input::wind_direction, 1.0);
  shared("wind backed", Input::wind_direction, -1.0);
  constexpr std::size_t cp = static_cast<std::size_t>(Input::critical_power) - shared_inputs;
  days.push_back({"weakest on a bad day", usual});
  days.back().draw.own[weakest][cp] = bad_day;
  days.push_back({"others on a bad day", usual});
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    if (i != weakest) days.back().draw.own[i][cp] = bad_day;
  return days;
}

PlanResult over_days(const GroupPlan& plan, const std::vector<PlanScore>& days, LineupAim aim) {
  PlanResult result{plan, days.front(), days};
  double sum = 0.0;
  result.value_low = std::numeric_limits<double>::infinity(), result.value_high = -result.value_low;
  for (const PlanScore& day : days) {
    const double value = aim_value(day, aim);
    sum += value;
    result.value_low = std::min(result.value_low, value);
    result.value_high = std::max(result.value_high, value);
  }
  result.value = sum / static_cast<double>(days.size());
  return result;
}

void judge(std::vector<PlanResult>& results, std::size_t obvious, const LineupSettings& settings, Lineup& lineup) {
  double quickest_s = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < obvious; ++k)
    if (within(results[k].expected, settings.wbal_margin_share, 0.0))
      quickest_s = std::min(quickest_s, mean_last_s(results[k]));
  const bool limited = settings.aim != LineupAim::time && std::isfinite(quickest_s);
  lineup.time_limit_s = limited ? (1.0 + settings.time_limit_share) * quickest_s : 0.0;
  const PlanResult* best = nullptr;
  for (PlanResult& r : results) {
    const bool holds = std::all_of(r.days.begin(), r.days.end(),
                                   [&](const PlanScore& day) { return within(day, settings.wbal_margin_share, 0.0); });
    r.allowed = holds && (!limited || mean_last_s(r) <= lineup.time_limit_s);
    if (r.allowed && (!best || r.value < best->value)) best = &r;
  }
  lineup.found = best != nullptr;
  if (best) lineup.best = *best;
  lineup.obvious.assign(results.begin(), results.begin() + static_cast<std::ptrdiff_t>(obvious));
}

}  // namespace leewheel
