/// Mending the positions of a recorded track.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "io/track_steps.hpp"

namespace leewheel {

namespace {

using Points = std::vector<TrackPoint>;

// Limits of mending (all assumed; docs/road_import.md tells what each is for).
constexpr double same_place_m = 0.1;
constexpr double stop_radius_m = 12.0;
constexpr double stop_path_m = 48.0;  // walked within the radius: not a hairpin, which leaves after about 30 m
constexpr double backtrack_m = 30.0;
constexpr double least_position_spike_m = 50.0;
constexpr double one_ride_gap_m = 500.0;  // from the end of one track to the start of the next

double turn_rad(const TrackPoint& a, const TrackPoint& b, const TrackPoint& c) {
  return std::abs(std::remainder(leg(b, c).azimuth_rad - leg(a, b).azimuth_rad, 2.0 * std::numbers::pi));
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

void tell_segments_and_times(Track& track) {
  Points& points = track.points;
  Mended disorder;
  const TrackPoint* last = nullptr;
  for (const TrackPoint& point : points) {
    if (last && point.time_s < last->time_s) disorder.at(point);
    if (!std::isnan(point.time_s)) last = &point;
  }
  track.tell(disorder, "time before the one of the point before: the order in the file is kept");
  Mended joined;
  double widest_m = 0.0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].segment == points[i - 1].segment) continue;
    joined.at(points[i]);
    widest_m = std::max(widest_m, gap_m(points[i - 1], points[i]));
  }
  track.tell(joined, fmt::format("segment joined to the one before, at most {:.0f} m apart", widest_m));
}

void drop_doubles(Track& track) {
  Points& points = track.points;
  Mended doubles;
  std::vector<TrackPoint> kept;
  for (const TrackPoint& point : points) {
    if (!kept.empty() && gap_m(kept.back(), point) < same_place_m) {
      doubles.at(point);
      if (std::isnan(kept.back().elevation_m)) kept.back().elevation_m = point.elevation_m;
    } else {
      kept.push_back(point);
    }
  }
  points = std::move(kept);
  track.tell(doubles, "point on the spot of the one before: left out");
}

/// A point far off whose neighbours lie close together: no road goes there and back.
void drop_position_spikes(Track& track) {
  Points& points = track.points;
  if (points.size() < 4) return;
  std::vector<double> steps_m;
  for (std::size_t i = 1; i < points.size(); ++i) steps_m.push_back(gap_m(points[i - 1], points[i]));
  const double far_m = std::max(least_position_spike_m, 5.0 * median(steps_m));
  Mended spikes;
  std::vector<TrackPoint> kept;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool inside = !kept.empty() && i + 1 < points.size();
    const double nearest_m = inside ? std::min(gap_m(kept.back(), points[i]), gap_m(points[i], points[i + 1])) : 0.0;
    if (inside && nearest_m > far_m && gap_m(kept.back(), points[i + 1]) < 0.5 * nearest_m)
      spikes.at(points[i]);
    else
      kept.push_back(points[i]);
  }
  points = std::move(kept);
  track.tell(spikes, fmt::format("point more than {:.0f} m off the line of its neighbours: left out", far_m));
}

double middle_elevation_m(const Points& points, std::size_t from, std::size_t to) {
  std::vector<double> known;
  for (std::size_t i = from; i < to; ++i)
    if (!std::isnan(points[i].elevation_m)) known.push_back(points[i].elevation_m);
  return known.empty() ? missing : median(known);
}

/// Many steps within a small circle are a rider standing still under a wandering position.
void join_stops(Track& track) {
  Points& points = track.points;
  Mended stops;
  std::vector<TrackPoint> kept;
  for (std::size_t i = 0; i < points.size();) {
    std::size_t end = i + 1;
    double path_m = 0.0, latitude_deg = points[i].latitude_deg, longitude_deg = points[i].longitude_deg;
    while (end < points.size() && gap_m(points[i], points[end]) < stop_radius_m) {
      path_m += gap_m(points[end - 1], points[end]);
      latitude_deg += points[end].latitude_deg;
      longitude_deg += points[end].longitude_deg;
      ++end;
    }
    kept.push_back(points[i]);
    if (path_m > stop_path_m) {
      stops.at(points[i]);
      const auto n = static_cast<double>(end - i);
      kept.back().latitude_deg = latitude_deg / n;
      kept.back().longitude_deg = longitude_deg / n;
      kept.back().elevation_m = middle_elevation_m(points, i, end);
      i = end;
    } else {
      ++i;
    }
  }
  points = std::move(kept);
  track.tell(stops, fmt::format("stop (wandering within {:.0f} m): taken as one point", stop_radius_m));
}

/// Forward, back, forward again within a few metres: a jitter of the position. One turn back alone is a rider turning round.
void drop_backtracks(Track& track) {
  Points& points = track.points;
  constexpr double sharp_rad = 2.1;
  Mended backtracks;
  std::vector<TrackPoint> kept;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool inside = kept.size() >= 2 && i + 1 < points.size();
    const bool zigzag = inside && gap_m(kept.back(), points[i]) < backtrack_m &&
                        turn_rad(kept[kept.size() - 2], kept.back(), points[i]) > sharp_rad &&
                        turn_rad(kept.back(), points[i], points[i + 1]) > sharp_rad;
    if (zigzag)
      backtracks.at(points[i]);
    else
      kept.push_back(points[i]);
  }
  points = std::move(kept);
  track.tell(backtracks, "point behind the one before (forward, back, forward): left out");
}

}  // namespace

void choose_track(Track& track) {
  Points& points = track.points;
  struct Ride {
    int first_track, last_track;
    double length_m;
  };
  std::vector<Ride> rides;
  std::size_t tracks = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const bool new_track = i == 0 || points[i].track != points[i - 1].track;
    const double step_m = i > 0 ? gap_m(points[i - 1], points[i]) : 0.0;
    tracks += new_track;
    if (i == 0 || (new_track && step_m > one_ride_gap_m))
      rides.push_back({points[i].track, points[i].track, 0.0});
    else if (new_track || points[i].segment == points[i - 1].segment)
      rides.back().length_m += step_m;
    rides.back().last_track = points[i].track;
  }
  if (tracks < 2) return;
  const auto longest =
      std::max_element(rides.begin(), rides.end(), [](const Ride& a, const Ride& b) { return a.length_m < b.length_m; });
  std::erase_if(points, [&](const TrackPoint& point) {
    return point.track < longest->first_track || point.track > longest->last_track;
  });
  const std::string which =
      rides.size() == 1 ? "joined, each begins near the end of the one before" : "the longest ride is taken";
  track.remark(fmt::format("{} tracks in the file: {}, {:.1f} km from point {} on (line {})", tracks, which,
                           longest->length_m / 1e3, points.front().number, points.front().line));
}

void mend_positions(Track& track) {
  tell_segments_and_times(track);
  drop_doubles(track);
  drop_position_spikes(track);
  join_stops(track);
  drop_backtracks(track);
}

}  // namespace leewheel
