#pragma once
/// The road as riders meet it: slope, limits of speed, lanes, where it gets easier.

#include <cstdint>
#include <memory>
#include <vector>

#include "leewheel/scenario.hpp"
#include "model/simd.hpp"

namespace leewheel {

/// What a step needs to know of the road at a grid point, side by side in memory.
struct RoadCell {
  double elevation_m;
  float rolling_cos;      ///< Crr cos(slope)
  float climbing;         ///< 0 on the flat, 1 where a rider sits up to climb
  float speed_limit_mps;  ///< bends and descents, with the way to brake for them
  float half_density;     ///< rho / 2
};

/// What the rules of the road allow at a grid point.
struct RoadRules {
  Lane lane;
  bool closed, room_for_two;
  float two_abreast_for_m;  ///< from here on there is room for two side by side this far, looked at every `road_look_m`
};

inline constexpr double never_m = 1e12;      ///< a distance beyond every road
inline constexpr double road_look_m = 10.0;  ///< the rules of the road ahead are looked up so often (assumed)

/// What is the same in any wind; by grid point.
struct TrackCells {
  explicit TrackCells(const Scenario& scenario);
  std::vector<RoadCell> cells;
  std::vector<RoadRules> rules;
  std::vector<double> slope;  ///< as a rider feels it

 private:
  void plan_braking(const HandlingSettings& handling, double spacing_m);
  void look_for_room(double spacing_m);
};

class Track {
 public:
  Track(const Scenario& scenario, const Wind& wind);
  Track(const Scenario& scenario, const Wind& wind, std::shared_ptr<const TrackCells> cells);
  struct Place {
    std::int32_t cell;
    double part;  ///< of the way to the next grid point
  };
  Place place(double distance_m) const {
    const double at = distance_m * per_m_;
    const double cell = at < 0.0 ? 0.0 : (at > last_ ? last_ : static_cast<double>(static_cast<std::int32_t>(at)));
    const double part = at - cell;
    return {static_cast<std::int32_t>(cell), part < 0.0 ? 0.0 : (part > 1.0 ? 1.0 : part)};
  }
  LEEWHEEL_INLINE void places(const Real4& distance_m, Int4& cell, Real4& part) const {
    const Real4 at = min_of(max_of(distance_m * per_m_, 0.0), last_ + 1.0);
    cell = __builtin_convertvector(min_of(at, last_), Int4);
    part = at - __builtin_convertvector(cell, Real4);
  }
  double distance_m(Place p) const { return (p.cell + p.part) / per_m_; }
  const RoadCell& cell(std::int32_t grid_point) const { return cells_[grid_point]; }
  const RoadCell& cell(Place p) const { return cells_[p.cell]; }
  double elevation_m(Place p) const {
    return cells_[p.cell].elevation_m + p.part * (cells_[p.cell + 1].elevation_m - cells_[p.cell].elevation_m);
  }
  double elevation_m(double distance_m) const { return elevation_m(place(distance_m)); }
  double easing_at_m(double distance_m) const { return easing_at_m_[place(distance_m).cell]; }
  const RoadRules& rules(double distance_m) const { return rules_[place(distance_m).cell]; }
  double length_m() const { return length_m_; }

 private:
  std::vector<double> effective_grade(const Scenario& scenario, const Wind& wind) const;
  void find_easing(const std::vector<double>& effective_grade, double spacing_m);
  std::shared_ptr<const TrackCells> shared_;
  const RoadCell* cells_;           ///< of `shared_`
  const RoadRules* rules_;          ///< of `shared_`
  std::vector<float> easing_at_m_;  ///< where the road next gets clearly easier
  double per_m_, last_, length_m_;
};

}  // namespace leewheel
