#include "ride/each_alone.hpp"

#include <algorithm>

namespace leewheel {

namespace {

/// All riders at their sample of that number, or their last one.
RideSample beside_each_other(const std::vector<RideAlone>& rides, std::size_t number) {
  RideSample all;
  for (const RideAlone& ride : rides) {
    if (ride.samples.empty()) continue;
    const RideSample& one = ride.samples[std::min(number, ride.samples.size() - 1)];
    all.time_s = std::max(all.time_s, one.time_s);
    for (const SampleColumn& column : sample_columns()) (all.*column.values).push_back((one.*column.values).front());
  }
  return all;
}

}  // namespace

EachAlone each_alone(const std::vector<RideAlone>& rides) {
  EachAlone all;
  std::size_t longest = 0;
  for (const RideAlone& ride : rides) longest = std::max(longest, ride.samples.size());
  for (std::size_t number = 0; number < longest; ++number) all.samples.push_back(beside_each_other(rides, number));
  for (std::uint32_t i = 0; i < rides.size(); ++i)
    for (Event event : rides[i].result.events) {
      event.riders = {i};
      all.events.push_back(event);
    }
  std::ranges::stable_sort(all.events, {}, &Event::time_s);
  return all;
}

}  // namespace leewheel
