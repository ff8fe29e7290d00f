/// The piece of a track that is wanted, its gaps, and riding it the other way.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/track_steps.hpp"

namespace leewheel {

namespace {

// Limits (assumed; docs/road_import.md tells what each is for).
constexpr double shortest_track_m = 50.0;
constexpr double longest_track_m = 500e3;
constexpr double gap_remarked_m = 150.0;
constexpr double longest_gap_m = 1500.0;
constexpr double bridge_spacing_m = 25.0;

/// The point between two, by its share of the way.
TrackPoint between(const TrackPoint& a, const TrackPoint& b, double share) {
  TrackPoint point = share < 0.5 ? a : b;
  point.latitude_deg = std::lerp(a.latitude_deg, b.latitude_deg, share);
  point.longitude_deg = a.longitude_deg + share * std::remainder(b.longitude_deg - a.longitude_deg, 360.0);
  point.elevation_m = std::lerp(a.elevation_m, b.elevation_m, share);
  point.time_s = missing;
  return point;
}

/// Points at most so far apart: a smooth line would swing out where it has none.
std::vector<TrackPoint> with_bridges(const std::vector<TrackPoint>& points) {
  std::vector<TrackPoint> bridged;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double step_m = i > 0 ? gap_m(points[i - 1], points[i]) : 0.0;
    const int pieces = step_m > gap_remarked_m ? static_cast<int>(std::ceil(step_m / bridge_spacing_m)) : 1;
    for (int k = 1; k < pieces; ++k) bridged.push_back(between(points[i - 1], points[i], k / static_cast<double>(pieces)));
    bridged.push_back(points[i]);
  }
  return bridged;
}

void check_length(Track& track) {
  const std::vector<TrackPoint>& points = track.points;
  double length_m = 0.0;
  for (std::size_t i = 1; i < points.size(); ++i) length_m += gap_m(points[i - 1], points[i]);
  if (length_m < shortest_track_m || points.size() < 3)
    track.fault(points.front(), "",
                fmt::format("found a track of {:.1f} m with {} places, expected at least {:.0f} m and 3 places", length_m,
                            points.size(), shortest_track_m));
  if (length_m > longest_track_m)
    track.fault(points.front(), "",
                fmt::format("found a track of {:.0f} km, expected at most {:.0f} km: take a piece of it ({}, {})",
                            length_m / 1e3, longest_track_m / 1e3, track.named("from_km"), track.named("to_km")));
}

}  // namespace

void cut_piece(Track& track) {
  const TrackOptions& options = track.options;
  const double length_m = track.along_m(track.points.back());
  if (options.from_m <= 0.0 && options.to_m >= length_m) return;
  const auto refuse = [&](const char* option, const std::string& what) {
    track.fault(TrackPoint{}, track.named(option), what);
    track.throw_if_any();
  };
  if (options.from_m >= length_m)
    refuse("from_km", fmt::format("found {:g}, expected less than the length of the track, {:.2f} km", options.from_m / 1e3,
                                  length_m / 1e3));
  if (options.to_m <= options.from_m)
    refuse("to_km", fmt::format("found {:g}, expected more than {}, which is {:g}", options.to_m / 1e3,
                                track.named("from_km"), options.from_m / 1e3));
  track.keep_faults_within(options.from_m, options.to_m);
  std::vector<TrackPoint> piece;
  for (std::size_t i = 0; i < track.points.size(); ++i) {
    const TrackPoint& point = track.points[i];
    const double at_m = track.along_m(point), before_m = i > 0 ? track.along_m(track.points[i - 1]) : at_m;
    for (const double end_m : {options.from_m, options.to_m})  // the piece begins and ends between two points
      if (end_m > before_m && end_m < at_m && (at_m - before_m <= longest_gap_m || options.bridge_gaps))
        piece.push_back(between(track.points[i - 1], point, (end_m - before_m) / (at_m - before_m)));
    if (at_m >= options.from_m && at_m <= options.to_m) piece.push_back(point);
  }
  track.points = std::move(piece);
  if (track.points.empty())
    refuse("from_km",
           fmt::format("found no point between it and {}, expected some: a gap lies there", track.named("to_km")));
  track.remark(fmt::format("the piece from km {:.2f} to km {:.2f} of {:.2f} km recorded", options.from_m / 1e3,
                           std::min(options.to_m, length_m) / 1e3, length_m / 1e3));
}

void mend_gaps(Track& track) {
  const bool readable = !track.has_faults();
  Mended gaps, wide;
  double widest_m = 0.0, widest_asked_m = 0.0;
  for (std::size_t i = 1; i < track.points.size(); ++i) {
    const double step_m = gap_m(track.points[i - 1], track.points[i]);
    double& widest = step_m > longest_gap_m ? widest_asked_m : widest_m;
    widest = std::max(widest, step_m);
    if (step_m > longest_gap_m && !track.options.bridge_gaps)
      track.fault(
          track.points[i], "",
          fmt::format("found a jump of {:.0f} m from the point before, expected at most {:.0f} m: take a piece without "
                      "it ({}, {}), or let {} lay a straight line",
                      step_m, longest_gap_m, track.named("from_km"), track.named("to_km"), track.named("bridge_gaps")));
    else if (step_m > gap_remarked_m)
      (step_m > longest_gap_m ? wide : gaps).at(track.points[i]);
  }
  track.tell(gaps, fmt::format("gap of more than {:.0f} m (at most {:.0f} m): bridged by a straight line", gap_remarked_m,
                               widest_m));
  track.tell(wide, fmt::format("gap of more than {:.0f} m (at most {:.0f} m): bridged by a straight line, as asked; nobody "
                               "rode there",
                               longest_gap_m, widest_asked_m));
  if (readable) check_length(track);
}

void bridge_gaps(Track& track) { track.points = with_bridges(track.points); }

void turn_round(Track& track) {
  if (!track.options.reverse) return;
  std::reverse(track.points.begin(), track.points.end());
  track.remark("turned round: the start of the road is the end of the track; kilometres above are those of the track");
}

}  // namespace leewheel
