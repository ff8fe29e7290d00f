#pragma once
/// The arithmetic of `advance`, for the riders of one vector register.

#include "model/riders.hpp"
#include "model/track.hpp"

namespace leewheel {

/// Time counts as sheltered below this drag factor (assumed).
inline constexpr double sheltered_below = 0.95;

/// Moves the riders from `first` on, as many as a register holds, one step along the road.
void advance_four(const Riders& riders, Motion& motion, Ledgers& ledgers, const Track& track, double hardest_braking_mps2,
                  double step_s, RiderIndex first);

}  // namespace leewheel
