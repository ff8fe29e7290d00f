#pragma once
/// Forces on one rider and the power they cost. Martin, Milliken, Cobb, McFadden & Coggan 1998, J. Appl. Biomech.
/// 14:276-291, with the air force as a vector: rho/2 (CdA k + F_W) |V_a| V_along.

#include <cmath>

namespace leewheel {

/// How a crosswind enters the air force. The published equation squares the along-road air speed and leaves the rest
/// to CdA by yaw; the vector form is larger by 1/cos(yaw). A table of CdA by yaw belongs to one of them.
enum class AirForm { vector, along_only };

/// Rider, road and air at one moment.
struct RoadLoad {
  double mass_kg = 80.0;            ///< rider, load and bicycle
  double drag_area_m2 = 0.32;       ///< CdA alone
  double drag_factor = 1.0;         ///< drag factor: multiplies drag_area_m2
  double wheel_drag_area_m2 = 0.0;  ///< F_W
  double rolling = 0.004;           ///< Crr
  double efficiency = 0.976;        ///< crank to wheel
  double density_kgpm3 = 1.225;
  double gravity_mps2 = 9.80665;
  double grade = 0.0;           ///< rise over run
  double wind_along_mps = 0.0;  ///< air over the ground, > 0 pushes the rider on
  double wind_cross_mps = 0.0;  ///< > 0 towards the left
  bool bearings = true;
  AirForm air_form = AirForm::vector;
};

/// Where the power goes at steady speed (W); `crank_W` is what the rider gives, losses included.
struct PowerSplit {
  double air_W, rolling_W, bearings_W, gravity_W, drivetrain_W, crank_W;
};

/// Friction of the wheel bearings (N): (91 + 8.7 v) 1e-3, Martin et al. 1998, eq. 10.
inline constexpr double bearing_still_N = 0.091, bearing_Nspm = 0.0087;
inline double bearing_force_N(double speed_mps) { return bearing_still_N + bearing_Nspm * speed_mps; }

/// Air force along the road (N), > 0 slows. A tailwind faster than the rider pushes.
/// @param area_m2  CdA times drag factor, plus wheel drag area
inline double air_force_N(double half_density, double area_m2, double along_mps, double cross_mps) {
  return half_density * area_m2 * along_mps * std::sqrt(along_mps * along_mps + cross_mps * cross_mps);
}

PowerSplit road_power(const RoadLoad& load, double speed_mps);

/// Steady speed (m/s) at `crank_W`; the terminal coasting speed where crank_W is 0 on a descent.
/// 0 when the power cannot move the rider at all.
double steady_speed_mps(const RoadLoad& load, double crank_W);

}  // namespace leewheel
