/// Named places of a file become landmarks of the road.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "io/track_steps.hpp"

namespace leewheel {

namespace {

constexpr double near_m = 100.0;      // a named place farther off the track is not on the way (assumed)
constexpr double at_an_end_m = 30.0;  // start and finish are landmarks already

/// Where the track passes a place: the nearest point of each approach.
std::vector<std::size_t> passes(const std::vector<TrackPoint>& points, const Waypoint& place) {
  std::vector<std::size_t> found;
  double nearest_m = std::numeric_limits<double>::infinity();  // of this approach; infinite between approaches
  constexpr double far_deg = 0.01;                             // a kilometre: not worth measuring
  for (std::size_t i = 0; i < points.size(); ++i) {
    double off_m = std::numeric_limits<double>::infinity();
    if (std::abs(points[i].latitude_deg - place.latitude_deg) < far_deg) {
      TrackPoint there = points[i];
      there.latitude_deg = place.latitude_deg;
      there.longitude_deg = place.longitude_deg;
      off_m = gap_m(points[i], there);
    }
    if (off_m > 2.0 * near_m) nearest_m = std::numeric_limits<double>::infinity();
    if (off_m > near_m || off_m >= nearest_m) continue;
    if (std::isinf(nearest_m))
      found.push_back(i);
    else
      found.back() = i;
    nearest_m = off_m;
  }
  return found;
}

std::string free_name(const std::string& name, const std::vector<Landmark>& taken) {
  const auto is_taken = [&](const std::string& text) {
    return text == "start" || text == "finish" ||
           std::any_of(taken.begin(), taken.end(), [&](const Landmark& mark) { return mark.name == text; });
  };
  std::string free = name;
  for (int k = 2; is_taken(free); ++k) free = fmt::format("{} {}", name, k);
  return free;
}

}  // namespace

void place_waypoints(Track& track, TrackLine& line) {
  std::vector<Landmark>& landmarks = line.profile.landmarks;
  const double length_m = static_cast<double>(line.profile.elevation_m.size() - 1) * line.profile.spacing_m;
  std::vector<std::string> placed, off;
  for (const Waypoint& place : track.waypoints) {
    const std::vector<std::size_t> at = passes(track.points, place);
    if (at.empty()) off.push_back(place.name);
    for (const std::size_t i : at) {
      const double at_m = line.point_at_m[i];
      if (at_m < at_an_end_m || at_m > length_m - at_an_end_m) continue;
      landmarks.push_back({free_name(place.name, landmarks), at_m});
    }
  }
  std::stable_sort(landmarks.begin(), landmarks.end(),
                   [](const Landmark& a, const Landmark& b) { return a.distance_m < b.distance_m; });
  for (const Landmark& mark : landmarks) placed.push_back(fmt::format("{} (km {:.2f})", mark.name, mark.distance_m / 1e3));
  if (!placed.empty()) track.remark(fmt::format("landmarks from the file's named places: {}", fmt::join(placed, ", ")));
  if (!off.empty())
    track.remark(fmt::format("named places more than {:.0f} m off the track, left out: {}", near_m, fmt::join(off, ", ")));
}

}  // namespace leewheel
