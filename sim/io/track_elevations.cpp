/// Mending the elevations of a recorded track.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/track_steps.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel {

namespace {

using Points = std::vector<TrackPoint>;

// Limits of mending (all assumed; docs/road_import.md tells what each is for).
constexpr double elevation_spike_m = 15.0;
constexpr double longest_elevation_gap_m = 500.0;
constexpr double step_remarked_m = 10.0;
constexpr double largest_step_m = 60.0;
constexpr Range elevation_range{-430.0, 6000.0};

/// How far an elevation lies off the straight line between its neighbours', beyond what a road may; 0 within that.
double off_the_line_m(const Points& points, std::size_t i) {
  const double before_m = gap_m(points[i - 1], points[i]), after_m = gap_m(points[i], points[i + 1]);
  const double line_m = std::lerp(points[i - 1].elevation_m, points[i + 1].elevation_m, before_m / (before_m + after_m));
  const double allowed_m = elevation_spike_m + 0.4 * std::min(before_m, after_m);  // as steep as any road, up and down again
  const double off_m = std::abs(points[i].elevation_m - line_m);
  return off_m > allowed_m ? off_m : 0.0;  // 0 also where an elevation is missing
}

void drop_elevation_spikes(Track& track) {
  Points& points = track.points;
  Mended impossible, spikes;
  for (TrackPoint& point : points)
    if (point.elevation_m < elevation_range.lowest || point.elevation_m > elevation_range.highest) {
      impossible.at(point);
      point.elevation_m = missing;
    }
  // A spike drags its neighbours' lines along, so only the farthest off of three is one.
  std::vector<double> off_m(points.size(), 0.0);
  for (std::size_t i = 1; i + 1 < points.size(); ++i) off_m[i] = off_the_line_m(points, i);
  for (std::size_t i = 1; i + 1 < points.size(); ++i)
    if (off_m[i] > 0.0 && off_m[i] >= off_m[i - 1] && off_m[i] >= off_m[i + 1]) {
      spikes.at(points[i]);
      points[i].elevation_m = missing;
    }
  track.tell(impossible, fmt::format("elevation outside [{:g}, {:g}] m: taken as missing", elevation_range.lowest,
                                     elevation_range.highest));
  track.tell(spikes, fmt::format("elevation more than {:.0f} m off its neighbours: taken as missing", elevation_spike_m));
}

/// Points [from, to) lack elevations; the points beside them, where there are any, have one.
void fill_run(Track& track, std::size_t from, std::size_t to, Mended& filled) {
  Points& points = track.points;
  const std::size_t first = from > 0 ? from - 1 : 0, last = std::min(to, points.size() - 1);
  std::vector<double> along_m{0.0};
  for (std::size_t i = first; i < last; ++i) along_m.push_back(along_m.back() + gap_m(points[i], points[i + 1]));
  if (along_m.back() > longest_elevation_gap_m && !track.options.bridge_gaps)
    track.fault(points[from], "ele",
                fmt::format("found {:.0f} m without elevations, expected at most {:.0f} m; {} joins both ends by a "
                            "straight line",
                            along_m.back(), longest_elevation_gap_m, track.named("bridge_gaps")));
  const double start_m = from > 0 ? points[from - 1].elevation_m : points[to].elevation_m;
  const double end_m = to < points.size() ? points[to].elevation_m : start_m;
  for (std::size_t i = from; i < to; ++i) {
    points[i].elevation_m = std::lerp(start_m, end_m, along_m[i - first] / along_m.back());
    filled.at(points[i]);
  }
}

void fill_elevations(Track& track) {
  Points& points = track.points;
  if (std::all_of(points.begin(), points.end(), [](const TrackPoint& p) { return std::isnan(p.elevation_m); })) {
    if (!track.has_faults())
      track.fault(
          points.front(), "ele",
          "found no elevation in any point, expected them: export the ride from where its elevations are shown, or let a "
          "route planner put in those of a map, and give that file");
    for (TrackPoint& point : points) point.elevation_m = 0.0;
    return;
  }
  Mended filled;
  for (std::size_t from = 0, to = 0; from < points.size(); from = to + 1) {
    while (from < points.size() && !std::isnan(points[from].elevation_m)) ++from;
    for (to = from; to < points.size() && std::isnan(points[to].elevation_m);) ++to;
    if (from < to) fill_run(track, from, to, filled);
  }
  track.tell(filled, "elevation missing: put in from its neighbours");
}

/// A device that corrects itself by a jump: nobody can tell which side is right, so it is told, not mended.
void tell_elevation_steps(Track& track) {
  const Points& points = track.points;
  Mended steps;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double rise_m = std::abs(points[i].elevation_m - points[i - 1].elevation_m);
    if (rise_m > largest_step_m && rise_m > gap_m(points[i - 1], points[i]))
      track.fault(points[i], "ele",
                  fmt::format("found an elevation {:.0f} m off the point before, expected at most {:.0f} m: cut the track "
                              "there ({}, {}) or mend the elevation",
                              rise_m, largest_step_m, track.named("from_km"), track.named("to_km")));
    else if (rise_m > std::max(step_remarked_m, steepest_believed_grade * gap_m(points[i - 1], points[i])))
      steps.at(points[i]);
  }
  track.tell(steps, fmt::format("elevation jumps by more than {:.0f} m within a step: smoothed, but the road will look too "
                                "steep there",
                                step_remarked_m));
}

}  // namespace

void mend_elevations(Track& track) {
  drop_elevation_spikes(track);
  fill_elevations(track);
  tell_elevation_steps(track);
}

}  // namespace leewheel
