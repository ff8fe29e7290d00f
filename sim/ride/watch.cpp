#include "ride/watch.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leewheel {

RideResult watch_with(Ride& ride, const WatchSettings& settings, const Observer& observer) {
  const auto ticks = static_cast<std::uint64_t>(std::max(1LL, std::llround(settings.interval_s / ride.step_s())));
  RideSample sample;
  const auto look = [&](bool whole_interval) {
    if (!observer) return;
    ride.sample(sample);
    observer({ride, sample, whole_interval});
  };
  bool seen = true;
  look(false);
  while (ride.end() == RideEnd::riding && (!settings.go_on || settings.go_on(ride))) {
    ride.step();
    seen = ride.tick() % ticks == 0;
    if (seen) look(true);
  }
  if (!seen) look(false);
  return ride.result();
}

RideResult ride_to_end(const Scenario& scenario, RideOptions options) {
  Ride ride(scenario, std::move(options));
  return watch_with(ride, {}, {});
}

}  // namespace leewheel
