#pragma once
/// The steps of importing a track: read, measure, mend, lay a line through it. track_import.cpp puts them together.

#include <fmt/format.h>

#include <limits>
#include <string>
#include <vector>

#include "io/fault.hpp"
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
  int count = 0, first_point = 0, first_line = 0;
  void at(const TrackPoint& point) {
    if (count++ == 0) first_point = point.number, first_line = point.line;
  }
};

/// A value of a file that cannot be read.
struct PointFault {
  TrackPoint at;
  std::string field, what;
};

struct GpxFile {
  std::vector<TrackPoint> points;
  std::vector<Waypoint> waypoints;
  std::vector<PointFault> faults;
};
/// Points that can be read, and the faults of the others; throws InputFault when there are none at all.
GpxFile read_gpx_file(const std::string& path);

/// A track on its way to a road: its points, what was done to them, what is wrong with them.
class Track {
 public:
  Track(std::string file_path, TrackOptions asked, GpxFile file);

  std::string path;
  TrackOptions options;
  std::vector<TrackPoint> points;
  std::vector<Waypoint> waypoints;

  void tell(const Mended& mended, const std::string& what);  ///< if it did anything
  void remark(const std::string& line);
  void fault(const TrackPoint& point, const std::string& field, const std::string& what);
  std::string named(std::string option) const;          ///< as the user gave it: from_km, or --from-km
  void keep_faults_within(double from_m, double to_m);  ///< of values in the file; forgets those of other places
  bool has_faults() const { return !faults_.empty(); }
  void measure();                                 ///< distances, from which places get their kilometre
  void throw_if_any() const;                      ///< the faults, in the order of the track
  std::vector<std::string> told() const;          ///< the lines of the report
  double along_m(const TrackPoint& point) const;  ///< by the recorded track, once it is measured

 private:
  struct Said {
    int point, line;  ///< point 0: of no place
    std::string field, what;
    int count = 0;
  };
  std::string place_of(int point) const;
  std::vector<Said> told_, faults_;
  std::vector<int> numbers_;
  std::vector<double> along_m_;
};

// track_positions.cpp
/// Tracks that begin where the one before ended are one ride; of several rides in a file the longest is taken.
void choose_track(Track& track);
/// Doubles, spikes, stops and backtracks go; segments are joined.
void mend_positions(Track& track);

// track_piece.cpp
/// The piece asked for; a fault when nothing is left.
void cut_piece(Track& track);
/// Jumps that are too long become faults, or with `bridge_gaps` lines of points; shorter ones are told.
void mend_gaps(Track& track);
/// Puts points on the straight lines over gaps, once every point has its elevation.
void bridge_gaps(Track& track);
void turn_round(Track& track);

// track_elevations.cpp
/// Impossible ones and spikes go, missing ones are put in; faults when there are too few.
void mend_elevations(Track& track);

// track_remarks.cpp
/// What is possible and seldom meant: a walk, a road that is exactly level, too steep for a paved road.
void remark_on_recording(Track& track);
void remark_on_road(Track& track, const RoadProfile& profile);

// track_smoothing.cpp
/// Ascent of all climbs, drops of less than `height_m` not counted against them, nor rises of less (hysteresis).
double counted_ascent_m(const std::vector<double>& elevation_m, double height_m);

/// The length of smoothing that the noise of the elevations asks for; of clean ones such that the ascent left is that of a count
/// in climbs of `count_height_m`.
struct FittedSmoothing {
  double length_m = 0.0, noise_m = 0.0, counted_ascent_m = 0.0;
};
FittedSmoothing fitted_smoothing(const std::vector<double>& distance_m, const std::vector<double>& elevation_m);

// track_line.cpp
struct TrackLine {
  RoadProfile profile;             ///< without marks, in equal steps of about a metre
  std::vector<double> point_at_m;  ///< by point of the track: its distance along this road
  FittedSmoothing smoothing;
};
/// A smoothed line through the points; without a length of smoothing the fitted one is taken.
TrackLine line_through(const std::vector<TrackPoint>& points, const std::optional<double>& smoothing_m);

// track_waypoints.cpp
/// Named waypoints near the track become landmarks of its road.
void place_waypoints(Track& track, TrackLine& line);

}  // namespace leewheel
