#pragma once
/// The pace of a line.

#include "riding/line.hpp"

namespace leewheel::riding {

/// Fastest speed that suits the wanted share of the line and that its turns in front can keep up: the shares of all
/// (`pull_share`) make at least one. Where nobody can come by, the first holds that pace alone.
double shared_pace_mps(Settling& settling, RiderIndex front, bool rotates);
double pull_shares(const Settling& settling, std::span<const RiderIndex> riders, double speed_mps);

/// Nobody is dropped: while someone is behind, the front eases below what that rider holds alone.
void ease_for_dropped(Settling& settling, RiderIndex front);

}  // namespace leewheel::riding
