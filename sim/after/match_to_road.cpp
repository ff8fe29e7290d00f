/// The match as a whole: does the recording belong to the road, and what does its elevation say.

#include <algorithm>
#include <cmath>

#include "after/match.hpp"

namespace leewheel {

namespace {

constexpr double least_on_road = 0.02;   // of the points (assumed): a ride may be much longer than the road
constexpr double least_backwards = 0.1;  // of the points, to say that the road was ridden the other way (assumed)
constexpr double least_of_road = 0.1;    // of the road's length (assumed)

/// Straight line through recorded less road's elevation by time; then the largest mean difference over a minute.
void compare_elevation(const Road& road, const Recording& recording, const std::vector<double>& distance_m, Match& match) {
  std::vector<double> time_h, above_m, at_m;
  for (std::size_t i = 0; i < distance_m.size(); ++i) {
    if (std::isnan(distance_m[i]) || std::isnan(recording.points[i].elevation_m)) continue;
    time_h.push_back((recording.points[i].time_s - recording.points.front().time_s) / 3600.0);
    above_m.push_back(recording.points[i].elevation_m - road.elevation_m(distance_m[i]));
    at_m.push_back(distance_m[i]);
  }
  const auto n = static_cast<double>(time_h.size());
  if (n < 60) return;
  double mean_h = 0.0, mean_m = 0.0, hh = 0.0, hm = 0.0;
  for (std::size_t k = 0; k < time_h.size(); ++k) mean_h += time_h[k] / n, mean_m += above_m[k] / n;
  for (std::size_t k = 0; k < time_h.size(); ++k)
    hh += (time_h[k] - mean_h) * (time_h[k] - mean_h), hm += (time_h[k] - mean_h) * (above_m[k] - mean_m);
  match.elevation_offset_m = mean_m;
  match.elevation_drift_mph = hh > 0.0 ? hm / hh : 0.0;
  const std::size_t window = std::min<std::size_t>(time_h.size(), 60);
  double sum_m = 0.0;
  for (std::size_t k = 0; k < time_h.size(); ++k) {
    const auto rest_m = [&](std::size_t j) {
      return above_m[j] - mean_m - match.elevation_drift_mph * (time_h[j] - mean_h);
    };
    sum_m += rest_m(k) - (k >= window ? rest_m(k - window) : 0.0);
    if (k + 1 < window) continue;
    const double over_m = sum_m / static_cast<double>(window);
    if (std::abs(over_m) > std::abs(match.elevation_worst_m))
      match.elevation_worst_m = over_m, match.elevation_worst_at_m = at_m[k - window / 2];
  }
}

}  // namespace

Match match_to_road(const Road& road, const RoadMap& map, const Recording& recording) {
  Match match;
  if (!map.placed()) {
    match.fault = MatchFault::off_road;
    return match;
  }
  match.distance_m = matched_distances_m(map, recording);
  const std::vector<double>& distance_m = match.distance_m;
  const auto on_road = [](double m) { return !std::isnan(m); };
  const auto on = static_cast<double>(std::count_if(distance_m.begin(), distance_m.end(), on_road));
  match.on_road_share = on / static_cast<double>(distance_m.size());
  const auto first = std::find_if(distance_m.begin(), distance_m.end(), on_road);
  const auto last = std::find_if(distance_m.rbegin(), distance_m.rend(), on_road).base();
  for (auto it = first; it < last; ++it)
    if (!on_road(*it) && match.off_points++ == 0) match.first_off = static_cast<std::size_t>(it - distance_m.begin());
  const double covered_m = first < last ? *(last - 1) - *first : 0.0;
  if (match.on_road_share < least_on_road || covered_m < least_of_road * road.length_m()) {
    const bool back = share_backwards(map, recording) > std::max(least_backwards, 2.0 * match.on_road_share);
    match.fault = back ? MatchFault::other_way : MatchFault::off_road;
    return match;
  }
  compare_elevation(road, recording, distance_m, match);
  match.way = smooth_way(recording, distance_m, road.length_m());
  return match;
}

}  // namespace leewheel
