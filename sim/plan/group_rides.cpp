#include "plan/group_rides.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

#include "plan/group_score.hpp"

namespace leewheel {

std::vector<PlanScore> GroupRides::ride_all(std::size_t count, const std::function<Scenario(std::size_t)>& scenario_of) {
  std::vector<PlanScore> scores(count);
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
    if (stopped_) return;
    const Scenario scenario = scenario_of(k);
    scores[k] = score_of(scenario, ride_to_end(scenario, {.notes_debts = false}), weakest_);
    const std::lock_guard lock(progress_mutex_);
    done_share_ = std::min(1.0, done_share_ + 1.0 / expected_);
    if (go_on_ && !go_on_(done_share_)) stopped_ = true;
  });
  ridden_ += count;
  return scores;
}

}  // namespace leewheel
