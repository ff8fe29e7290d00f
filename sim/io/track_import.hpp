#pragma once
/// A recorded track (GPX) becomes a road: mended, measured on the ellipsoid, its elevation smoothed.

#include <string>
#include <vector>

#include "leewheel/road.hpp"
#include "leewheel/smoothing.hpp"

namespace leewheel {

struct TrackPoint {
  double latitude_deg, longitude_deg;
  double elevation_m;          ///< NaN when the file has none
  double time_s;               ///< since 1970, NaN when the file has none
  int line;                    ///< in the file
  int track = 0, segment = 0;  ///< counted over the file
};

/// Everything that was mended, a line each, and the raw against the smoothed ascent.
struct ImportReport {
  std::vector<std::string> lines;
  double raw_ascent_m = 0.0, smoothed_ascent_m = 0.0;
};

struct TrackImport {
  RoadProfile profile;
  ImportReport report;
};

std::vector<TrackPoint> read_gpx(const std::string& path);  ///< throws InputFault

/// Throws InputFault when the track cannot be mended: too short, no elevations, jumps.
TrackImport import_track(const std::string& path, const SmoothingSettings& smoothing);

}  // namespace leewheel
