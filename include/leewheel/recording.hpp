#pragma once
/// What a rider's device recorded, as it came: points in the order of time.

#include <limits>
#include <string>
#include <vector>

namespace leewheel {

inline constexpr double not_recorded = std::numeric_limits<double>::quiet_NaN();

/// A value that the device did not record is `not_recorded`; a power of 0 W is a rider who does not pedal.
struct RecordedPoint {
  double time_s;                       ///< since 1970 where `Recording::dated`, else after the start of the ride
  double latitude_deg = not_recorded;  ///< both, or `distance_m`
  double longitude_deg = not_recorded;
  double distance_m = not_recorded;  ///< along the road from its start
  double elevation_m = not_recorded;
  double speed_mps = not_recorded;
  double power_W = not_recorded;
  double heart_rate_bpm = not_recorded;
  double cadence_rpm = not_recorded;
  double temperature_C = not_recorded;
  int line = 0;  ///< in the file
};

struct Recording {
  std::string rider, file;
  bool dated = true;                    ///< times are of the calendar
  std::vector<RecordedPoint> points{};  ///< rising in time, at least two
  bool silent_meter = false;            ///< 0 W at every point, which is no ride: its power is taken as not recorded
};

/// How a recording is, as far as it tells without a road.
struct RecordingFacts {
  double duration_s = 0.0;
  double interval_s = 0.0;            ///< the middle one of the times between points
  double power_missing_share = 1.0;   ///< of the time
  double constant_power_share = 0.0;  ///< of the points with power: those of the power found most often
  double constant_power_W = 0.0;
};
RecordingFacts facts_of(const Recording& recording);

// Limits of what a recording can tell (all assumed).
inline constexpr double coarse_interval_s = 5.0;         ///< longer: accelerations are lost, and no number is learned
inline constexpr double most_power_missing = 1.0 / 3.0;  ///< more: no number is learned
inline constexpr double plan_power_share = 0.9;          ///< so many points of one power are a plan

}  // namespace leewheel
