#include "io/track_import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/fault.hpp"
#include "io/track_steps.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

/// A fault for each stretch that no road has, however smooth.
void check_grades(const std::string& path, const RoadProfile& profile) {
  Faults faults;
  const std::vector<double>& z = profile.elevation_m;
  const auto grade = [&](std::size_t i) { return (z[i] - z[i - 1]) / profile.spacing_m; };
  for (std::size_t i = 1; i < z.size(); ++i) {
    if (std::abs(grade(i)) <= steepest_believed_grade) continue;
    std::size_t steepest = i;
    const std::size_t from = i;
    for (; i < z.size() && std::abs(grade(i)) > steepest_believed_grade; ++i)
      if (std::abs(grade(i)) > std::abs(grade(steepest))) steepest = i;
    faults.add(
        {path, 0, 0, "ele",
         fmt::format("found a grade of {:.0f} percent at km {:.2f} after smoothing, expected elevations of a road, at "
                     "most {:.0f} percent",
                     100.0 * grade(steepest), static_cast<double>(from) * profile.spacing_m / 1e3,
                     100.0 * steepest_believed_grade)});
  }
  faults.throw_if_any();
}

/// Every rise between recorded points: an upper bound, mostly noise.
double raw_ascent_m(std::vector<TrackPoint> points, bool reverse) {
  if (reverse) std::reverse(points.begin(), points.end());
  double ascent_m = 0.0, last_m = missing;
  for (const TrackPoint& point : points) {
    if (std::isnan(point.elevation_m)) continue;
    if (point.elevation_m > last_m) ascent_m += point.elevation_m - last_m;
    last_m = point.elevation_m;
  }
  return ascent_m;
}

/// The points of the road, with what is told of them; throws InputFault with all that is wrong.
Track mended_track(const std::string& path, const TrackOptions& options, ImportReport& report) {
  Track track(path, options, read_gpx_file(path));
  if (track.points.size() < 3) track.throw_if_any();
  choose_track(track);
  const std::size_t recorded = track.points.size();
  mend_positions(track);
  track.measure();
  cut_piece(track);
  report.raw_ascent_m = raw_ascent_m(track.points, options.reverse);
  mend_gaps(track);
  mend_elevations(track);
  track.throw_if_any();
  report.lines.push_back(fmt::format("{} points recorded, {} kept", recorded, track.points.size()));
  remark_on_recording(track);
  turn_round(track);
  bridge_gaps(track);
  return track;
}

/// What the ascent rests on where noise alone makes climbs of the height that is counted; or the ascent of the road and that
/// counted in the recorded elevations differ: nobody knows which holds.
void remark_on_ascent(ImportReport& report) {
  if (2.0 * report.noise_m > count_height_m) {
    report.lines.push_back(fmt::format(
        "caution: the recorded elevations scatter by {:.1f} m (one standard deviation), so that the {:.0f} m counted in "
        "climbs of {:.0f} m and more hold noise. The {:.0f} m of this road rest on elevations smoothed over {:.0f} m alone "
        "and may hold some too: look for a better recording, or the ascent on a map",
        report.noise_m, report.counted_ascent_m, count_height_m, report.smoothed_ascent_m, report.smoothing_m));
    return;
  }
  constexpr double worth_a_word_share = 0.05, worth_a_word_m = 10.0;  // assumed
  const double counted_m = report.counted_ascent_m, road_m = report.smoothed_ascent_m;
  if (std::abs(counted_m - road_m) < std::max(worth_a_word_m, worth_a_word_share * counted_m)) return;
  report.lines.push_back(
      fmt::format("caution: the road climbs {:.0f} m, the recorded elevations {:.0f} m counted in climbs of {:.0f} m and "
                  "more: smoothing over {:.0f} m took noise away and short climbs with it. The truth likely lies between; "
                  "compare with what riders know",
                  road_m, counted_m, count_height_m, report.smoothing_m));
}

}  // namespace

TrackImport import_track(const std::string& path, const TrackOptions& options) {
  TrackImport result;
  ImportReport& report = result.report;
  Track track = mended_track(path, options, report);
  TrackLine line = line_through(track.points, options.smoothing_m);
  line.profile.latitude_rad = rad_from_deg(track.points.front().latitude_deg);
  line.profile.longitude_rad = rad_from_deg(track.points.front().longitude_deg);
  line.profile.has_position = true;
  check_grades(path, line.profile);
  place_waypoints(track, line);
  remark_on_road(track, line.profile);
  for (std::string& said : track.told()) report.lines.push_back(std::move(said));
  const std::vector<double>& z = line.profile.elevation_m;
  for (std::size_t i = 1; i < z.size(); ++i) report.smoothed_ascent_m += std::max(0.0, z[i] - z[i - 1]);
  report.smoothing_m = line.smoothing.length_m;
  report.counted_ascent_m = line.smoothing.counted_ascent_m;
  report.noise_m = line.smoothing.noise_m;
  remark_on_ascent(report);
  result.profile = std::move(line.profile);
  return result;
}

}  // namespace leewheel
