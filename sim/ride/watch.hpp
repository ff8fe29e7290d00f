#pragma once
/// The one loop over a ride. Observers are shown the riders from time to time and can only look: recording, progress and
/// statistics are observers, and the ride knows none of them.

#include <cstdint>
#include <functional>

#include "leewheel/ride.hpp"

namespace leewheel {

/// A ride at one moment, riders in the order of the scenario.
struct RideView {
  const Ride& ride;
  const RideSample& now;
  bool whole_interval;  ///< an interval has passed since the look before: false at the start, and where the ride ends in
                        ///< between. Observers that count looks as time take only these.

  double time_s() const { return now.time_s; }
  std::size_t riders() const { return now.role.size(); }
  double distance_m(std::size_t rider) const { return now.distance_m[rider]; }
  Role role(std::size_t rider) const { return static_cast<Role>(static_cast<int>(now.role[rider])); }
  std::int32_t group(std::size_t rider) const { return static_cast<std::int32_t>(now.group_id[rider]); }
  bool on_road(std::size_t rider) const { return role(rider) != Role::finished; }  ///< has not reached the top
};

struct WatchSettings {
  double interval_s = 1.0;                   ///< between looks, in whole steps and at least one; 0: a look after every step
  std::function<bool(const Ride&)> go_on{};  ///< asked before every step; false ends the watch there. Empty: to the end
};

using Observer = std::function<void(const RideView&)>;

/// Rides on from where the ride stands. The observer is called at once, after every interval counted from the start of the
/// ride, and for the last state if that falls between two intervals. Without an observer nothing is sampled.
RideResult watch_with(Ride& ride, const WatchSettings& settings, const Observer& observer);

/// The same for any number of observers, called in their order; they are neither copied nor kept.
template <class... Observers>
RideResult watch(Ride& ride, const WatchSettings& settings, Observers&&... observers) {
  return watch_with(ride, settings, [&](const RideView& view) { (observers(view), ...); });
}

}  // namespace leewheel
