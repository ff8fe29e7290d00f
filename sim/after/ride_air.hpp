#pragma once
/// Road, air and wind as a ride met them, for one rider at a place, a speed and a time: what the fit and the reruns share.

#include <Eigen/Core>
#include <vector>

#include "leewheel/motion.hpp"
#include "leewheel/scenario.hpp"
#include "model/posture.hpp"
#include "model/survey.hpp"

namespace leewheel {

/// Wind added to the forecast at 10 m over open land, east and north, by the hour; in between linear.
struct WindChange {
  std::vector<Eigen::Vector2d> by_hour_mps{Eigen::Vector2d(0.0, 0.0)};
  Eigen::Vector2d at(double time_s) const;
};

class RideAir {
 public:
  explicit RideAir(const Scenario& scenario);
  const Scenario& scenario() const { return scenario_; }
  const Track& track() const { return track_; }

  /// What stands at a place, whatever the wind.
  struct Place {
    double half_density, climbing, rolling_cos, elevation_m, limit_mps;
  };
  Place place(double distance_m, double time_s) const;
  Eigen::Vector2d forecast_enu_mps(double distance_m, double time_s) const { return wind_.mean_enu_mps(distance_m, time_s); }
  RoadWind wind(double distance_m, const Eigen::Vector2d& enu_mps) const { return wind_.at(distance_m, enu_mps); }

 private:
  const Scenario& scenario_;
  const std::shared_ptr<const Survey> survey_;
  Wind wind_;
  Track track_;
  std::vector<std::vector<double>> density_factors_;  ///< by station, a minute each; empty: no forecast tells of the air
};

}  // namespace leewheel
