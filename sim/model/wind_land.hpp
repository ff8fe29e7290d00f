#pragma once
/// What makes the wind differ from place to place of one road, whatever the forecast: the land's roughness, stations, hills,
/// windbreaks. Surveyed once; winds of any number of days share it.

#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "leewheel/wind.hpp"

namespace leewheel {

class WindLand {
 public:
  WindLand(const WindSettings& settings, const Road& road);

  const std::vector<WindNode>& nodes() const { return nodes_; }
  struct Place {
    const WindNode* node;  ///< the node behind; another follows
    double share;          ///< of the way to the next, 0 to 1
    std::size_t index(const WindLand& land) const { return static_cast<std::size_t>(node - land.nodes_.data()); }
  };
  Place place(double distance_m) const;

  static constexpr double knot_m = 10.0;  ///< what varies more slowly than the road's grid stands that far apart
  struct KnotPlace {
    std::size_t before;
    double share;
  };
  KnotPlace knot(double distance_m) const;
  std::size_t knots() const { return place_m_.size(); }
  Eigen::Vector2d ground_m(double distance_m) const;  ///< where hills, windbreaks, stations or gusts are asked for

  bool has_stations() const { return !station_weight_.empty(); }
  double station_share(std::size_t station, double distance_m) const;

  struct Sector {
    std::size_t below;
    double part;  ///< of the way to the next
  };
  static Sector sector_of(const Eigen::Vector2d& wind_enu_mps);
  bool varies() const { return !land_share_.empty(); }  ///< hills or windbreaks
  bool has_hills() const { return !belt_share_.empty(); }
  double land_share(KnotPlace at, Sector from) const { return share_in(land_share_, at, from); }
  double belt_share(KnotPlace at, Sector from) const { return share_in(belt_share_, at, from); }

 private:
  void lay_nodes(const WindSettings& settings, const RoadProfile& profile);
  void weigh_stations(const std::vector<WindStation>& stations);
  void survey(const WindSettings& settings, const std::vector<RoadHill>& hills);
  double share_in(const std::vector<float>& table, KnotPlace at, Sector from) const;

  std::size_t stations_;
  double nodes_per_m_;
  std::vector<WindNode> nodes_;
  std::vector<Eigen::Vector2d> place_m_;  ///< knots on the ground
  std::vector<float> station_weight_;     ///< knots x stations; empty with one
  std::vector<float> land_share_;         ///< knots x sectors of the wind's direction; empty without hills and windbreaks
  std::vector<float> belt_share_;         ///< the windbreaks' part of it; empty without hills
};

}  // namespace leewheel
