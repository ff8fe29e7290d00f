#include "plan/group_rides.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

namespace leewheel {

void GroupRides::each(std::size_t count, const std::function<std::size_t(std::size_t)>& ride) {
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
    if (stopped_) return;
    const std::size_t made = ride(k);
    const std::lock_guard lock(progress_mutex_);
    ridden_ += made;
    if (go_on_ && !go_on_(std::min(1.0, static_cast<double>(ridden_) / expected_))) stopped_ = true;
  });
}

std::vector<PlanScore> GroupRides::ride_all(std::size_t count, const std::function<Scenario(std::size_t)>& scenario_of) {
  std::vector<PlanScore> scores(count);
  each(count, [&](std::size_t k) {
    const Scenario scenario = scenario_of(k);
    scores[k] = score_of(scenario, ride_to_end(scenario, {.notes_debts = false, .notes_laws = false}), riders_);
    return std::size_t{1};
  });
  return scores;
}

}  // namespace leewheel
