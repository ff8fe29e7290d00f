#pragma once
/// What a rider does until the next second.

#include "riding/line.hpp"

namespace leewheel::riding {

Command command_for(const Settling& settling, RiderIndex i);

/// A pace to be ridden so that a lower speed is reached in half the time that a front rider takes for it (m/s).
double promptly_mps(const Snapshot& now, RiderIndex i, double wish_mps);

}  // namespace leewheel::riding
