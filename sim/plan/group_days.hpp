#pragma once
/// Group plans over several winds and days of fitness, and which of them is the best.

#include <string>
#include <vector>

#include "leewheel/lineup.hpp"

namespace leewheel {

struct NamedDay {
  std::string name;
  Draw draw;
};

/// Days that differ in one thing each, by one standard deviation of the scenario's uncertainty (fitness by one and a half).
/// The first is the day as expected.
std::vector<NamedDay> days_of(const Scenario& scenario, std::size_t weakest);
inline constexpr std::size_t other_days = 6;  ///< of `days_of`, beside the first

/// A plan with its scores by day, the expected one first.
PlanResult over_days(const GroupPlan& plan, const std::vector<PlanScore>& days, LineupAim aim);

/// Says which results are allowed and which of them is the best. The first `obvious` results are the obvious plans, which set
/// the limit of time over the days and may win themselves.
void judge(std::vector<PlanResult>& results, std::size_t obvious, const LineupSettings& settings, Lineup& lineup);

}  // namespace leewheel
