#pragma once
/// The recorded ride as samples of a trace, so that the replay shows it beside the plan.

#include <span>
#include <vector>

#include "after/company.hpp"
#include "after/ride_air.hpp"
#include "leewheel/trace.hpp"

namespace leewheel {

/// One way with its rider.
struct RecordedRider {
  const RiderSettings* rider;
  const RiddenWay* way;
};

/// A sample a second from time zero, riders in the order given. What no recording tells is as if each rode alone: no wheel, no gap,
/// a drag factor of 1, nothing saved; W' is worked out from the recorded power, and a place across the road is the middle of its
/// lane. There is no heart rate in it.
std::vector<RideSample> ridden_samples(const RideAir& air, std::span<const RecordedRider> riders,
                                       std::span<const TogetherSpan> spans, const WindChange& change);

}  // namespace leewheel
