/// Motion along and across the road, and the books of energy.
///
/// One step of length dt integrates the energy equation of a rider, in which pedal work P dt and the rise of the road
/// are exact and the resistances are averaged over the step (second order, as Heun's method):
///   v1^2 = v0^2 + 2/m_eff [ eta P dt - (R(x0, v0) + R(x1*, v1*))/2 dx - m g (z(x0 + dx) - z(x0)) ],  dx = (v0 + v1*) dt/2
/// with v1* from the same equation with all forces as at the start. What is booked is what was integrated, so the books close.

#include <algorithm>
#include <cmath>

#include "leewheel/motion.hpp"
#include "model/gap_law.hpp"
#include "model/lanes.hpp"
#include "model/state.hpp"

namespace leewheel {

namespace {

constexpr double upright_below_mps = 7.0, upright_blend_mps = 2.0;  // sits up to climb below 7 m/s, fully at 5 (assumed)
constexpr double drops_above_mps = 9.0, drops_blend_mps = 2.0;      // goes to the drops from 9 m/s, fully at 11 (assumed)
constexpr double pace_time_s = 3.0;     // time in which a front rider takes up a new pace (assumed)
constexpr double rolling_mps = 3.0;     // below this the first of a line gets going like anyone else (assumed)
constexpr double walking_margin = 1.1;  // force of a walker over what the slope asks (assumed)
constexpr double limit_time_s = 1.5;    // time in which a speed limit is met (assumed)
constexpr double least_gap_m = 0.03;    // wheels never come closer (assumed)
constexpr double body_length_m = bicycle_length_m + least_gap_m;
constexpr double tiny_m = 1e-9;       // rounding
constexpr double sideways_mps = 0.5;  // quickest move across the road (assumed)
constexpr double in_place_m = 1e-3;   // nobody steers finer than this (assumed)

constexpr double heavy_share = 0.75;                // of critical power: riding above this tires (assumed)
constexpr std::uint64_t law_comparison_every = 10;  // seconds between updates of W' under the other laws

LEEWHEEL_IN_PLACE Lanes elevations_m(const Track& track, const Lanes& x_m) {
  LaneCells cell;
  Lanes part;
  track.places(x_m, cell, part);
  Lanes low, high;
  for (int k = 0; k < lanes; ++k) {
    low[k] = track.cell(cell[k]).elevation_m;
    high[k] = track.cell(cell[k] + 1).elevation_m;
  }
  return low + part * (high - low);
}

/// What four riders are, as far as the air is concerned, and what air they meet.
struct InAir {
  Lanes hoods_m2, drops_m2, upright_m2, wheels_m2, yaw_factor, lee, climbing, half_density, wind_along_mps, wind_cross_mps;

  struct Drag {
    Lanes area_m2, force_N, alone_N;  ///< in the posture taken; along the road; the same without the others' lee
  };
  LEEWHEEL_IN_PLACE Drag at(const Lanes& v_mps) const {
    const Lanes upright = climbing * share((upright_below_mps - v_mps) * (1.0 / upright_blend_mps));
    const Lanes drops = (1.0 - climbing) * share((v_mps - drops_above_mps) * (1.0 / drops_blend_mps));
    const Lanes area_m2 = hoods_m2 + upright * (upright_m2 - hoods_m2) + drops * (drops_m2 - hoods_m2);
    const Lanes along = v_mps - wind_along_mps;
    const Lanes unit_N = half_density * along * root(along * along + wind_cross_mps * wind_cross_mps);
    const Lanes met_m2 = area_m2 * yaw_factor;
    return {area_m2, unit_N * (met_m2 * lee + wheels_m2), unit_N * (met_m2 + wheels_m2)};
  }
};

}  // namespace

/// What the rider wants of the next moment (m/s2): the wheel's gap, the pace, and no faster than bend, stop and the one in the way allow.
double Ride::State::wished_acceleration_mps2(RiderIndex i) const {
  const TacticsSettings& t = scenario.tactics;
  const Riders& r = riders;
  const double v = r.v_mps[i], dt = step_s;
  double wish = t.comfort_acceleration_mps2 * 8.0;  // the power ordered decides
  if (const RiderIndex w = r.wheel_of[i]; w != nobody) {
    const double gap_m = r.x_m[w] - r.x_m[i] - bicycle_length_m;
    const double a = gap_law_mps2(t, gap_m, r.wish_gap_m[i], v, seen_speed_mps(w), r.v_mps[r.front_of[i]]);
    wish = std::min(wish, std::min(a, t.comfort_acceleration_mps2));
  } else if (r.pace_mps[i] > 0.0) {
    wish = std::min(wish, std::min((r.pace_mps[i] - v) * (1.0 / pace_time_s),
                                   v < rolling_mps ? t.comfort_acceleration_mps2 : t.pace_change_mps2));
  }
  const double limit_mps = track.cell(track.place(r.x_m[i])).speed_limit_mps;
  if (v > limit_mps - t.comfort_acceleration_mps2) wish = std::min(wish, (limit_mps - v) / limit_time_s);
  const double to_stop_m = r.stop_at_m[i] - r.x_m[i];
  if (to_stop_m < 100.0) {
    const double allowed_mps = std::sqrt(2.0 * t.comfort_braking_mps2 * std::max(0.0, to_stop_m));
    if (v > allowed_mps - 0.5) wish = std::min(wish, (allowed_mps - v) / (2.0 * dt + 0.3));
  }
  if (const RiderIndex b = r.blocker[i]; b != nobody) {
    const double room_m = std::max(0.0, r.x_m[b] - r.x_m[i] - bicycle_length_m - least_gap_m);
    const double safe2 = r.v_mps[b] * r.v_mps[b] + 2.0 * t.comfort_braking_mps2 * room_m;
    if (v * v > safe2) wish = std::min(wish, (std::sqrt(safe2) - v) / (2.0 * dt));
  }
  return wish;
}

void Ride::State::push() {
  Riders& r = riders;
  r.x_before_m = r.x_m;
  // Wishes first, all from the state at the start of the step, so that nobody reacts to a move not yet made.
  for (const RiderIndex i : order) {
    r.accel_mps2[i] = wished_acceleration_mps2(i);
    r.rides_freely[i] = r.wheel_of[i] == nobody && r.pace_mps[i] <= 0.0 ? 1.0 : 0.0;
  }
  if (reaction_steps > 0)
    for (RiderIndex i = 0; i < r.count; ++i)
      r.past_mps[(tick % reaction_steps) * r.count + i] = static_cast<float>(r.v_mps[i]);
  for (RiderIndex first = 0; first < r.count; first += lanes) push_abreast(first);
}

LEEWHEEL_WIDE void Ride::State::push_abreast(RiderIndex first) {
  Riders& r = riders;
  const double dt = step_s, per_dt = 1.0 / dt;
  const auto of = [first](const std::vector<double>& column) __attribute__((always_inline)) { return load(&column[first]); };
  const InAir in_air{of(r.area_hoods_m2),  of(r.area_drops_m2), of(r.area_upright_m2), of(r.wheel_area_m2),
                     of(r.yaw_factor),     of(r.lee),           of(r.climbing),        of(r.half_density),
                     of(r.wind_along_mps), of(r.wind_cross_mps)};
  const Lanes x0 = of(r.x_m), v0 = of(r.v_mps), z0 = of(r.elevation_m);
  const Lanes weight_N = of(r.weight_N), mass_kg = of(r.moving_mass_kg), per_mass = of(r.per_moving_mass);
  const Lanes eta = of(r.efficiency), per_eta = of(r.per_efficiency), rolling_N = of(r.rolling_N);

  // What the wish costs, against what the rider may and can give.
  const Lanes wished = of(r.accel_mps2), ahead_m = larger(v0 * dt, 0.05);
  const Lanes slope_N = weight_N * (elevations_m(track, x0 + ahead_m) - z0) / ahead_m;
  const InAir::Drag drag0 = in_air.at(v0);
  const Lanes bearings0_N = bearing_still_N + bearing_Nspm * v0;
  const Lanes against_N = drag0.force_N + rolling_N + bearings0_N + slope_N;
  const Lanes wish_N = mass_kg * wished + against_N;
  const Lanes wish_W = wish_N * (v0 + larger(0.5 * wished * dt, 0.0)) * per_eta;
  const Lanes top_W = smaller(of(r.most_W), power_limit_W(of(r.critical_W), of(r.peak_per_J), of(r.wbal_J)));
  const Lanes allowed_W = of(r.rides_freely) > 0.0 ? smaller(of(r.ordered_W), top_W) : top_W;
  const Lanes braking_N = wish_N > 0.0 ? all(0.0) : smaller(-wish_N, mass_kg * scenario.tactics.hardest_braking_mps2);
  // Where even the lowest gear does not turn, the rider gets off and walks with the same power.
  const Lanes pedal_N = larger(of(r.pedal_limit_N), walking_margin * against_N * per_eta);
  const Lanes from_rest_mps = v0 + larger(0.5 * dt * (eta * pedal_N - against_N) * per_mass, 0.0);
  const Lanes power_W = smaller(smaller(allowed_W, larger(wish_W, 0.0)), pedal_N * from_rest_mps);

  // First guess of the new speed with the forces of the start held: exact for constant forces, also from rest.
  const Lanes work_J = power_W * dt;
  const Lanes b = (against_N + braking_N) * dt * per_mass;
  const Lanes c = v0 * v0 - b * v0 + 2.0 * eta * work_J * per_mass + 0.25 * b * b;
  const Lanes v_guess = larger(root(larger(c, 0.0)) - 0.5 * b, 0.0);
  const Lanes dx = 0.5 * (v0 + v_guess) * dt, x1 = x0 + dx, z1 = elevations_m(track, x1);

  // The books, and the new speed from them.
  const InAir::Drag drag1 = in_air.at(v_guess);
  const Lanes air_J = 0.5 * (drag0.force_N + drag1.force_N) * dx, rolling_J = rolling_N * dx;
  const Lanes bearings_J = 0.5 * (bearings0_N + bearing_still_N + bearing_Nspm * v_guess) * dx;
  const Lanes rise_J = weight_N * (z1 - z0), braked_J = braking_N * dx, before_J = 0.5 * mass_kg * v0 * v0;
  const Lanes end_J = before_J + eta * work_J - air_J - rolling_J - bearings_J - braked_J - rise_J;
  const Lanes kept_J = larger(end_J, 0.0), v1 = root(2.0 * kept_J * per_mass);
  const Lanes shelter_J = 0.5 * (drag0.alone_N + drag1.alone_N) * dx - air_J;
  const Lanes alone_J = larger(work_J + (shelter_J - braked_J) * per_eta, 0.0);

  const Lanes on = of(r.on_road);  // who is at the top stays as he came in
  const auto add = [ first, &on ](std::vector<double> & column, const Lanes& more) __attribute__((always_inline)) {
    store(&column[first], load(&column[first]) + on * more);
  };
  add(r.books.pedal_J, work_J);
  add(r.books.drivetrain_J, (1.0 - eta) * work_J);
  add(r.books.air_J, air_J);
  add(r.books.rolling_J, rolling_J);
  add(r.books.bearings_J, bearings_J);
  add(r.books.braking_J, braked_J + (end_J - kept_J));  // a foot on the ground takes what is missing
  add(r.books.potential_J, rise_J);
  add(r.books.kinetic_J, kept_J - before_J);
  add(r.books.alone_J, alone_J);
  add(r.sheltered_s, in_air.lee < 0.95 ? all(dt) : all(0.0));
  const auto put = [ first, &on ](std::vector<double> & column, const Lanes& now) __attribute__((always_inline)) {
    store(&column[first], on > 0.0 ? now : load(&column[first]));
  };
  put(r.power_W, power_W);
  put(r.alone_W, alone_J * per_dt);
  put(r.accel_mps2, (v1 - v0) * per_dt);
  put(r.area_m2, drag0.area_m2);
  put(r.elevation_m, z1);
  put(r.x_m, x1);
  put(r.v_mps, v1);
}

/// Riders too close sideways to ride side by side keep the order and the gap they had at the start of the step. With `steer`,
/// which lets nobody come that close to who is alongside, no wheel is ever driven through, whatever the step.
void Ride::State::keep_apart() {
  Riders& r = riders;
  for (std::size_t place = 1; place < order.size(); ++place) {  // from the front: who is ahead has been seen to
    const RiderIndex i = order[place];
    double limit_m = r.x_m[i], limit_mps = r.v_mps[i];
    for (std::size_t k = place; k-- > 0;) {
      const RiderIndex b = order[k];
      if (r.x_before_m[b] - limit_m > body_length_m) break;
      if (std::abs(r.y_m[b] - r.y_m[i]) >= beside_m - tiny_m || r.x_m[b] - body_length_m >= limit_m) continue;
      limit_m = std::max(r.x_m[b] - body_length_m, r.x_before_m[i]);
      limit_mps = std::min(limit_mps, r.v_mps[b]);
    }
    if (limit_m >= r.x_m[i]) continue;
    // The brakes take what is left over.
    const double rise_J = r.weight_N[i] * (track.elevation_m(limit_m) - r.elevation_m[i]);
    const double kinetic_J = 0.5 * r.moving_mass_kg[i] * (limit_mps * limit_mps - r.v_mps[i] * r.v_mps[i]);
    r.books.potential_J[i] += rise_J;
    r.books.kinetic_J[i] += kinetic_J;
    r.books.braking_J[i] -= rise_J + kinetic_J;
    r.x_m[i] = limit_m;
    r.elevation_m[i] = track.elevation_m(limit_m);
    r.v_mps[i] = limit_mps;
  }
}

double Ride::State::seen_speed_mps(RiderIndex rider) const {
  if (reaction_steps == 0) return riders.v_mps[rider];
  return riders.past_mps[(tick % reaction_steps) * riders.count + rider];  // the oldest row, overwritten after this step
}

Strength Ride::State::strength_now(RiderIndex rider) const {
  const Strength fresh = riders.settings[rider].strength();
  return scenario.ride.fatigue ? tired_strength(fresh, heavy_s[rider]) : fresh;
}

void Ride::State::recover() {
  const double interval_s = static_cast<double>(decide_every) * step_s;
  const bool compare_laws = tick % (law_comparison_every * decide_every) == 0;
  Riders& r = riders;
  for (const RiderIndex i : order) {
    const double mean_W = (r.books.pedal_J[i] - r.pedal_before_J[i]) / interval_s;
    r.pedal_before_J[i] = r.books.pedal_J[i];
    if (mean_W > heavy_share * r.settings[i].critical_power_W) heavy_s[i] += interval_s;
    const Strength strength = strength_now(i);
    r.critical_W[i] = strength.critical_power_W;
    r.peak_per_J[i] = (strength.peak_power_W - strength.critical_power_W) / strength.w_prime_J;
    r.wbal_J[i] =
        std::min(strength.w_prime_J, wbal_after_J(scenario.ride.recovery_law, strength, r.wbal_J[i], mean_W, interval_s));
    r.wbal_least_J[i] = std::min(r.wbal_least_J[i], r.wbal_J[i]);
    if (compare_laws) recover_by_each_law(i, strength);
  }
}

void Ride::State::recover_by_each_law(RiderIndex i, const Strength& strength) {
  const double interval_s = static_cast<double>(law_comparison_every * decide_every) * step_s;
  const double mean_W = (riders.books.pedal_J[i] - pedal_by_law_J[i]) / interval_s;
  pedal_by_law_J[i] = riders.books.pedal_J[i];
  for (std::size_t law = 0; law < recovery_law_names.size(); ++law)
    wbal_by_law_J[i][law] =
        std::max(0.0, wbal_after_J(static_cast<RecoveryLaw>(law), strength, wbal_by_law_J[i][law], mean_W, interval_s));
}

void Ride::State::steer() {
  Riders& r = riders;
  for (std::size_t place = 0; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    const double y_m = r.y_m[i];
    if (std::abs(r.y_target_m[i] - y_m) < in_place_m) continue;
    double low_m = std::min(r.y_low_m[i], y_m), high_m = std::max(r.y_high_m[i], y_m);
    const auto leave_room = [&](RiderIndex other) {  // for who is alongside now
      if (r.y_m[other] > y_m)
        high_m = std::min(high_m, std::max(y_m, r.y_m[other] - beside_m));
      else
        low_m = std::max(low_m, std::min(y_m, r.y_m[other] + beside_m));
    };
    for (std::size_t k = place; k-- > 0 && r.x_m[order[k]] - r.x_m[i] < body_length_m - tiny_m;) leave_room(order[k]);
    for (std::size_t k = place + 1; k < order.size() && r.x_m[i] - r.x_m[order[k]] < body_length_m - tiny_m; ++k)
      leave_room(order[k]);
    const double most_m = std::min(sideways_mps, 0.15 * r.v_mps[i]) * step_s;
    const double wish_m = (r.y_target_m[i] - y_m) * std::min(1.0, step_s / 1.0);
    r.y_m[i] = std::clamp(y_m + std::clamp(wish_m, -most_m, most_m), low_m, high_m);
  }
}

}  // namespace leewheel
