#pragma once
/// From ways ridden on many days to a verdict.

#include <array>
#include <vector>

#include "leewheel/weigh.hpp"

namespace leewheel {

/// All ways of one rider on one day.
using WaysOfDay = std::array<WayRidden, ways_to_ride>;

/// Ways, verdict and the days with a wheel; `reason` and `rider` are left open.
Weighing judged(const std::vector<WaysOfDay>& days);

}  // namespace leewheel
