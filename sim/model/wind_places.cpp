/// What makes the wind differ from place to place of one road: stations, hills, windbreaks; surveyed once, every `knot_m`.

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

namespace {
constexpr std::size_t sectors = 24;  // of 15 degrees
}  // namespace

void Wind::weigh_stations(const std::vector<WindStation>& stations) {
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

void Wind::survey_land(const WindSettings& settings, const std::vector<RoadHill>& hills) {
  for (std::size_t k = 0; k < place_m_.size(); ++k) {
    const double at_m = static_cast<double>(k) * knot_m;
    const Node& node = *place(at_m).node;
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

Wind::KnotPlace Wind::knot(double distance_m) const {
  const double last = static_cast<double>(place_m_.size() - 1);
  const double position = std::min(std::max(distance_m / knot_m, 0.0), last);
  const std::size_t before = std::min(static_cast<std::size_t>(position), place_m_.size() - 2);
  return {before, position - static_cast<double>(before)};
}

Eigen::Vector2d Wind::ground_m(double distance_m) const {
  const auto [k, share] = knot(distance_m);
  return place_m_[k] + share * (place_m_[k + 1] - place_m_[k]);
}

Wind::Sector Wind::sector_of(const Eigen::Vector2d& enu_mps) {
  const double sector = std::atan2(-enu_mps.x(), -enu_mps.y()) * (sectors / rad_from_deg(360.0)) + sectors;
  const auto below = static_cast<std::size_t>(sector);
  return {below, sector - static_cast<double>(below)};
}

double Wind::land_share(const std::vector<float>& table, KnotPlace at, Sector from) const {
  const auto turned = [&](std::size_t row) {
    const float* const land = &table[row * sectors];
    return land[from.below % sectors] + from.part * (land[(from.below + 1) % sectors] - land[from.below % sectors]);
  };
  const double here = turned(at.before);
  return here + at.share * (turned(at.before + 1) - here);
}

double Wind::station_share(std::size_t station, double distance_m) const {
  if (station_weight_.empty()) return 1.0;
  const auto [k, share] = knot(distance_m);
  const float here = station_weight_[k * series_.size() + station],
              next = station_weight_[(k + 1) * series_.size() + station];
  return here + share * (next - here);
}

}  // namespace leewheel
