#include "io/track_import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/fault.hpp"
#include "io/track_steps.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

// Limits (assumed; docs/road_import.md tells what each is for).
constexpr double shortest_track_m = 50.0;
constexpr double longest_track_m = 500e3;
constexpr double gap_remarked_m = 150.0;
constexpr double longest_gap_m = 1500.0;
constexpr double steep_for_a_paved_road = 0.22;  // over 100 m; common practice, no source

void check_grades(const std::string& path, const RoadProfile& profile) {
  for (std::size_t i = 1; i < profile.elevation_m.size(); ++i) {
    const double grade = (profile.elevation_m[i] - profile.elevation_m[i - 1]) / profile.spacing_m;
    if (std::abs(grade) > steepest_believed_grade)
      throw InputFault(
          {path, 0, 0, "ele",
           fmt::format("found a grade of {:.0f} percent at {:.0f} m after smoothing, expected elevations of a road, at most "
                       "{:.0f} percent",
                       100.0 * grade, static_cast<double>(i) * profile.spacing_m, 100.0 * steepest_believed_grade)});
  }
}

/// Every rise between recorded points: an upper bound, mostly noise.
double raw_ascent_m(const std::vector<TrackPoint>& points) {
  double ascent_m = 0.0, last_m = missing;
  for (const TrackPoint& point : points) {
    if (std::isnan(point.elevation_m)) continue;
    if (point.elevation_m > last_m) ascent_m += point.elevation_m - last_m;
    last_m = point.elevation_m;
  }
  return ascent_m;
}

void check_gaps(const std::string& path, const std::vector<TrackPoint>& points, ImportReport& report) {
  Mended gaps;
  double widest_m = 0.0, length_m = 0.0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step_m = gap_m(points[i - 1], points[i]);
    length_m += step_m;
    if (step_m > longest_gap_m)
      refuse(
          path, points[i], "",
          fmt::format("found a jump of {:.0f} m from the point before, expected at most {:.0f} m", step_m, longest_gap_m));
    if (step_m > gap_remarked_m) gaps.at(points[i]);
    widest_m = std::max(widest_m, step_m);
  }
  gaps.tell(report, fmt::format("gap of more than {:.0f} m (at most {:.0f} m): bridged by a straight line", gap_remarked_m,
                                widest_m));
  if (length_m < shortest_track_m || points.size() < 3)
    refuse(path, points.front(), "",
           fmt::format("found a track of {:.1f} m with {} places, expected at least {:.0f} m and 3 places", length_m,
                       points.size(), shortest_track_m));
  if (length_m > longest_track_m)
    refuse(path, points.front(), "",
           fmt::format("found a track of {:.0f} km, expected at most {:.0f} km", length_m / 1e3, longest_track_m / 1e3));
}

std::vector<TrackPoint> mended(const std::string& path, ImportReport& report) {
  std::vector<TrackPoint> points = read_gpx(path);
  choose_track(points, report);
  const std::size_t recorded = points.size();
  report.raw_ascent_m = raw_ascent_m(points);
  mend_positions(points, report);
  mend_elevations(path, points, report);
  check_gaps(path, points, report);
  report.lines.insert(report.lines.begin(), fmt::format("{} points recorded, {} kept", recorded, points.size()));
  return points;
}

}  // namespace

void refuse(const std::string& path, const TrackPoint& point, const std::string& field, const std::string& what) {
  throw InputFault({path, point.line, 0, field, what});
}

TrackImport import_track(const std::string& path, const SmoothingSettings& smoothing) {
  TrackImport result;
  const std::vector<TrackPoint> points = mended(path, result.report);
  result.profile = profile_through(points, smoothing);
  result.profile.latitude_rad = rad_from_deg(points.front().latitude_deg);
  result.profile.longitude_rad = rad_from_deg(points.front().longitude_deg);
  result.profile.has_position = true;
  check_grades(path, result.profile);
  const std::vector<double>& z = result.profile.elevation_m;
  for (std::size_t i = 1; i < z.size(); ++i) result.report.smoothed_ascent_m += std::max(0.0, z[i] - z[i - 1]);
  if (const RoadFacts facts = Road(result.profile).facts(); facts.steepest_100m_grade > steep_for_a_paved_road)
    result.report.lines.push_back(
        fmt::format("caution: {:.0f} % over the 100 m from {:.2f} km is steep for a paved road; look at the track there or "
                    "smooth over a longer length",
                    100.0 * facts.steepest_100m_grade, facts.steepest_at_m / 1e3));
  return result;
}

}  // namespace leewheel
