#pragma once
/// Wind: from a forecast at 10 m to the air a rider meets. Wind is stored as the velocity of the air over the
/// ground, east and north (m/s); "from 270 degrees" exists only where a person types or reads it.

#include <Eigen/Core>
#include <cstddef>
#include <span>
#include <vector>

#include "leewheel/field.hpp"
#include "leewheel/road.hpp"

namespace leewheel {

/// Velocity of the air over the ground from speed and the meteorological direction (where it comes from, clockwise from north).
Eigen::Vector2d wind_enu_mps(double speed_mps, double from_rad);

/// u(height)/u(reference) by the log law, u = (u*/0.4) ln((z - d)/z0). Asserts height - d > z0.
double log_law_ratio(double height_m, double roughness_m, double displacement_m = 0.0, double reference_m = 10.0);

/// What an exposure class means for the air; the one table, with sources, in wind.cpp.
struct ExposureAir {
  double roughness_m;           ///< z0 of the land upwind
  double displacement_m;        ///< d in the log law
  double canopy_fraction;       ///< > 0: the log law fails here; wind at the rider as a share of the open 10 m wind
  double turbulence_intensity;  ///< standard deviation over mean at rider height, for the decay of wakes and gusts
  const char* source;
};
const ExposureAir& exposure_air(Exposure exposure);

/// Wind at `height_m` over a class as a share of the forecast at 10 m over open land (z0 0.03 m): up to 60 m over
/// the forecast's land, down over the local one (two steps, Wieringa 1986 QJRMS 112:867).
double rider_height_ratio(Exposure exposure, double height_m);

struct ForecastPoint {
  double time_s = 0.0;         ///< after the start of the ride
  double speed_mps = 0.0;      ///< at 10 m over open land, >= 0
  double from_rad = 0.0;       ///< where it comes from, clockwise from north
};

struct WindSettings {
  std::vector<ForecastPoint> forecast{ForecastPoint{}};  ///< sorted by time, at least one; vectors are interpolated
  double rider_height_m = 1.2;     ///< mean height of a rider's frontal area (assumed)
  double change_length_m = 50.0;   ///< length over which the wind follows a change of exposure (assumed)
};

std::span<const NumberField<WindSettings>> wind_fields();

/// Air velocity in the frame of the road.
struct RoadWind {
  double along_mps;  ///< > 0 pushes the rider on
  double cross_mps;  ///< > 0 blows towards the left
};

/// The wind along one road, prepared for O(1) look-up.
class Wind {
 public:
  Wind(const WindSettings& settings, const Road& road);

  /// Mean wind at rider height. Distances and times outside take the nearest value.
  RoadWind at(double distance_m, double time_s) const;
  /// The same with the forecast already brought to one moment, which is the same for all riders of a step.
  RoadWind at(double distance_m, const Eigen::Vector2d& forecast_enu_mps) const;
  /// The same between grid point `node` and the next, `share` of the way (the grid is the road's).
  RoadWind at(std::size_t node, double share, const Eigen::Vector2d& forecast_enu_mps) const;
  Eigen::Vector2d forecast_enu_mps(double time_s) const;
  double turbulence_intensity(double distance_m) const;  ///< mean of both sides of the road

 private:
  struct Node {  // what one look-up needs, side by side in memory
    double heading_sin, heading_cos;
    double ratio_mean;             ///< wind at the rider over the forecast: mean of both sides of the road,
    double ratio_half_difference;  ///< and half of right minus left
    double turbulence_intensity;
  };
  struct Place {
    const Node* node;  ///< the node behind; another follows
    double share;      ///< of the way to the next, 0 to 1
  };
  Place place(double distance_m) const;

  std::vector<double> forecast_time_s_;
  std::vector<Eigen::Vector2d> forecast_enu_mps_;
  std::vector<Node> nodes_;
  double nodes_per_m_;
};

// Called twice a rider and step: inline.
inline RoadWind Wind::at(std::size_t node, double share, const Eigen::Vector2d& forecast_enu_mps) const {
  const Node &a = nodes_[node], &b = nodes_[node + 1];
  const double heading_sin = a.heading_sin + share * (b.heading_sin - a.heading_sin);
  const double heading_cos = a.heading_cos + share * (b.heading_cos - a.heading_cos);
  const double open_along_mps = forecast_enu_mps.x() * heading_sin + forecast_enu_mps.y() * heading_cos;
  const double open_cross_mps = forecast_enu_mps.y() * heading_sin - forecast_enu_mps.x() * heading_cos;
  double ratio = a.ratio_mean + share * (b.ratio_mean - a.ratio_mean);
  if (a.ratio_half_difference != 0.0 || b.ratio_half_difference != 0.0) {
    // Wind towards the left comes over the land on the right: +1 straight from the right, 0 along the road, -1 from the left.
    const double speed_mps = forecast_enu_mps.norm();
    const double from_right = speed_mps > 0.0 ? open_cross_mps / speed_mps : 0.0;
    ratio += from_right * (a.ratio_half_difference + share * (b.ratio_half_difference - a.ratio_half_difference));
  }
  return {ratio * open_along_mps, ratio * open_cross_mps};
}

/// Apparent wind from the rider's speed and the road wind.
struct ApparentWind {
  double along_mps;  ///< against the rider, > 0 slows
  double cross_mps;  ///< towards the left
  double speed_mps;
  double yaw_rad;    ///< angle off the nose, 0 to pi, no side
};
ApparentWind apparent_wind(double ground_speed_mps, const RoadWind& wind);

}  // namespace leewheel
