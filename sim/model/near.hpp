#pragma once
/// Who is near: who is in the way, who is alongside, how much room there is.

#include <span>

#include "model/riders.hpp"
#include "model/track.hpp"

namespace leewheel {

/// Needs the order along the road. `interval_s`: until the next look.
void look_around(const Riders& riders, Near& near, const Track& track, std::span<const RiderIndex> order, double interval_s);

}  // namespace leewheel
