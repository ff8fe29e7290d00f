#pragma once
/// Rides a scenario and keeps what `weigh` asks of one stretch.

#include <vector>

#include "leewheel/weigh.hpp"

namespace leewheel {

enum class RideUntil { stretch_end, finish };

/// By rider, in the order of the scenario. `alone_time_s` and `alone_power_W` are left open.
std::vector<WayRidden> ride_stretch(const Scenario& scenario, const TimedStretch& stretch, RideUntil until);

}  // namespace leewheel
