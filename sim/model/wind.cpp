#include "leewheel/wind.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "leewheel/units.hpp"
#include "model/land.hpp"
#include "model/wind_land.hpp"

namespace leewheel {

Eigen::Vector2d wind_enu_mps(double speed_mps, double from_rad) {
  return {-speed_mps * std::sin(from_rad), -speed_mps * std::cos(from_rad)};
}

std::span<const NumberField<WindSettings>> wind_fields() {
  using W = WindSettings;
  static constexpr NumberField<W> fields[] = {
      {"height_m", &W::height_m, 1.0, 200.0, "height above open land that the forecast's wind is for", "WMO-No. 8: 10 m"},
      {"rider_height_m", &W::rider_height_m, 0.5, 2.5, "mean height of a rider's frontal area", "assumed"},
      {"change_length_m", &W::change_length_m, 0.0, 1000.0,
       "length of road over which the wind follows a change of exposure", "assumed"},
      {"gust_length_m", &W::gust_length_m, 2.0, 200.0, "length of gusts at a rider; sources give 8 to 27 m", "assumed"},
      {"side_area_m2", &W::side_area_m2, 0.0, 2.0, "side force over dynamic pressure and sine of yaw", "assumed"},
      {"side_force_caution_N", &W::side_force_caution_N, 0.0, 500.0,
       "a side force of a gust above this is an event of caution", "assumed"},
  };
  return fields;
}

std::vector<Eigen::Vector2d> road_places_enu_m(const Road& road) {
  const RoadProfile& p = road.profile();
  std::vector<Eigen::Vector2d> places{{0.0, 0.0}};
  places.reserve(p.elevation_m.size());
  const auto ahead_at = [&](std::size_t k) {
    return Eigen::Vector2d(std::sin(p.heading_rad[k]), std::cos(p.heading_rad[k]));
  };
  Eigen::Vector2d ahead = ahead_at(0);
  for (std::size_t k = 1; k < p.elevation_m.size(); ++k) {
    const double rise_m = p.elevation_m[k] - p.elevation_m[k - 1];
    const double level_m = std::sqrt(std::max(0.0, p.spacing_m * p.spacing_m - rise_m * rise_m));
    const Eigen::Vector2d before = ahead;
    if (p.heading_rad[k] != p.heading_rad[k - 1]) ahead = ahead_at(k);
    places.push_back(places.back() + 0.5 * level_m * (before + ahead));
  }
  return places;
}

double yaw_drag_factor(double yaw_rad) {
  constexpr double at_deg[] = {0.0, 10.0, 20.0, 30.0, 45.0, 60.0}, factor[] = {1.0, 1.015, 1.06, 1.08, 1.05, 1.0};
  const double yaw_deg = deg_from_rad(std::abs(yaw_rad));
  for (std::size_t k = 1; k < std::size(at_deg); ++k)
    if (yaw_deg < at_deg[k])
      return factor[k - 1] + (yaw_deg - at_deg[k - 1]) / (at_deg[k] - at_deg[k - 1]) * (factor[k] - factor[k - 1]);
  return 1.0;
}

Wind::Wind(const WindSettings& settings, const Road& road) : Wind(settings, std::make_shared<WindLand>(settings, road)) {}

Wind::Wind(const WindSettings& settings, std::shared_ptr<const WindLand> land)
    : land_(std::move(land)),
      nodes_(land_->nodes().data()),
      wants_gusts_(settings.gusty()),
      gust_length_m_(settings.gust_length_m) {
  const double height_ratio = log_law_ratio(forecast_height_m, forecast_roughness_m, 0.0, settings.height_m);
  if (settings.stations.size() < 2)
    series_.emplace_back(settings.stations.empty() ? settings.forecast : settings.stations.front().forecast, height_ratio);
  else
    for (const WindStation& station : settings.stations) series_.emplace_back(station.forecast, height_ratio);
}

bool Wind::is_local() const { return land_->has_stations() || land_->varies() || gusts_ != nullptr; }

double Wind::station_share(std::size_t station, double distance_m) const {
  return land_->station_share(station, distance_m);
}

void Wind::raise_gusts(std::uint64_t seed) {
  if (wants_gusts_) raise_gusts(std::make_shared<GustField>(gust_length_m_, seed));
}

void Wind::raise_gusts(std::shared_ptr<const GustField> field) {
  if (!wants_gusts_) return;
  gusts_ = std::move(field);
  double ratio = 0.0;
  const std::vector<WindNode>& nodes = land_->nodes();
  for (const WindNode& node : nodes) ratio += node.ratio_mean / static_cast<double>(nodes.size());
  carried_share_.assign(series_.size(), ratio);
  Eigen::Vector2d way(0.0, 0.0);
  for (std::size_t s = 0; s < series_.size(); ++s) {
    double weight = 0.0;
    for (std::size_t k = 0; k < land_->knots(); ++k)
      weight += station_share(s, static_cast<double>(k) * WindLand::knot_m) / static_cast<double>(land_->knots());
    carried_share_[s] *= weight;
    for (const Eigen::Vector2d& enu : series_[s].enu_mps)
      way += weight / static_cast<double>(series_[s].enu_mps.size()) * enu;
  }
  if (way.norm() > 1e-9) gust_axis_ = way.normalized();
}

void Wind::look_at(double time_s, Moment& into) const {
  into.enu_mps.resize(series_.size());
  into.gust_scale.resize(series_.size());
  into.carried_m.setZero();
  for (std::size_t s = 0; s < series_.size(); ++s) {
    into.enu_mps[s] = series_[s].enu_at(time_s);
    into.gust_scale[s] = series_[s].gust_scale_at(time_s);
    if (gusts_) into.carried_m += carried_share_[s] * series_[s].carried_at_m(time_s);
  }
}

Eigen::Vector2d Wind::open_enu_mps(double distance_m, const Moment& now) const {
  if (!land_->has_stations()) return now.enu_mps.front();
  Eigen::Vector2d enu_mps(0.0, 0.0);
  for (std::size_t s = 0; s < series_.size(); ++s) enu_mps += station_share(s, distance_m) * now.enu_mps[s];
  return enu_mps;
}

Eigen::Vector2d Wind::open_enu_mps(double distance_m, double time_s) const {
  Moment now;
  look_at(time_s, now);
  return open_enu_mps(distance_m, now);
}

Eigen::Vector2d Wind::mean_enu_mps(double distance_m, double time_s) const {
  Moment now;
  look_at(time_s, now);
  return mean_enu_mps(distance_m, now);
}

Eigen::Vector2d Wind::mean_enu_mps(double distance_m, const Moment& now) const {
  const Eigen::Vector2d open = open_enu_mps(distance_m, now);
  if (!land_->varies()) return open;
  return land_->land_share(land_->knot(distance_m), WindLand::sector_of(open)) * open;
}

double Wind::gust_intensity(double distance_m, double time_s) const {
  double scale = 0.0;
  for (std::size_t s = 0; s < series_.size(); ++s) scale += station_share(s, distance_m) * series_[s].gust_scale_at(time_s);
  if (land_->has_hills()) {
    const WindLand::KnotPlace at = land_->knot(distance_m);
    const WindLand::Sector from = WindLand::sector_of(open_enu_mps(distance_m, time_s));
    scale *= land_->belt_share(at, from) / land_->land_share(at, from);
  }
  return std::min(turbulence_intensity(distance_m), largest_intensity) * scale;
}

Eigen::Vector2d Wind::local_enu_mps(double distance_m, double time_s, double left_m) const {
  Moment now;
  look_at(time_s, now);
  return local_enu_mps(distance_m, now, left_m);
}

Eigen::Vector2d Wind::local_enu_mps(double distance_m, const Moment& now, double left_m) const {
  const Eigen::Vector2d open = open_enu_mps(distance_m, now);
  Eigen::Vector2d mean = open, steady = open;  // what gusts are a share of: belts weaken it, hills do not change it
  if (land_->varies()) {
    const WindLand::KnotPlace at = land_->knot(distance_m);
    const WindLand::Sector from = WindLand::sector_of(open);
    mean = land_->land_share(at, from) * open;
    steady = land_->has_hills() ? Eigen::Vector2d(land_->belt_share(at, from) * open) : mean;
  }
  if (!gusts_) return mean;
  const auto [node, share] = land_->place(distance_m);
  const Eigen::Vector2d in_air_m =
      land_->ground_m(distance_m) + left_m * Eigen::Vector2d(-node->heading_cos, node->heading_sin) - now.carried_m;
  const GustField::Gust gust =
      gusts_->at(in_air_m.dot(gust_axis_), gust_axis_.x() * in_air_m.y() - gust_axis_.y() * in_air_m.x());
  double scale = 0.0;
  for (std::size_t s = 0; s < series_.size(); ++s) scale += station_share(s, distance_m) * now.gust_scale[s];
  const double turbulence =
      node[0].turbulence_intensity + share * (node[1].turbulence_intensity - node[0].turbulence_intensity);
  const double intensity = std::min(turbulence, largest_intensity) * scale;
  const double along = intensity * gust.along, across = gust_across_share * intensity * gust.across;
  return {mean.x() + along * steady.x() - across * steady.y(), mean.y() + along * steady.y() + across * steady.x()};
}

RoadWind Wind::at(double distance_m, const Eigen::Vector2d& forecast_enu_mps) const {
  const WindLand::Place here = land_->place(distance_m);
  return at(here.index(*land_), here.share, forecast_enu_mps);
}

RoadWind Wind::at(double distance_m, double time_s) const { return at(distance_m, mean_enu_mps(distance_m, time_s)); }

Eigen::Vector2d Wind::forecast_enu_mps(double time_s) const { return series_.front().enu_at(time_s); }

double Wind::turbulence_intensity(double distance_m) const {
  const WindLand::Place here = land_->place(distance_m);
  return turbulence_intensity(here.index(*land_), here.share);
}

ApparentWind apparent_wind(double ground_speed_mps, const RoadWind& wind) {
  const double along_mps = ground_speed_mps - wind.along_mps;
  const double cross_mps = wind.cross_mps;
  return {.along_mps = along_mps,
          .cross_mps = cross_mps,
          .speed_mps = std::sqrt(along_mps * along_mps + cross_mps * cross_mps),
          .yaw_rad = std::atan2(std::abs(cross_mps), along_mps)};
}

}  // namespace leewheel
