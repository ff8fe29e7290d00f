#include "model/wind_land.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "model/land.hpp"

namespace leewheel {

namespace {

constexpr std::size_t sectors = 24;  // of 15 degrees

// Mean over each node and `half_window` nodes to both sides of it, fewer at the ends.
std::vector<double> moving_mean(const std::vector<double>& values, std::size_t half_window) {
  std::vector<double> sum_before(values.size() + 1, 0.0);
  for (std::size_t i = 0; i < values.size(); ++i) sum_before[i + 1] = sum_before[i] + values[i];
  std::vector<double> means(values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t from = i > half_window ? i - half_window : 0;
    const std::size_t to = std::min(i + half_window + 1, values.size());
    means[i] = (sum_before[to] - sum_before[from]) / static_cast<double>(to - from);
  }
  return means;
}

// `value_of` each node's exposure, following a change only over the given length.
template <class ValueOf>
std::vector<double> followed(const std::vector<Exposure>& exposures, std::size_t half_window, ValueOf value_of) {
  std::vector<double> values(exposures.size());
  std::transform(exposures.begin(), exposures.end(), values.begin(), value_of);
  return moving_mean(values, half_window);
}

}  // namespace

WindLand::WindLand(const WindSettings& settings, const Road& road)
    : stations_(std::max<std::size_t>(1, settings.stations.size())), nodes_per_m_(1.0 / road.spacing_m()) {
  lay_nodes(settings, road.profile());
  std::vector<RoadHill> hills = settings.hills;
  if (settings.hills_from_road)
    for (const RoadHill& hill : hills_of_road(road)) hills.push_back(hill);
  const bool varied_land = !hills.empty() || !settings.windbreaks.empty();
  if (!varied_land && !settings.gusty() && stations_ == 1) return;
  const std::vector<Eigen::Vector2d> places = road_places_enu_m(road);
  const auto knots = static_cast<std::size_t>(std::ceil(road.length_m() / knot_m)) + 1;
  for (std::size_t k = 0; k < knots; ++k)
    place_m_.push_back(places[std::min(
        places.size() - 1, static_cast<std::size_t>(std::lround(static_cast<double>(k) * knot_m * nodes_per_m_)))]);
  if (stations_ > 1) weigh_stations(settings.stations);
  if (varied_land) survey(settings, hills);
}

void WindLand::lay_nodes(const WindSettings& settings, const RoadProfile& profile) {
  const auto half_window = static_cast<std::size_t>(std::lround(0.5 * settings.change_length_m * nodes_per_m_));
  const auto ratio = [&](Exposure exposure) { return rider_height_ratio(exposure, settings.rider_height_m); };
  const auto intensity = [](Exposure exposure) { return exposure_air(exposure).turbulence_intensity; };
  const std::vector<double> ratio_left = followed(profile.exposure_left, half_window, ratio);
  const std::vector<double> ratio_right = followed(profile.exposure_right, half_window, ratio);
  const std::vector<double> intensity_left = followed(profile.exposure_left, half_window, intensity);
  const std::vector<double> intensity_right = followed(profile.exposure_right, half_window, intensity);
  for (std::size_t i = 0; i < ratio_left.size(); ++i)
    nodes_.push_back({.heading_sin = std::sin(profile.heading_rad[i]),
                      .heading_cos = std::cos(profile.heading_rad[i]),
                      .ratio_mean = 0.5 * (ratio_left[i] + ratio_right[i]),
                      .ratio_half_difference = 0.5 * (ratio_right[i] - ratio_left[i]),
                      .turbulence_intensity = 0.5 * (intensity_left[i] + intensity_right[i])});
}

WindLand::Place WindLand::place(double distance_m) const {
  const double last = static_cast<double>(nodes_.size() - 1);
  const double position = std::min(std::max(distance_m * nodes_per_m_, 0.0), last);
  const std::size_t i = std::min(static_cast<std::size_t>(position), nodes_.size() - 2);
  return {&nodes_[i], position - static_cast<double>(i)};
}

void WindLand::weigh_stations(const std::vector<WindStation>& stations) {
  for (const Eigen::Vector2d& place : place_m_) {
    std::vector<double> weight;
    double sum = 0.0;
    for (const WindStation& station : stations) {
      const double away_m = (place - Eigen::Vector2d(station.east_m, station.north_m)).norm();
      weight.push_back(1.0 / std::max(away_m * away_m, 1.0));
      sum += weight.back();
    }
    for (const double w : weight) station_weight_.push_back(static_cast<float>(w / sum));
  }
}

namespace {

/// How much of a hill the road feels: all on its stretch, fading over the slope's length beyond it.
double hill_weight(const RoadHill& hill, double at_m) {
  const double before = (hill.from_m - at_m) / hill.length_before_m, behind = (at_m - hill.to_m) / hill.length_behind_m;
  return std::clamp(1.0 - std::max(before, behind), 0.0, 1.0);
}

}  // namespace

void WindLand::survey(const WindSettings& settings, const std::vector<RoadHill>& hills) {
  for (std::size_t k = 0; k < place_m_.size(); ++k) {
    const double at_m = static_cast<double>(k) * knot_m;
    const WindNode& node = *place(at_m).node;
    for (std::size_t sector = 0; sector < sectors; ++sector) {
      const double to_rad = rad_from_deg(360.0 * static_cast<double>(sector) / sectors + 180.0);
      const double east = std::sin(to_rad), north = std::cos(to_rad);
      const double along = east * node.heading_sin + north * node.heading_cos,
                   to_left = north * node.heading_sin - east * node.heading_cos;
      double share = 1.0, rise = 0.0;
      for (const Windbreak& belt : settings.windbreaks) share = std::min(share, shelter_share(belt, at_m, along, to_left));
      for (const RoadHill& hill : hills) {
        const double weight = hill_weight(hill, at_m);
        if (weight == 0.0) continue;
        const Eigen::Vector2d from_crest = place_m_[k] - ground_m(hill.crest_m);
        const double across_m = from_crest.x() * std::sin(hill.across_rad) + from_crest.y() * std::cos(hill.across_rad);
        rise += weight * (hill_factor(hill, across_m, to_rad, settings.rider_height_m) - 1.0);
      }
      land_share_.push_back(static_cast<float>(share * std::max(least_hill_factor, 1.0 + rise)));
      if (!hills.empty()) belt_share_.push_back(static_cast<float>(share));
    }
  }
}

WindLand::KnotPlace WindLand::knot(double distance_m) const {
  const double last = static_cast<double>(place_m_.size() - 1);
  const double position = std::min(std::max(distance_m / knot_m, 0.0), last);
  const std::size_t before = std::min(static_cast<std::size_t>(position), place_m_.size() - 2);
  return {before, position - static_cast<double>(before)};
}

Eigen::Vector2d WindLand::ground_m(double distance_m) const {
  const auto [k, share] = knot(distance_m);
  return place_m_[k] + share * (place_m_[k + 1] - place_m_[k]);
}

WindLand::Sector WindLand::sector_of(const Eigen::Vector2d& enu_mps) {
  const double sector = std::atan2(-enu_mps.x(), -enu_mps.y()) * (sectors / rad_from_deg(360.0)) + sectors;
  const auto below = static_cast<std::size_t>(sector);
  return {below, sector - static_cast<double>(below)};
}

double WindLand::share_in(const std::vector<float>& table, KnotPlace at, Sector from) const {
  const auto turned = [&](std::size_t row) {
    const float* const land = &table[row * sectors];
    return land[from.below % sectors] + from.part * (land[(from.below + 1) % sectors] - land[from.below % sectors]);
  };
  const double here = turned(at.before);
  return here + at.share * (turned(at.before + 1) - here);
}

double WindLand::station_share(std::size_t station, double distance_m) const {
  if (station_weight_.empty()) return 1.0;
  const auto [k, share] = knot(distance_m);
  const float here = station_weight_[k * stations_ + station], next = station_weight_[(k + 1) * stations_ + station];
  return here + share * (next - here);
}

}  // namespace leewheel
