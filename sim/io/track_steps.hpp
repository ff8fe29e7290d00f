#pragma once
/// The steps of importing a track: read, measure, mend, lay a line through it. track_import.cpp puts them together.

#include <fmt/format.h>

#include <limits>
#include <string>
#include <vector>

#include "io/track_import.hpp"

namespace leewheel {

inline constexpr double missing = std::numeric_limits<double>::quiet_NaN();  ///< an elevation or time that the file lacks
/// As steep as a road may be believed to be (assumed; docs/road_import.md).
inline constexpr double steepest_believed_grade = 0.5;

/// A geodesic step: its length, and its direction in the middle of the step, clockwise from north.
struct Leg {
  double length_m, azimuth_rad;
};
Leg leg(const TrackPoint& a, const TrackPoint& b);
inline double gap_m(const TrackPoint& a, const TrackPoint& b) { return leg(a, b).length_m; }

/// Counts what one kind of mending did, and where it did so first.
struct Mended {
  int count = 0, first_line = 0;
  void at(const TrackPoint& point) {
    if (count++ == 0) first_line = point.line;
  }
  void tell(ImportReport& report, const std::string& what) const {
    if (count > 0) report.lines.push_back(fmt::format("{} x {} (first in line {})", count, what, first_line));
  }
};

[[noreturn]] void refuse(const std::string& path, const TrackPoint& point, const std::string& field,
                         const std::string& what);

// track_positions.cpp
/// Tracks that begin where the one before ended are one ride; of several rides in a file the longest is taken.
void choose_track(std::vector<TrackPoint>& points, ImportReport& report);
/// Doubles, spikes, stops and backtracks go; segments are joined.
void mend_positions(std::vector<TrackPoint>& points, ImportReport& report);

// track_elevations.cpp
/// Impossible ones and spikes go, missing ones are put in. Throws InputFault when there are too few.
void mend_elevations(const std::string& path, std::vector<TrackPoint>& points, ImportReport& report);

// track_line.cpp
/// A smoothed line through the points as a road without marks, in equal steps of about `smoothing.spacing_m`.
RoadProfile profile_through(const std::vector<TrackPoint>& points, const SmoothingSettings& smoothing);

}  // namespace leewheel
