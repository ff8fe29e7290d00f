#pragma once
/// The value of drafting: watts at the same speed and seconds per kilometre at the same power, for one rider behind another of
/// the same build. The drag factor comes from a wake law, the power from `road_power`; there are no other coefficients.

#include <optional>

#include "leewheel/motion.hpp"
#include "leewheel/rider.hpp"
#include "leewheel/wake.hpp"

namespace leewheel {

/// Where the wheel is held.
struct WheelPlace {
  double grade = 0.0;
  double headwind_mps = 0.0;          ///< at the rider, > 0 slows
  double gap_m = 0.7;                 ///< wheel to wheel
  double turbulence_intensity = 0.2;  ///< of the wind at rider height
  double density_kgpm3 = 1.2;
  double rolling = 0.005;
  double gravity_mps2 = 9.80665;
};

struct WheelWorth {
  double speed_mps;  ///< alone
  double power_W;    ///< alone at that speed
  double drag_factor;
  double air_share;         ///< of the power alone
  double saved_W;           ///< at that speed
  double saved_percent;     ///< of the power alone
  double behind_speed_mps;  ///< at the same power
  double saved_s_per_km;    ///< at the same power
};

/// Alone, on the hoods at any speed and grade: a rider who sits up on a steep climb has a little more drag than this.
RoadLoad load_alone(const RiderSettings& rider, const WheelPlace& place);

/// Drag factor straight behind a wheel at that gap and speed, both riders of this build.
double wheel_drag_factor(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double speed_mps);

WheelWorth wheel_worth_at_power(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double power_W);
WheelWorth wheel_worth_at_speed(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double speed_mps);

/// Drafting stops paying below 2 % of the power or below 5 W, whichever comes first: about what a power meter and a pair of
/// legs can tell apart (assumed).
inline constexpr double least_worth_percent = 2.0, least_worth_W = 5.0;
inline bool still_pays(const WheelWorth& worth) {
  return worth.saved_percent >= least_worth_percent && worth.saved_W >= least_worth_W;
}

/// The grade from which a wheel no longer pays at that power, up to 25 %; nothing when it still pays there, 0 when it never does.
std::optional<double> grade_where_it_stops_paying(const RiderSettings& rider, WheelPlace place, const WakeLaw& law,
                                                  double power_W);

}  // namespace leewheel
