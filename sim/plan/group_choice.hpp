#pragma once
/// Which of the plans looked at are worth choosing between, and which of them is chosen.

#include <vector>

#include "plan/group_score.hpp"

namespace leewheel {

/// The limits as asked; that of time from the quickest obvious plan that keeps to the others (if none does, to the margin
/// of W'), for the aims that need one.
PlanLimits limits_of(const std::vector<const PlanScore*>& obvious, const LineupSettings& settings);

/// Why the plan may not be chosen on the day as expected.
Unfit unfit_of(const PlanResult& plan, const Scenario& scenario, const PlanLimits& limits);

/// Columns of the table: the quickest half of the others than the weakest, four at most.
std::vector<std::uint32_t> strong_riders(const RidersAlone& riders);

/// Places of the few plans worth choosing between: none is beaten by another, none much like one before it, the best for the
/// aim first. At most `most`.
/// @param prefer  of plans much alike this one is kept, even if the other is better by a hair in every column
std::vector<std::size_t> worth_choosing(const std::vector<PlanResult>& plans, const std::vector<std::size_t>& from,
                                        const std::vector<std::uint32_t>& strong, LineupAim aim, std::size_t prefer,
                                        std::size_t most);

/// The place of the plan to choose, from what drawn days say. Of those that keep the margin of W' on enough days, or else on
/// most: the best on average, or what is as good on the days: that with the shortest longest wait (to the minute), of those
/// the plan clubs ride, then the first of the table. For the aim `time` a plan that waits longer than another must bring the
/// last home `wait_must_buy` seconds sooner for each second of it.
/// @param clubs  its place; past the end: not there
inline constexpr double wait_must_buy = 0.2;  // (assumed)
std::size_t choose(const std::vector<PlanResult>& table, std::size_t clubs, LineupAim aim);

}  // namespace leewheel
