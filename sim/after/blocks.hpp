#pragma once
/// The ride in blocks of about half a minute: what went in at the pedals and what road, air and speed took of it.

#include <array>
#include <span>
#include <vector>

#include "after/match.hpp"
#include "after/ride_air.hpp"

namespace leewheel {

inline constexpr double block_s = 30.0;

/// One second of riding, as far as the unknown numbers do not enter.
struct BlockSecond {
  double distance_m, time_s;
  double way_m;               ///< ridden in it
  double speed_mps, area_m2;  ///< in the posture taken
  double half_density, wheel_area_m2;
  Eigen::Vector2d forecast_enu_mps;  ///< at 10 m over open land
  double saved_share;                ///< 1 - drag factor that the plan has there, 0 alone
};

struct Block {
  std::size_t rider = 0;
  double from_s = 0.0, span_s = 0.0;
  double at_m = 0.0;
  double wheel_J = 0.0;                            ///< recorded power times drivetrain efficiency
  double kinetic_J = 0.0, kinetic_J_per_kg = 0.0;  ///< of the wheels' turning; of mass
  double rise_J_per_kg = 0.0;
  std::array<double, surface_names.size()> rolling_J_per_kg{};  ///< by surface
  double bearings_J = 0.0;
  double model_W = 0.0;             ///< standard deviation expected of its balance, from what the model leaves out
  double from_W = 0.0, to_W = 0.0;  ///< and from place and speed at its ends; the next block has the latter with other sign
  bool follows = false;             ///< begins where the block before ended
  bool company = false;             ///< company may have saved something in some of it
  bool alone = true;                ///< nobody was near, all of it
  std::vector<BlockSecond> seconds{};
};

/// What a rider's blocks are made of.
struct RiddenForFit {
  RiderSettings rider;
  const RiddenWay* way;
  std::vector<float> saved_share;  ///< by second of the way: what company may save there, as a share of drag
  std::vector<bool> alone{};       ///< by second: nobody was near, as far as can be known; empty: all the way
};

/// Blocks of one rider, 15 to 30 s long. Left out: standing, walking, freewheeling (who brakes does), power not recorded, the
/// receiver lost.
std::vector<Block> blocks_of(const RideAir& air, const RiddenForFit& ridden, std::size_t rider);

/// The class of a rolling coefficient: the nearest.
std::size_t surface_of(double rolling);

}  // namespace leewheel
