#pragma once
/// Where a road lies on the ground, as recordings meet it: places of the road and of points in one plane.

#include <Eigen/Core>
#include <span>
#include <unordered_map>
#include <vector>

#include "leewheel/recording.hpp"
#include "leewheel/road.hpp"

namespace leewheel {

inline constexpr double on_road_m = 30.0;     ///< a point farther off is not on the road
inline constexpr double map_spacing_m = 5.0;  ///< between the places that are kept

/// Metres east and north of a point near a reference (WGS84: metres per degree there).
struct Plane {
  double latitude_deg = 0.0, longitude_deg = 0.0;
  Eigen::Vector2d metres_per_deg{1.0, 1.0};  ///< east, north
  Plane() = default;
  Plane(double latitude_deg, double longitude_deg);
  Eigen::Vector2d place_m(double lat_deg, double lon_deg) const {
    return metres_per_deg.cwiseProduct(Eigen::Vector2d(lon_deg - longitude_deg, lat_deg - latitude_deg));
  }
};

class RoadMap {
 public:
  /// A road that knows no place on earth is laid where the recordings fit it, moved and stretched by at most 1 %, never turned.
  RoadMap(const Road& road, std::span<const Recording> recordings);

  bool placed() const { return placed_; }  ///< false: the recordings lie nowhere along the road
  Eigen::Vector2d place_of(const RecordedPoint& point) const;

  struct Near {
    double distance_m;  ///< along the road
    double off_m;       ///< from it
  };
  /// Every place where the road comes nearest, within `on_road_m`.
  std::vector<Near> near(const Eigen::Vector2d& place_m) const;
  /// The nearest place between two distances.
  Near nearest(const Eigen::Vector2d& place_m, double from_m, double to_m) const;
  Eigen::Vector2d direction(double distance_m) const;  ///< of travel, unit length
  double length_m() const { return length_m_; }

 private:
  void lay_from_position(const Road& road);
  void lay_where_it_fits(const Road& road, std::span<const Recording> recordings);
  bool find_start(std::span<const Recording> recordings);
  void fit_scale_and_start(std::span<const Recording> recordings);
  void hold_ends(const Recording& recording, double weight, Eigen::Matrix4d& normal, Eigen::Vector4d& right) const;
  void index();
  std::vector<std::size_t> hits(const Eigen::Vector2d& place_m, int cells) const;  ///< segments of the road, in its order
  Near nearest_within(const Eigen::Vector2d& place_m, int cells) const;
  Near in_cell(const Eigen::Vector2d& place_m, std::size_t cell) const;

  Plane plane_;
  Eigen::Vector2d scale_{1.0, 1.0}, shift_m_{0.0, 0.0};  ///< of points, into the plane of the road
  std::vector<Eigen::Vector2d> places_m_;
  std::unordered_map<long, std::vector<std::size_t>> cells_;
  double spacing_m_ = map_spacing_m, length_m_ = 0.0;
  bool placed_ = true;
};

}  // namespace leewheel
