#include "plan/group_tally.hpp"

#include <algorithm>

namespace leewheel {

void GroupTally::operator()(const RideView& view) {
  if (!view.whole_interval) return;
  std::size_t largest = 1;
  double first_m = 0.0;
  size_of_.clear();
  for (std::size_t i = 0; i < view.riders(); ++i) {
    if (!view.on_road(i) || view.role(i) == Role::waiting) return;
    first_m = std::max(first_m, view.distance_m(i));
    if (view.group(i) == no_group) continue;
    const auto id = static_cast<std::size_t>(view.group(i));
    if (size_of_.size() <= id) size_of_.resize(id + 1, 0);
    largest = std::max(largest, ++size_of_[id]);
  }
  Looks& looks = looks_.at(first_m);
  ++looks.all;
  looks.whole += largest == view.riders();
  looks.largest_share += static_cast<double>(largest) / static_cast<double>(view.riders());
}

void GroupTally::into(RunOutcome& run) const {
  for (const Looks& looks : looks_.sums()) {
    run.whole_share.push_back(looks.all ? static_cast<double>(looks.whole) / looks.all : -1.0);
    run.largest_share.push_back(looks.all ? looks.largest_share / looks.all : -1.0);
  }
}

}  // namespace leewheel
