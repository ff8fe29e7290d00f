#pragma once
/// Many rides of a group at once: with progress, and stopped when the caller says so.

#include <atomic>
#include <functional>
#include <mutex>
#include <vector>

#include "leewheel/lineup.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

class GroupRides {
 public:
  /// @param expected  number of rides that progress counts as the whole
  GroupRides(const RidersAlone& riders, double expected, const std::function<bool(double)>& go_on)
      : riders_(riders), expected_(expected), go_on_(go_on) {}

  /// Rides `count` scenarios; each is made when its turn comes. After a stop scores are empty and not to be believed.
  std::vector<PlanScore> ride_all(std::size_t count, const std::function<Scenario(std::size_t)>& scenario_of);
  /// The same for rides that the caller makes; `ride` returns how many it made.
  void each(std::size_t count, const std::function<std::size_t(std::size_t)>& ride);

  const RidersAlone& riders() const { return riders_; }
  std::size_t ridden() const { return ridden_; }
  bool stopped() const { return stopped_; }

 private:
  const RidersAlone& riders_;
  double expected_;
  const std::function<bool(double)>& go_on_;
  std::size_t ridden_ = 0;
  std::mutex progress_mutex_;
  std::atomic<bool> stopped_{false};
};

}  // namespace leewheel
