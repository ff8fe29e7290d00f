#pragma once
/// A recording laid on the road: where its rider was along the road, second by second.

#include <cstddef>
#include <string>
#include <vector>

#include "after/road_map.hpp"

namespace leewheel {

/// One rider's way along the road on whole seconds, from the first point that lies on the road to the last.
struct RiddenWay {
  double begin_s = 0.0;            ///< time of the first value, whole seconds; by the recording's clock until clocks are set
  std::vector<double> distance_m;  ///< never falls
  std::vector<double> speed_mps;   ///< from places, and from the recorded speed where there is one
  std::vector<double> power_W;     ///< NaN where none was recorded
  std::vector<double> heart_rate_bpm;  ///< NaN where none was recorded
  std::vector<bool> known;             ///< false: no point on the road within five seconds, values are in between
  double place_noise_m = 1.0;          ///< standard deviation of single places along the road, estimated

  std::size_t size() const { return distance_m.size(); }
  double end_s() const { return begin_s + static_cast<double>(size()) - 1.0; }
  double time_s(std::size_t k) const { return begin_s + static_cast<double>(k); }
  double distance_at_m(double time_s) const;  ///< held beyond its ends
  /// When the rider first came to a place; NaN when never.
  double arrival_s(double at_m) const;
};

enum class MatchFault { none, off_road, other_way };

struct Match {
  MatchFault fault = MatchFault::none;
  double on_road_share = 0.0;        ///< of the points
  std::size_t first_off = 0;         ///< index of the first point off the road, between the first on it and the last
  std::size_t off_points = 0;        ///< of those between
  double elevation_offset_m = 0.0;   ///< recorded less the road's: mean
  double elevation_drift_mph = 0.0;  ///< and its change, metres an hour
  double elevation_worst_m = 0.0;    ///< largest difference over a minute, offset and drift taken off
  double elevation_worst_at_m = 0.0;
  std::vector<double> distance_m;  ///< by point; NaN off the road
  RiddenWay way;
};

/// Points are matched in order, so that hairpins and the two legs of an out-and-back are not mixed up.
Match match_to_road(const Road& road, const RoadMap& map, const Recording& recording);

// Steps of it.
/// Distance along the road of every point; NaN off the road. Never falls by more than `most_back_m`.
std::vector<double> matched_distances_m(const RoadMap& map, const Recording& recording);
/// How many of the points would lie on the road were it ridden from its end.
double share_backwards(const RoadMap& map, const Recording& recording);
/// A steady way through the matched distances (forward and backward filter of place and speed: Rauch, Tung & Striebel 1965,
/// AIAA J. 3:1445).
RiddenWay smooth_way(const Recording& recording, const std::vector<double>& distance_m, double length_m);

}  // namespace leewheel
