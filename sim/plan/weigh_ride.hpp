#pragma once
/// Rides a scenario and keeps what `weigh` asks of one stretch.

#include <optional>
#include <vector>

#include "leewheel/weigh.hpp"

namespace leewheel {

/// Where a ride ends: when that rider, or everyone, is past the end of the stretch, or when all have finished.
struct RideUntil {
  bool finish = false;
  std::optional<std::size_t> past_by{};
};

/// By rider, in the order of the scenario; whoever was not waited for has not reached the end. `alone_time_s` and
/// `alone_power_W` are left open, `finish_time_s` too where the ride ends before.
std::vector<WayRidden> ride_stretch(const Scenario& scenario, const TimedStretch& stretch, const RideUntil& until);

}  // namespace leewheel
