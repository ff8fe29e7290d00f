#pragma once
/// Many rides of a group at once, scored: with progress, and stopped when the caller says so.

#include <atomic>
#include <functional>
#include <mutex>
#include <vector>

#include "leewheel/lineup.hpp"

namespace leewheel {

class GroupRides {
 public:
  /// @param expected  number of rides that progress counts as the whole
  GroupRides(std::size_t weakest, double expected, const std::function<bool(double)>& go_on)
      : weakest_(weakest), expected_(expected), go_on_(go_on) {}

  /// Rides `count` scenarios; each is made when its turn comes. After a stop scores are empty and not to be believed.
  std::vector<PlanScore> ride_all(std::size_t count, const std::function<Scenario(std::size_t)>& scenario_of);

  std::size_t ridden() const { return ridden_; }
  bool stopped() const { return stopped_; }

 private:
  std::size_t weakest_;
  double expected_;
  const std::function<bool(double)>& go_on_;
  std::size_t ridden_ = 0;
  double done_share_ = 0.0;
  std::mutex progress_mutex_;
  std::atomic<bool> stopped_{false};
};

}  // namespace leewheel
