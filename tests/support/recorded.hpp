#pragma once
/// Rides of our own as devices would have recorded them: noise laid on, the same for the same seed.

#include <cstdint>
#include <string>
#include <vector>

#include "leewheel/recording.hpp"
#include "leewheel/ride.hpp"

namespace leewheel::recorded {

struct Noise {
  double place_m = 0.0;                     ///< standard deviation each way; half of the variance is common to all riders
  double place_time_s = 60.0;               ///< over which it wanders
  double jitter_m = 0.0;                    ///< on top, from second to second
  double elevation_mph = 0.0;               ///< drift
  double power_scale_sd = 0.0;              ///< of meters
  double power_W = 0.0;                     ///< from second to second
  bool speed = true;                        ///< a speed column
  double speed_mps = 0.0;                   ///< its noise
  std::vector<double> clock_s{};            ///< by rider: how late the clock is
  double lost_from_s = -1.0, lost_s = 0.0;  ///< the receiver of the first rider
  double stretched = 1.0;                   ///< of the map that places come from, against the ellipsoid
};
/// 3.5 m, half of it common, 0.4 m jitter, 3 m an hour, meters within 3 %, no speed column.
Noise usual();
Noise none();

struct Recorded {
  std::vector<Recording> recordings;            ///< by rider of the scenario
  std::vector<double> power_scale;              ///< put in
  std::vector<std::vector<double>> distance_m;  ///< true, by rider and second
  RideResult ride;
};
/// @param time_zero_s  of the start, since 1970
Recorded record(const Scenario& scenario, const Noise& noise, std::uint64_t seed, double time_zero_s = 1.8e9);

/// The file of a recording, power in an extension whose prefix nobody declared.
std::string gpx_of(const Recording& recording);

/// A loop of about `length_m` with a climb and a descent, ridden by `riders`; at 50 degrees north.
Road loop(double length_m = 30e3, double hill_grade = 0.04);

}  // namespace leewheel::recorded
