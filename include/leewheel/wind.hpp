#pragma once
/// Wind: from a forecast at 10 m to the air a rider meets. Wind is stored as the velocity of the air over the
/// ground, east and north (m/s); "from 270 degrees" exists only where a person types or reads it.

#include <Eigen/Core>
#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "leewheel/air.hpp"
#include "leewheel/field.hpp"
#include "leewheel/gust.hpp"
#include "leewheel/hill.hpp"
#include "leewheel/road.hpp"
#include "leewheel/windbreak.hpp"

namespace leewheel {

/// Velocity of the air over the ground from speed and the meteorological direction (where it comes from, clockwise from north).
Eigen::Vector2d wind_enu_mps(double speed_mps, double from_rad);

/// u(height)/u(reference) by the log law, u = (u*/0.4) ln((z - d)/z0). Asserts height - d > z0.
double log_law_ratio(double height_m, double roughness_m, double displacement_m = 0.0, double reference_m = 10.0);

/// Wind properties of an exposure class; the table with sources is in sim/model/land.cpp.
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

/// Weather at one time. Missing values are those of the scenario's `air`; a gust speed may be missing.
struct ForecastPoint {
  double time_s = 0.0;               ///< after the start of the ride
  double speed_mps = 0.0;            ///< at the forecast's height over open land, >= 0
  double from_rad = 0.0;             ///< where it comes from, clockwise from north
  std::optional<double> gust_mps{};  ///< highest gust at the same height, >= speed_mps
  std::optional<double> temperature_C{};
  std::optional<double> pressure_Pa{};  ///< at the altitude of the scenario's `air`
  std::optional<double> humidity_fraction{};
  bool operator==(const ForecastPoint&) const = default;
};

/// A forecast for one place.
struct WindStation {
  std::string name;
  double east_m = 0.0, north_m = 0.0;   ///< from the start of the road
  std::vector<ForecastPoint> forecast;  ///< sorted by time, at least one
  bool operator==(const WindStation&) const = default;
};

enum class Gusts : std::uint8_t { off, on, by_forecast };  ///< by_forecast: on when it names a gust speed

struct WindSettings {
  std::vector<ForecastPoint> forecast{ForecastPoint{}};  ///< sorted by time, at least one; vectors are interpolated
  std::vector<WindStation> stations;  ///< two or more hold instead of `forecast`, which is then that of the first
  double height_m = 10.0;             ///< of the forecast's wind above open land
  double rider_height_m = 1.2;        ///< mean height of a rider's frontal area (assumed)
  double change_length_m = 50.0;      ///< length over which the wind follows a change of exposure (assumed)
  std::vector<Windbreak> windbreaks;  ///< rows of trees, walls and cuttings beside the road
  std::vector<RoadHill> hills;        ///< crests that speed the wind up
  bool hills_from_road = false;       ///< those of the road's own profile as well
  Gusts gusts = Gusts::by_forecast;
  double gust_length_m = leewheel::gust_length_m;  ///< 8 to 27 m by source: uncertain
  bool yaw_drag = false;                           ///< drag area changes with yaw by `yaw_drag_factor`
  double side_area_m2 = 0.5;           ///< side force over dynamic pressure and sine of yaw, rider and bicycle (assumed)
  double side_force_caution_N = 35.0;  ///< a side force above this is an event of caution (assumed)

  bool gusty() const;  ///< by `gusts` and the forecast
  bool operator==(const WindSettings&) const = default;
};

std::span<const NumberField<WindSettings>> wind_fields();

/// Air velocity in the frame of the road.
struct RoadWind {
  double along_mps;  ///< > 0 pushes the rider on
  double cross_mps;  ///< > 0 blows towards the left
};

/// Places of the road's grid points on the ground, east and north of its start (m).
std::vector<Eigen::Vector2d> road_places_enu_m(const Road& road);

/// Density by a forecast's own temperature, pressure and humidity over density by `air`, at `altitude_m`, every
/// `interval_s` from time 0 until the forecast's last point; empty when it names none of them.
std::vector<double> forecast_density_factors(const std::vector<ForecastPoint>& points, const AirState& air,
                                             double air_altitude_m, double altitude_m, double interval_s);

/// The same by station, one forecast where there are none; empty when none of them tells anything of the air.
std::vector<std::vector<double>> station_density_factors(const WindSettings& settings, const AirState& air,
                                                         double air_altitude_m, double altitude_m, double interval_s);

/// Drag area along the road at a yaw over that at yaw 0, for a force rho/2 CdA |V_a| V_along; 1 at yaw 0 and beyond 60
/// degrees. Assumed: tunnels see the force along the bicycle stay about the same up to 15 or 20 degrees at one air speed,
/// which in this form is 1/cos(yaw) (shape from memory of Crouch, Burton, LaBry & Blair 2017, J. Fluids Struct. 74:153).
double yaw_drag_factor(double yaw_rad);

/// What one look-up of the wind needs at a grid point, side by side in memory.
struct WindNode {
  double heading_sin, heading_cos;
  double ratio_mean;             ///< wind at the rider over the forecast: mean of both sides of the road,
  double ratio_half_difference;  ///< and half of right minus left
  double turbulence_intensity;
};

/// What road and land make of any wind, whatever the forecast (model/wind_land.hpp).
class WindLand;

/// The wind along one road, prepared for O(1) look-up.
class Wind {
 public:
  Wind(const WindSettings& settings, const Road& road);
  /// @param land  worked out with settings that differ in nothing but the forecasts
  Wind(const WindSettings& settings, std::shared_ptr<const WindLand> land);

  /// Draws the gusts of this seed if the settings ask for gusts. Until then the wind is the mean wind.
  void raise_gusts(std::uint64_t seed);
  /// The same with a field already drawn.
  void raise_gusts(std::shared_ptr<const GustField> field);

  /// False: the forecast of the moment is all there is to know of the open wind, everywhere on the road. True: stations,
  /// hills, windbreaks or gusts make it differ from place to place, and `local_enu_mps` is what `at` needs.
  bool is_local() const;
  bool gusty() const { return gusts_ != nullptr; }
  /// The forecast at 10 m over open land at a place: between stations by inverse squared distance, as vectors (Shepard 1968,
  /// Proc. ACM 23rd Nat. Conf. 517).
  Eigen::Vector2d open_enu_mps(double distance_m, double time_s) const;
  /// The same with the local effects: faster over hills, slower behind windbreaks.
  Eigen::Vector2d mean_enu_mps(double distance_m, double time_s) const;
  /// The same with the gust of that place and moment: (1 + I g_along) along the mean wind and 0.8 I g_across across it,
  /// I the class's intensity, scaled so that 1 + 3.5 I at 10 m over open land is the forecast's gust over its speed.
  /// The field of gusts moves at the mean speed that the forecast gives at riders of this road: one speed for the
  /// whole road, because winds that differ from place to place would distort it with time.
  /// @param left_m  of the rider, to the left of the road's middle
  Eigen::Vector2d local_enu_mps(double distance_m, double time_s, double left_m = 0.0) const;

  /// Values common to all riders of a step, calculated once.
  struct Moment {
    std::vector<Eigen::Vector2d> enu_mps;  ///< by station
    std::vector<double> gust_scale;
    Eigen::Vector2d carried_m{0.0, 0.0};  ///< way of the field of gusts
  };
  void look_at(double time_s, Moment& into) const;
  Eigen::Vector2d mean_enu_mps(double distance_m, const Moment& now) const;
  Eigen::Vector2d local_enu_mps(double distance_m, const Moment& now, double left_m) const;
  /// I of gusts at a place: standard deviation over mean, at most 0.434 (that of category IV in EN 1991-1-4) before the
  /// forecasts' gust speeds scale it, stations mixed as the wind is. Hills leave the deviation as it is (EN 1991-1-4, eq. 4.7),
  /// so that on a crest I is less and in a lull more.
  double gust_intensity(double distance_m, double time_s) const;

  /// Mean wind at rider height. Distances and times outside take the nearest value.
  RoadWind at(double distance_m, double time_s) const;
  /// The same with the forecast already brought to one moment, which is the same for all riders of a step.
  RoadWind at(double distance_m, const Eigen::Vector2d& forecast_enu_mps) const;
  /// The same between grid point `node` and the next, `share` of the way (the grid is the road's).
  RoadWind at(std::size_t node, double share, const Eigen::Vector2d& forecast_enu_mps) const;
  Eigen::Vector2d forecast_enu_mps(double time_s) const;               ///< of the first station, brought to 10 m
  double station_share(std::size_t station, double distance_m) const;  ///< weight of a station in the mix; they sum to 1
  double turbulence_intensity(double distance_m) const;                ///< mean of both sides of the road
  double turbulence_intensity(std::size_t node, double share) const {
    return nodes_[node].turbulence_intensity +
           share * (nodes_[node + 1].turbulence_intensity - nodes_[node].turbulence_intensity);
  }

 private:
  /// One forecast, brought to 10 m.
  struct Series {
    std::vector<double> time_s;
    std::vector<Eigen::Vector2d> enu_mps;
    std::vector<double> gust_scale;          ///< of the class's intensity, by the forecast's gust speed
    std::vector<Eigen::Vector2d> carried_m;  ///< way of the air since the first time
    Series(const std::vector<ForecastPoint>& forecast, double height_ratio);
    struct Moment {
      std::size_t before;
      double share;  ///< of the way to the next
    };
    Moment moment(double time_s) const;
    Eigen::Vector2d enu_at(double time_s) const;
    double gust_scale_at(double time_s) const;
    Eigen::Vector2d carried_at_m(double time_s) const;
  };

  Eigen::Vector2d open_enu_mps(double distance_m, const Moment& now) const;

  std::shared_ptr<const WindLand> land_;
  const WindNode* nodes_;       ///< of the land
  std::vector<Series> series_;  ///< one a station
  std::shared_ptr<const GustField> gusts_;
  bool wants_gusts_;
  double gust_length_m_;
  std::vector<double>
      carried_share_;  ///< by station: mean weight along the road, times the wind at riders over the forecast
  Eigen::Vector2d gust_axis_{1.0, 0.0};  ///< direction in which the field of gusts moves
};

// Called twice a rider and step: inline.
inline RoadWind Wind::at(std::size_t node, double share, const Eigen::Vector2d& forecast_enu_mps) const {
  const WindNode &a = nodes_[node], &b = nodes_[node + 1];
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
  double yaw_rad;  ///< angle off the nose, 0 to pi, no side
};
ApparentWind apparent_wind(double ground_speed_mps, const RoadWind& wind);

}  // namespace leewheel
