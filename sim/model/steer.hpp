#pragma once
/// One step across the road.

#include <span>

#include "model/riders.hpp"

namespace leewheel {

/// Everyone towards the wished place; nobody comes closer than `beside_m` to a rider alongside, nor off the lane.
void steer(const Riders& riders, Motion& motion, std::span<const RiderIndex> order, double step_s);

}  // namespace leewheel
