#pragma once
/// One rider more in a bunch: the drag and the saving at any place on the road, by the wake law that is ridden.

#include <vector>

#include "leewheel/rider.hpp"
#include "leewheel/wake.hpp"

namespace leewheel {

/// A rider as the wake law asks for it, and the power that the open air would take.
struct BunchRider {
  double distance_m, lateral_m, drag_area_m2;
  double along_mps, cross_mps;  ///< apparent wind, as in `WakeInput`
  double turbulence;            ///< by `wake_turbulence`
  double open_air_W;            ///< that air drag without any wake would take, at the cranks
  double alone_W;               ///< all that the same motion takes without any wake, at the cranks
};

/// A rider as a sample of a ride shows one.
struct SeenRider {
  double distance_m, lateral_m, speed_mps, wind_along_mps, wind_cross_mps;
  double drag_area_m2, drag_factor, air_W, alone_W;  ///< air_W: with the wakes, at the wheel
};
/// `land_turbulence`: of the outdoor air at that place, before it is related to the rider's air speed.
BunchRider in_bunch(const SeenRider& seen, const RiderSettings& settings, const WakeBase& law, double land_turbulence);

/// The further rider is as the nearest one ahead: same speed, wind, size and power. Keeps its buffers from place to place.
class FurtherRider {
 public:
  /// `riders` from the first on the road to the last.
  void join(const WakeLaw& law, const std::vector<BunchRider>& riders);
  bool nobody() const { return x_m_.empty(); }
  const WakeReach& reach() const { return reach_; }
  const std::vector<double>& distances_m() const { return x_m_; }  ///< falling

  /// Drag with the front wheel at that place, over the drag alone; 1 where nobody is on the road.
  double drag_share(double distance_m, double lateral_m);
  /// Watts saved at that place, at the cranks: never more than the power alone, < 0 where company costs.
  double saved_W(double distance_m, double drag_share) const;

 private:
  std::size_t like(double distance_m) const;  ///< whom the further rider is like

  const WakeLaw* law_ = nullptr;
  WakeReach reach_{};
  std::vector<double> x_m_, y_m_, area_m2_, along_mps_, cross_mps_, turbulence_, open_air_W_, alone_W_;
  // the few around one place, the further rider among them
  std::vector<double> near_x_, near_y_, near_area_, near_along_, near_cross_, near_turbulence_, factor_, side_;
};

/// The best place close behind a rider: straight behind, or aside where the wind blows across.
struct WorthBehind {
  double distance_m, lateral_m, saved_W;
};
inline constexpr double close_gap_m = 0.6;  ///< "close behind": a usual wheel gap (assumed)
WorthBehind worth_behind(FurtherRider& further, double rider_distance_m, double rider_lateral_m);

}  // namespace leewheel
