#include "model/advance_wide.hpp"

#include "leewheel/motion.hpp"
#include "model/posture.hpp"

namespace leewheel {

namespace {

constexpr double walking_margin = 1.1;  // force of a walker over what the slope asks (assumed)

LEEWHEEL_INLINE Real4 elevations_m(const Track& track, const Real4& x_m) {
  Int4 cell;
  Real4 part;
  track.places(x_m, cell, part);
  Real4 low, high;
  for (int k = 0; k < riders_at_once; ++k) {
    low[k] = track.cell(cell[k]).elevation_m;
    high[k] = track.cell(cell[k] + 1).elevation_m;
  }
  return low + part * (high - low);
}

/// What four riders are, as far as the air is concerned, and what air they meet.
struct InAir {
  Real4 hoods_m2, drops_m2, upright_m2, wheels_m2, yaw_factor, drag_factor, climbing, half_density, wind_along_mps,
      wind_cross_mps;

  struct Drag {
    Real4 area_m2, force_N, alone_N;  ///< in the posture taken; along the road; the same without the others' wakes
  };
  LEEWHEEL_INLINE Drag at(const Real4& v_mps) const {
    const Real4 upright = climbing * clamp_0_1((upright_below_mps - v_mps) * (1.0 / upright_blend_mps));
    const Real4 drops = (1.0 - climbing) * clamp_0_1((v_mps - drops_above_mps) * (1.0 / drops_blend_mps));
    const Real4 area_m2 = hoods_m2 + upright * (upright_m2 - hoods_m2) + drops * (drops_m2 - hoods_m2);
    const Real4 along = v_mps - wind_along_mps;
    const Real4 unit_N = half_density * along * square_root(along * along + wind_cross_mps * wind_cross_mps);
    const Real4 met_m2 = area_m2 * yaw_factor;
    return {area_m2, unit_N * (met_m2 * drag_factor + wheels_m2), unit_N * (met_m2 + wheels_m2)};
  }
};

}  // namespace

LEEWHEEL_EACH_CPU void advance_four(const Riders& r, Motion& motion, Ledgers& ledgers, const Track& track,
                                    double hardest_braking_mps2, double step_s, RiderIndex first) {
  const double dt = step_s, per_dt = 1.0 / dt;
  const auto of = [first](const std::vector<double>& column) __attribute__((always_inline)) { return load(&column[first]); };
  const InAir in_air{of(r.area_hoods_m2),  of(r.area_drops_m2), of(r.area_upright_m2), of(r.wheel_area_m2),
                     of(r.yaw_factor),     of(r.drag_factor),   of(r.climbing),        of(r.half_density),
                     of(r.wind_along_mps), of(r.wind_cross_mps)};
  const Real4 x0 = of(r.x_m), v0 = of(r.v_mps), z0 = of(r.elevation_m);
  const Real4 weight_N = of(r.weight_N), mass_kg = of(r.moving_mass_kg), per_mass = of(r.per_moving_mass);
  const Real4 eta = of(r.efficiency), per_eta = of(r.per_efficiency), rolling_N = of(r.rolling_N);

  // What the wish costs, against what the rider may and can give.
  const Real4 wished = of(r.wish_mps2), ahead_m = max_of(v0 * dt, 0.05);
  const Real4 slope_N = weight_N * (elevations_m(track, x0 + ahead_m) - z0) / ahead_m;
  const InAir::Drag drag0 = in_air.at(v0);
  const Real4 bearings0_N = bearing_still_N + bearing_Nspm * v0;
  const Real4 against_N = drag0.force_N + rolling_N + bearings0_N + slope_N;
  const Real4 wish_N = mass_kg * wished + against_N;
  const Real4 wish_W = wish_N * (v0 + max_of(0.5 * wished * dt, 0.0)) * per_eta;
  const Real4 top_W = min_of(of(r.most_W), power_limit_W(of(r.critical_W), of(r.peak_per_J), of(r.wbal_J)));
  const Real4 allowed_W = of(r.rides_freely) > 0.0 ? min_of(of(r.free_W), top_W) : top_W;
  const Real4 braking_N = wish_N > 0.0 ? broadcast(0.0) : min_of(-wish_N, mass_kg * hardest_braking_mps2);
  // Where even the lowest gear does not turn, the rider gets off and walks with the same power.
  const Real4 pedal_N = max_of(of(r.pedal_limit_N), walking_margin * against_N * per_eta);
  const Real4 from_rest_mps = v0 + max_of(0.5 * dt * (eta * pedal_N - against_N) * per_mass, 0.0);
  const Real4 power_W = min_of(min_of(allowed_W, max_of(wish_W, 0.0)), pedal_N * from_rest_mps);

  // First guess of the new speed with the forces of the start held: exact for constant forces, also from rest.
  const Real4 work_J = power_W * dt;
  const Real4 b = (against_N + braking_N) * dt * per_mass;
  const Real4 c = v0 * v0 - b * v0 + 2.0 * eta * work_J * per_mass + 0.25 * b * b;
  const Real4 v_guess = max_of(square_root(max_of(c, 0.0)) - 0.5 * b, 0.0);
  const Real4 dx = 0.5 * (v0 + v_guess) * dt, x1 = x0 + dx, z1 = elevations_m(track, x1);

  // The ledger, and the new speed from it.
  const InAir::Drag drag1 = in_air.at(v_guess);
  const Real4 air_J = 0.5 * (drag0.force_N + drag1.force_N) * dx, rolling_J = rolling_N * dx;
  const Real4 bearings_J = 0.5 * (bearings0_N + bearing_still_N + bearing_Nspm * v_guess) * dx;
  const Real4 rise_J = weight_N * (z1 - z0), braked_J = braking_N * dx, before_J = 0.5 * mass_kg * v0 * v0;
  const Real4 end_J = before_J + eta * work_J - air_J - rolling_J - bearings_J - braked_J - rise_J;
  const Real4 kept_J = max_of(end_J, 0.0), v1 = square_root(2.0 * kept_J * per_mass);
  const Real4 shelter_J = 0.5 * (drag0.alone_N + drag1.alone_N) * dx - air_J;
  const Real4 alone_J = max_of(work_J + (shelter_J - braked_J) * per_eta, 0.0);

  const Real4 on = of(r.on_road);  // riders at the top stay as they came in
  const auto add = [ first, &on ](std::vector<double> & column, const Real4& more) __attribute__((always_inline)) {
    store(&column[first], load(&column[first]) + on * more);
  };
  add(ledgers.pedal_J, work_J);
  add(ledgers.drivetrain_J, (1.0 - eta) * work_J);
  add(ledgers.air_J, air_J);
  add(ledgers.rolling_J, rolling_J);
  add(ledgers.bearings_J, bearings_J);
  add(ledgers.braking_J, braked_J + (end_J - kept_J));  // a foot on the ground takes what is missing
  add(ledgers.potential_J, rise_J);
  add(ledgers.kinetic_J, kept_J - before_J);
  add(ledgers.alone_J, alone_J);
  add(motion.sheltered_s, in_air.drag_factor < sheltered_below ? broadcast(dt) : broadcast(0.0));
  const auto put = [ first, &on ](std::vector<double> & column, const Real4& now) __attribute__((always_inline)) {
    store(&column[first], on > 0.0 ? now : load(&column[first]));
  };
  put(motion.power_W, power_W);
  put(motion.alone_W, alone_J * per_dt);
  put(motion.accel_mps2, (v1 - v0) * per_dt);
  put(motion.area_m2, drag0.area_m2);
  put(motion.elevation_m, z1);
  put(motion.x_m, x1);
  put(motion.v_mps, v1);
}

}  // namespace leewheel
