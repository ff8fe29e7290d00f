#include "model/airflow.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {
constexpr double density_interval_s = 60.0;
}

Airflow::Airflow(const Scenario& scenario, std::shared_ptr<const Survey> survey)
    : scenario_(scenario),
      survey_(std::move(survey)),
      wake_(wake_base(scenario.wake)),
      wind_(scenario.wind, {survey_, &survey_->wind}) {
  for (auto* column : {&x_m_, &y_m_, &area_m2_, &along_mps_, &cross_mps_, &turbulence_, &factor_, &side_factor_})
    column->resize(scenario.riders.size());
}

void Airflow::start() {
  if (survey_->gusts && survey_->gust_seed == scenario_.ride.seed)
    wind_.raise_gusts(survey_->gusts);
  else
    wind_.raise_gusts(scenario_.ride.seed);
  local_wind_ = wind_.is_local();
  const double middle_m = scenario_.road.elevation_m(0.5 * scenario_.road.length_m());
  density_factors_ =
      station_density_factors(scenario_.wind, scenario_.air, scenario_.air_station_altitude_m, middle_m, density_interval_s);
}

void Airflow::look_at_density(const Riders& r, std::span<const RiderIndex> order, double time_s) {
  if (density_factors_.empty() || order.empty()) return;
  const double middle_m = 0.5 * (r.x_m[order.front()] + r.x_m[order.back()]);
  const auto minute = static_cast<std::size_t>(time_s / density_interval_s);
  double factor = 0.0;
  for (std::size_t station = 0; station < density_factors_.size(); ++station) {
    const std::vector<double>& of_one = density_factors_[station];
    factor += wind_.station_share(station, middle_m) * (of_one.empty() ? 1.0 : of_one[std::min(of_one.size() - 1, minute)]);
  }
  density_factor_ = factor;
}

void Airflow::meet(const Riders& r, Air& air, const Track& track, RiderIndex i, std::size_t k, double half_interval_s) {
  const Track::Place at = track.place(r.x_m[i] + r.v_mps[i] * half_interval_s);
  const RoadCell& cell = track.cell(at);
  const RoadWind met = wind_.at(at.cell, at.part,
                                local_wind_ ? wind_.local_enu_mps(track.distance_m(at), now_, r.y_m[i]) : forecast_enu_mps_);
  air.wind_along_mps[i] = met.along_mps;
  air.wind_cross_mps[i] = met.cross_mps;
  air.half_density[i] = density_factor_ * cell.half_density;
  air.rolling_N[i] = r.weight_N[i] * r.rolling_multiplier[i] * cell.rolling_cos;
  air.climbing[i] = cell.climbing;
  x_m_[k] = r.x_m[i];
  y_m_[k] = r.y_m[i];
  area_m2_[k] = r.area_m2[i];
  along_mps_[k] = r.v_mps[i] - met.along_mps;
  cross_mps_[k] = met.cross_mps;
  if (scenario_.wind.yaw_drag) air.yaw_factor[i] = yaw_drag_factor(std::atan2(std::abs(met.cross_mps), along_mps_[k]));
  const double cross2 = met.cross_mps * met.cross_mps;
  const double wind2 = met.along_mps * met.along_mps + cross2, met2 = along_mps_[k] * along_mps_[k] + cross2;
  turbulence_[k] = wake_turbulence(wake_, wind_.turbulence_intensity(at.cell, at.part), wind2, met2);
}

void Airflow::find(const Riders& r, Air& air, const Track& track, std::span<const RiderIndex> order, double time_s,
                   double interval_s, std::vector<WakeLink>* links) {
  const std::size_t n = order.size();
  const double half_interval_s = 0.5 * interval_s, middle_s = time_s + half_interval_s;
  forecast_enu_mps_ = wind_.forecast_enu_mps(middle_s);  // all there is to know, unless the wind is local
  if (local_wind_) wind_.look_at(middle_s, now_);
  for (std::size_t k = 0; k < n; ++k) meet(r, air, track, order[k], k, half_interval_s);
  const auto part = [n](std::vector<double>& v) { return std::span<double>(v.data(), n); };
  wake_factors(scenario_.wake,
               {part(x_m_), part(y_m_), part(area_m2_), part(along_mps_), part(cross_mps_), part(turbulence_)},
               {part(factor_), part(side_factor_)}, links);
  for (std::size_t k = 0; k < n; ++k) {
    air.drag_factor[order[k]] = factor_[k];
    air.side_factor[order[k]] = side_factor_[k];
  }
}

}  // namespace leewheel
