#pragma once
/// A recorded track (GPX) becomes a road: mended, measured on the ellipsoid, its elevation smoothed.

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/recording.hpp"
#include "leewheel/road.hpp"

namespace leewheel {

/// A value that the file has not is NaN.
struct TrackPoint {
  double latitude_deg, longitude_deg;
  double elevation_m;
  double time_s;               ///< since 1970
  int line;                    ///< in the file
  int track = 0, segment = 0;  ///< counted over the file
  int number = 0;              ///< of the point, counted over the file from 1
  bool zoned = true;           ///< the time came with its zone
  double speed_mps = not_recorded, power_W = not_recorded, heart_rate_bpm = not_recorded, cadence_rpm = not_recorded,
         temperature_C = not_recorded;
};

/// A named place of the file, a `wpt`.
struct Waypoint {
  std::string name;
  double latitude_deg, longitude_deg;
};

/// What is made of a track.
struct TrackOptions {
  std::optional<double> smoothing_m{};  ///< length of the smoothing of elevations; nothing: as the track's noise asks
  double from_m = 0.0;                  ///< the piece of the recorded track to take, by its own distance
  double to_m = std::numeric_limits<double>::infinity();
  bool reverse = false;      ///< ride it the other way, after the piece was cut
  bool bridge_gaps = false;  ///< straight lines over gaps that would be refused, also of elevations
  bool typed = false;        ///< faults name these as a command line does, --from-km, not as a file does, from_km
};

/// Ascent is counted in climbs and drops of at least this height (hysteresis; common practice, no source).
inline constexpr double count_height_m = 3.0;

/// Everything that was mended or is remarkable, a line each, and the raw against the smoothed ascent.
struct ImportReport {
  std::vector<std::string> lines;
  double raw_ascent_m = 0.0, counted_ascent_m = 0.0, smoothed_ascent_m = 0.0;  ///< counted: by `count_height_m`
  double smoothing_m = 0.0;
  double noise_m = 0.0;  ///< of the elevations, one standard deviation
};

struct TrackImport {
  RoadProfile profile;
  ImportReport report;
};

/// Throws InputFault. What stands in extensions is found by local name, whatever its prefix, declared or not.
std::vector<TrackPoint> read_gpx(const std::string& path);

/// Throws InputFault with every fault of the track when it cannot be mended: too short, no elevations, jumps.
TrackImport import_track(const std::string& path, const TrackOptions& options = {});

}  // namespace leewheel
