/// Measuring a track on the ellipsoid and laying a smooth line through it.

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "io/track_steps.hpp"
#include "leewheel/smoothing.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

Leg leg(const TrackPoint& a, const TrackPoint& b) {
  double length_m = 0.0, from_deg = 0.0, to_deg = 0.0;
  GeographicLib::Geodesic::WGS84().Inverse(a.latitude_deg, a.longitude_deg, b.latitude_deg, b.longitude_deg, length_m,
                                           from_deg, to_deg);
  return {length_m, rad_from_deg(from_deg + 0.5 * std::remainder(to_deg - from_deg, 360.0))};
}

namespace {

constexpr double position_smoothing_m = 12.0;  // halves waves of 75 m: keeps hairpins, flattens wandering
constexpr double position_spike_m = 30.0;
constexpr double spacing_m = 1.0;             // of the road
constexpr double usual_length_m = 60.0;       // elevations with jumps are smoothed over up to so much,
constexpr double smooth_enough_grade = 0.33;  // until no metre is steeper than this (both assumed)

/// Linear between the nodes of a grid.
double value_between(const std::vector<double>& values, double position) {
  const auto i = std::min(static_cast<std::size_t>(std::max(position, 0.0)), values.size() - 2);
  return std::lerp(values[i], values[i + 1], std::clamp(position - static_cast<double>(i), 0.0, 1.0));
}

/// East, north and up over the measured distance, unrolled leg by leg: lengths and directions are those of the
/// ellipsoid at each place, which no single map projection keeps over a long road.
struct Line {
  std::vector<double> east_m, north_m, up_m;
  std::vector<double> along_m;        ///< by node, from the start
  std::vector<double> point_along_m;  ///< by point of the track
};

/// The smoothed positions, without elevations.
Line positions_of(const std::vector<TrackPoint>& points) {
  std::vector<double> distance_m{0.0}, east_m{0.0}, north_m{0.0};
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Leg step = leg(points[i - 1], points[i]);
    distance_m.push_back(distance_m.back() + step.length_m);
    east_m.push_back(east_m.back() + step.length_m * std::sin(step.azimuth_rad));
    north_m.push_back(north_m.back() + step.length_m * std::cos(step.azimuth_rad));
  }
  const SmoothingSettings position{position_smoothing_m, spacing_m, position_spike_m};
  Line line{smooth_elevation(distance_m, east_m, position), smooth_elevation(distance_m, north_m, position), {}, {0.0}, {}};

  for (std::vector<double>* axis : {&line.east_m, &line.north_m})  // the grid may reach a little beyond the last point
    axis->back() = value_between(*axis, distance_m.back() / spacing_m);

  std::vector<double>& along_m = line.along_m;
  for (std::size_t i = 1; i < line.east_m.size(); ++i)
    along_m.push_back(along_m.back() + std::max(1e-6, std::hypot(line.east_m[i] - line.east_m[i - 1],
                                                                 line.north_m[i] - line.north_m[i - 1])));
  const double last_cell_m = distance_m.back() - static_cast<double>(along_m.size() - 2) * spacing_m;
  for (const double distance : distance_m) {
    const double into_last_m = distance - (distance_m.back() - last_cell_m);
    line.point_along_m.push_back(into_last_m > 0.0
                                     ? std::lerp(along_m[along_m.size() - 2], along_m.back(), into_last_m / last_cell_m)
                                     : value_between(along_m, distance / spacing_m));
  }
  return line;
}

/// Walks the line in equal steps along the surface.
TrackLine road_along(const Line& line) {
  const std::size_t nodes = line.up_m.size();
  std::vector<double> surface_m{0.0};
  for (std::size_t i = 1; i < nodes; ++i)
    surface_m.push_back(surface_m.back() + std::hypot(line.east_m[i] - line.east_m[i - 1],
                                                      line.north_m[i] - line.north_m[i - 1],
                                                      line.up_m[i] - line.up_m[i - 1]));
  const auto cells = static_cast<std::size_t>(std::max(2.0, std::round(surface_m.back() / spacing_m)));
  const Stretch plain;  // its defaults are those of a road without marks
  RoadProfile profile;
  profile.spacing_m = surface_m.back() / static_cast<double>(cells);
  std::size_t k = 0;
  for (std::size_t i = 0; i <= cells; ++i) {
    const double distance_m = i == cells ? surface_m.back() : static_cast<double>(i) * profile.spacing_m;
    while (k + 2 < nodes && surface_m[k + 1] < distance_m) ++k;
    const double share = std::clamp((distance_m - surface_m[k]) / std::max(surface_m[k + 1] - surface_m[k], 1e-9), 0.0, 1.0);
    profile.elevation_m.push_back(std::lerp(line.up_m[k], line.up_m[k + 1], share));
    const double heading_rad = std::atan2(line.east_m[k + 1] - line.east_m[k], line.north_m[k + 1] - line.north_m[k]);
    profile.heading_rad.push_back(heading_rad < 0.0 ? heading_rad + 2.0 * std::numbers::pi : heading_rad);
  }
  profile.rolling.assign(cells + 1, rolling_coefficient(plain.surface));
  profile.width_m.assign(cells + 1, plain.width_m);
  profile.exposure_left.assign(cells + 1, plain.exposure_left);
  profile.exposure_right.assign(cells + 1, plain.exposure_right);
  profile.abreast.assign(cells + 1, static_cast<std::uint8_t>(plain.abreast));
  TrackLine road{std::move(profile), {}, {}};
  std::size_t node = 0;
  for (const double at_m : line.point_along_m) {
    while (node + 2 < nodes && line.along_m[node + 1] < at_m) ++node;
    const double share = (at_m - line.along_m[node]) / (line.along_m[node + 1] - line.along_m[node]);
    road.point_at_m.push_back(std::lerp(surface_m[node], surface_m[node + 1], std::clamp(share, 0.0, 1.0)));
  }
  return road;
}

double steepest(const std::vector<double>& elevation_m) {
  double grade = 0.0;
  for (std::size_t i = 1; i < elevation_m.size(); ++i)
    grade = std::max(grade, std::abs(elevation_m[i] - elevation_m[i - 1]) / spacing_m);
  return grade;
}

}  // namespace

/// Position first, then elevation over the length of the smoothed position: a wandering position makes the recorded
/// length too long, and elevations spread over it would come out too steep once the line is straightened.
TrackLine line_through(const std::vector<TrackPoint>& points, const std::optional<double>& smoothing_m) {
  Line line = positions_of(points);
  std::vector<double> up_m;
  for (const TrackPoint& point : points) up_m.push_back(point.elevation_m);
  FittedSmoothing fitted = fitted_smoothing(line.point_along_m, up_m);
  if (smoothing_m) fitted.length_m = *smoothing_m;
  const auto smoothed = [&] { return smooth_elevation(line.point_along_m, up_m, {fitted.length_m, spacing_m}); };
  std::vector<double> elevation_m = smoothed();
  while (!smoothing_m && fitted.length_m < usual_length_m && steepest(elevation_m) > smooth_enough_grade) {
    fitted.length_m = std::min(usual_length_m, 1.3 * fitted.length_m);
    elevation_m = smoothed();
  }
  for (const double along : line.along_m) line.up_m.push_back(value_between(elevation_m, along / spacing_m));
  TrackLine road = road_along(line);
  road.smoothing = fitted;
  return road;
}

}  // namespace leewheel
