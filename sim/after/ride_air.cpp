#include "after/ride_air.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {
constexpr double density_interval_s = 60.0;
}

Eigen::Vector2d WindChange::at(double time_s) const {
  const double position = std::clamp(time_s / 3600.0, 0.0, static_cast<double>(by_hour_mps.size() - 1));
  const auto before = static_cast<std::size_t>(position);
  if (before + 1 >= by_hour_mps.size()) return by_hour_mps.back();
  const double share = position - static_cast<double>(before);
  return (1.0 - share) * by_hour_mps[before] + share * by_hour_mps[before + 1];
}

RideAir::RideAir(const Scenario& scenario)
    : scenario_(scenario),
      survey_(survey_of(scenario)),
      wind_(scenario.wind, {survey_, &survey_->wind}),
      track_(scenario, wind_, {survey_, &survey_->track}) {
  const double middle_m = scenario.road.elevation_m(0.5 * scenario.road.length_m());
  density_factors_ =
      station_density_factors(scenario.wind, scenario.air, scenario.air_station_altitude_m, middle_m, density_interval_s);
}

RideAir::Place RideAir::place(double distance_m, double time_s) const {
  const Track::Place at = track_.place(distance_m);
  const RoadCell& cell = track_.cell(at);
  double factor = density_factors_.empty() ? 1.0 : 0.0;
  for (std::size_t station = 0; station < density_factors_.size(); ++station) {
    const std::vector<double>& of_one = density_factors_[station];
    const auto minute = static_cast<std::size_t>(std::max(0.0, time_s) / density_interval_s);
    factor +=
        wind_.station_share(station, distance_m) * (of_one.empty() ? 1.0 : of_one[std::min(of_one.size() - 1, minute)]);
  }
  return {factor * cell.half_density, cell.climbing, cell.rolling_cos, track_.elevation_m(at), cell.speed_limit_mps};
}

}  // namespace leewheel
