/// Forecasts: the wind, the gusts and the density of the air that each gives over time.

#include <algorithm>
#include <cassert>
#include <cmath>

#include "leewheel/wind.hpp"
#include "model/land.hpp"

namespace leewheel {

bool WindSettings::gusty() const {
  const auto named = [](const ForecastPoint& point) { return point.gust_mps.has_value(); };
  if (gusts != Gusts::by_forecast) return gusts == Gusts::on;
  return std::any_of(forecast.begin(), forecast.end(), named) ||
         std::any_of(stations.begin(), stations.end(), [&](const WindStation& station) {
           return std::any_of(station.forecast.begin(), station.forecast.end(), named);
         });
}

std::vector<double> forecast_density_factors(const std::vector<ForecastPoint>& points, const AirState& air,
                                             double air_altitude_m, double altitude_m, double interval_s) {
  const auto has_air = [](const ForecastPoint& p) { return p.temperature_C || p.pressure_Pa || p.humidity_fraction; };
  if (std::none_of(points.begin(), points.end(), has_air)) return {};
  const auto density = [&](const AirState& state) {
    return air_density_kgpm3(air_at_altitude(state, air_altitude_m, altitude_m));
  };
  std::vector<double> at_point;
  for (const ForecastPoint& p : points)
    at_point.push_back(density({.temperature_C = p.temperature_C.value_or(air.temperature_C),
                                .pressure_Pa = p.pressure_Pa.value_or(air.pressure_Pa),
                                .humidity_fraction = p.humidity_fraction.value_or(air.humidity_fraction)}) /
                       density(air));
  std::vector<double> factors;
  std::size_t next = 0;
  for (double time_s = 0.0;; time_s += interval_s) {
    while (next < points.size() && points[next].time_s <= time_s) ++next;
    if (next == points.size()) break;
    if (next == 0)
      factors.push_back(at_point.front());
    else
      factors.push_back(at_point[next - 1] + (time_s - points[next - 1].time_s) /
                                                 (points[next].time_s - points[next - 1].time_s) *
                                                 (at_point[next] - at_point[next - 1]));
  }
  factors.push_back(at_point.back());
  return factors;
}

std::vector<std::vector<double>> station_density_factors(const WindSettings& settings, const AirState& air,
                                                         double air_altitude_m, double altitude_m, double interval_s) {
  std::vector<std::vector<double>> factors;
  const auto add = [&](const std::vector<ForecastPoint>& points) {
    factors.push_back(forecast_density_factors(points, air, air_altitude_m, altitude_m, interval_s));
  };
  if (settings.stations.size() < 2)
    add(settings.forecast);
  else
    for (const WindStation& station : settings.stations) add(station.forecast);
  if (std::all_of(factors.begin(), factors.end(), [](const auto& of_one) { return of_one.empty(); })) return {};
  return factors;
}

Wind::Series::Series(const std::vector<ForecastPoint>& forecast, double height_ratio) {
  assert(!forecast.empty());
  const double usual_rise = gust_factor(standard_turbulence_intensity(forecast_height_m, forecast_roughness_m)) - 1.0;
  for (const ForecastPoint& point : forecast) {
    assert(time_s.empty() || point.time_s >= time_s.back());
    const Eigen::Vector2d enu = wind_enu_mps(height_ratio * point.speed_mps, point.from_rad);
    carried_m.push_back(
        time_s.empty() ? Eigen::Vector2d(0.0, 0.0)
                       : Eigen::Vector2d(carried_m.back() + 0.5 * (point.time_s - time_s.back()) * (enu + enu_mps.back())));
    time_s.push_back(point.time_s);
    enu_mps.push_back(enu);
    const double rise = point.gust_mps ? *point.gust_mps / std::max(point.speed_mps, 0.1) - 1.0 : usual_rise;
    gust_scale.push_back(point.gust_mps ? std::min(std::max(rise, 0.0) / usual_rise, 3.0) : 1.0);
  }
}

Wind::Series::Moment Wind::Series::moment(double at_s) const {
  const auto next = std::upper_bound(time_s.begin(), time_s.end(), at_s);
  if (next == time_s.begin()) return {0, 0.0};
  if (next == time_s.end()) return {time_s.size() - 1, 0.0};
  const auto i = static_cast<std::size_t>(next - time_s.begin());
  return {i - 1, (at_s - time_s[i - 1]) / (time_s[i] - time_s[i - 1])};
}

Eigen::Vector2d Wind::Series::enu_at(double at_s) const {
  const auto [i, share] = moment(at_s);
  if (at_s < time_s.front() || i + 1 == time_s.size()) return enu_mps[i];
  return (1.0 - share) * enu_mps[i] + share * enu_mps[i + 1];
}

double Wind::Series::gust_scale_at(double at_s) const {
  const auto [i, share] = moment(at_s);
  return share == 0.0 ? gust_scale[i] : (1.0 - share) * gust_scale[i] + share * gust_scale[i + 1];
}

Eigen::Vector2d Wind::Series::carried_at_m(double at_s) const {
  const std::size_t i = moment(at_s).before;
  return carried_m[i] + 0.5 * (at_s - time_s[i]) * (enu_mps[i] + enu_at(at_s));
}

}  // namespace leewheel
