#pragma once
/// Riders who each rode the road alone, put beside each other as if recorded together.

#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// One rider's ride alone as it was recorded: one rider a sample, the last sample where the ride ended.
struct RideAlone {
  RideResult result;
  std::vector<RideSample> samples;
};

struct EachAlone {
  std::vector<RideSample> samples;  ///< in the order of the rides; who is home earlier stays there
  std::vector<Event> events;        ///< by time; riders are indices in the order of the rides
};

/// Samples of all rides are taken at the same times, but for the last of each. Throws nothing; at least one ride.
EachAlone each_alone(const std::vector<RideAlone>& rides);

}  // namespace leewheel
