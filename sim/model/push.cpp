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
#include "model/state.hpp"

namespace leewheel {

namespace {

constexpr double upright_below_mps = 7.0, upright_blend_mps = 2.0;  // sits up to climb below 7 m/s, fully at 5 (assumed)
constexpr double drops_above_mps = 9.0, drops_blend_mps = 2.0;      // goes to the drops from 9 m/s, fully at 11 (assumed)
constexpr double pace_time_s = 3.0;     // time in which a front rider takes up a new pace (assumed)
constexpr double rolling_mps = 3.0;      // below this the first of a line gets going like anyone else (assumed)
constexpr double walking_margin = 1.1;   // force of a walker over what the slope asks (assumed)
constexpr double limit_time_s = 1.5;    // time in which a speed limit is met (assumed)
constexpr double least_gap_m = 0.03;    // wheels never come closer (assumed)
constexpr double body_length_m = bicycle_length_m + least_gap_m;
constexpr double tiny_m = 1e-9;         // rounding
constexpr double sideways_mps = 0.5;    // quickest move across the road (assumed)
constexpr double body_width_m = 0.45;

constexpr double heavy_share = 0.75;       // of critical power: riding above this tires (assumed)
constexpr std::uint64_t law_comparison_every = 10;  // seconds between updates of W' under the other laws

double share(double value) { return value < 0.0 ? 0.0 : (value > 1.0 ? 1.0 : value); }

/// Drag area in the posture that speed and slope ask for.
double posture_area_m2(const Riders& r, RiderIndex i, double speed_mps, double climbing) {
  const double upright = climbing * share((upright_below_mps - speed_mps) / upright_blend_mps);
  const double drops = (1.0 - climbing) * share((speed_mps - drops_above_mps) / drops_blend_mps);
  return r.area_hoods_m2[i] + upright * (r.area_upright_m2[i] - r.area_hoods_m2[i]) +
         drops * (r.area_drops_m2[i] - r.area_hoods_m2[i]);
}

/// Resistances at one place and speed (N).
struct Resistance {
  double air_N, alone_air_N, rolling_N, bearings_N;
  double sum_N() const { return air_N + rolling_N + bearings_N; }
};

}  // namespace

void Ride::State::push() {
  const TacticsSettings& t = scenario.tactics;
  const double g = scenario.gravity_mps2, dt = step_s;
  Riders& r = riders;

  const auto resistance = [&](RiderIndex i, Track::Place place, double v_mps,
                              const Eigen::Vector2d& forecast, bool note) {
    const RoadCell& cell = track.cell(place);
    const RoadWind air = wind.at(place.cell, place.part, forecast);
    const double along_mps = v_mps - air.along_mps;
    const double area_m2 = posture_area_m2(r, i, v_mps, cell.climbing);
    const double unit_N =
        density_factor * cell.half_density * along_mps * std::sqrt(along_mps * along_mps + air.cross_mps * air.cross_mps);
    const double met_m2 = area_m2 * r.yaw_factor[i];
    if (note) {
      r.area_m2[i] = area_m2;
      r.wind_along_mps[i] = air.along_mps;
      r.wind_cross_mps[i] = air.cross_mps;
    }
    return Resistance{unit_N * (met_m2 * r.lee[i] + r.wheel_area_m2[i]), unit_N * (met_m2 + r.wheel_area_m2[i]),
                      r.mass_kg[i] * g * r.rolling_multiplier[i] * cell.rolling_cos, bearing_force_N(v_mps)};
  };

  r.x_before_m = r.x_m;

  // Wishes first, all from the state at the start of the step, so that nobody reacts to a move not yet made.
  for (const RiderIndex i : order) {
    double wish = t.comfort_acceleration_mps2 * 8.0;  // the power ordered decides
    const double v = r.v_mps[i];
    if (const RiderIndex w = r.wheel_of[i]; w != nobody) {
      const double gap_m = r.x_m[w] - r.x_m[i] - bicycle_length_m;
      const double front_mps = r.v_mps[r.front_of[i]];
      const double a = gap_law_mps2(t, gap_m, r.wish_gap_m[i], v, seen_speed_mps(w), front_mps);
      wish = std::min(wish, std::min(a, t.comfort_acceleration_mps2));
    } else if (r.pace_mps[i] > 0.0) {
      wish = std::min(wish, std::min((r.pace_mps[i] - v) / pace_time_s, v < rolling_mps ? t.comfort_acceleration_mps2 : t.pace_change_mps2));
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
      const double safe_mps = std::sqrt(r.v_mps[b] * r.v_mps[b] + 2.0 * t.comfort_braking_mps2 * room_m);
      if (v > safe_mps) wish = std::min(wish, (safe_mps - v) / (2.0 * dt));
    }
    r.accel_mps2[i] = wish;
  }

  for (const RiderIndex i : order) {
    const double x0 = r.x_m[i], v0 = r.v_mps[i], m = r.moving_mass_kg[i], eta = r.efficiency[i];
    const double weight_N = r.mass_kg[i] * g;
    const Track::Place p0 = track.place(x0);
    const double z0 = track.elevation_m(p0);
    const Resistance at0 = resistance(i, p0, v0, local_wind ? r.open_wind_enu_mps[i] : forecast_now, true);

    // What the wish costs, against what the rider may and can give.
    const double ahead_m = std::max(v0 * dt, 0.05);
    const double slope_N = weight_N * (track.elevation_m(x0 + ahead_m) - z0) / ahead_m;
    const double against_N = at0.sum_N() + slope_N;
    const double top_W = std::min(r.most_W[i], r.power_limit_W(i));
    const bool free = r.wheel_of[i] == nobody && r.pace_mps[i] <= 0.0;
    double power_W = std::min(free ? r.ordered_W[i] : top_W, top_W);
    const double wish_N = m * r.accel_mps2[i] + against_N;
    double braking_N = 0.0;
    if (wish_N <= 0.0) {
      power_W = 0.0;
      braking_N = std::min(-wish_N, m * t.hardest_braking_mps2);
    } else {
      power_W = std::min(power_W, wish_N * (v0 + std::max(0.0, 0.5 * r.accel_mps2[i] * dt)) / eta);
    }
    // Where even the lowest gear does not turn, the rider gets off and walks with the same power.
    const double limit_N = std::max(r.pedal_limit_N[i], walking_margin * against_N / eta);
    const double from_rest_mps = v0 + std::max(0.0, 0.5 * dt * (eta * limit_N - against_N) / m);
    power_W = std::min(power_W, limit_N * from_rest_mps);

    // First guess of the new speed with the forces of the start held: exact for constant forces, also from rest.
    const double half_v0_2 = 0.5 * m * v0 * v0, work_J = power_W * dt;
    const double b = (against_N + braking_N) * dt / m;
    const double c = v0 * v0 - b * v0 + 2.0 * eta * work_J / m + 0.25 * b * b;
    const double v_guess = c > 0.0 ? std::max(0.0, std::sqrt(c) - 0.5 * b) : 0.0;
    const double dx = 0.5 * (v0 + v_guess) * dt;
    const double x1 = x0 + dx;
    const Track::Place p1 = track.place(x1);
    const Resistance at1 = resistance(i, p1, v_guess, local_wind ? r.open_wind_enu_mps[i] : forecast_next, false);

    const double air_J = 0.5 * (at0.air_N + at1.air_N) * dx, rolling_J = 0.5 * (at0.rolling_N + at1.rolling_N) * dx;
    const double bearings_J = 0.5 * (at0.bearings_N + at1.bearings_N) * dx;
    const double rise_J = weight_N * (track.elevation_m(p1) - z0);
    const double end_J = half_v0_2 + eta * work_J - air_J - rolling_J - bearings_J - braking_N * dx - rise_J;
    const double kept_J = std::max(0.0, end_J);
    const double v1 = std::sqrt(2.0 * kept_J / m);

    EnergyLedger& book = r.ledger[i];
    book.pedal_J += work_J;
    book.drivetrain_J += (1.0 - eta) * work_J;
    book.air_J += air_J;
    book.rolling_J += rolling_J;
    book.bearings_J += bearings_J;
    book.braking_J += braking_N * dx + (end_J - kept_J);  // a foot on the ground takes what is missing
    book.potential_J += rise_J;
    book.kinetic_J += kept_J - half_v0_2;
    const double shelter_J = 0.5 * (at0.alone_air_N + at1.alone_air_N) * dx - air_J;
    const double alone_J = std::max(0.0, work_J + (shelter_J - braking_N * dx) / eta);
    book.alone_J += alone_J;
    book.saved_J += alone_J - work_J;

    if (reaction_steps > 0) r.past_mps[(tick % reaction_steps) * r.count + i] = static_cast<float>(v0);
    r.accel_mps2[i] = (v1 - v0) / dt;
    r.power_W[i] = power_W;
    r.alone_W[i] = alone_J / dt;
    r.x_m[i] = x1;
    r.v_mps[i] = v1;
    if (r.lee[i] < 0.95) r.sheltered_s[i] += dt;
  }
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
    const double rise_J = r.mass_kg[i] * scenario.gravity_mps2 * (track.elevation_m(limit_m) - track.elevation_m(r.x_m[i]));
    const double kinetic_J = 0.5 * r.moving_mass_kg[i] * (limit_mps * limit_mps - r.v_mps[i] * r.v_mps[i]);
    r.ledger[i].potential_J += rise_J;
    r.ledger[i].kinetic_J += kinetic_J;
    r.ledger[i].braking_J -= rise_J + kinetic_J;
    r.x_m[i] = limit_m;
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
    const double mean_W = (r.ledger[i].pedal_J - r.pedal_before_J[i]) / interval_s;
    r.pedal_before_J[i] = r.ledger[i].pedal_J;
    if (mean_W > heavy_share * r.settings[i].critical_power_W) heavy_s[i] += interval_s;
    const Strength strength = strength_now(i);
    r.critical_W[i] = strength.critical_power_W;
    r.peak_per_J[i] = (strength.peak_power_W - strength.critical_power_W) / strength.w_prime_J;
    r.wbal_J[i] = std::min(
        strength.w_prime_J, wbal_after_J(scenario.ride.recovery_law, strength, r.wbal_J[i], mean_W, interval_s));
    r.wbal_least_J[i] = std::min(r.wbal_least_J[i], r.wbal_J[i]);
    if (compare_laws) recover_by_each_law(i, strength);
  }
}

void Ride::State::recover_by_each_law(RiderIndex i, const Strength& strength) {
  const double interval_s = static_cast<double>(law_comparison_every * decide_every) * step_s;
  const double mean_W = (riders.ledger[i].pedal_J - pedal_by_law_J[i]) / interval_s;
  pedal_by_law_J[i] = riders.ledger[i].pedal_J;
  for (std::size_t law = 0; law < recovery_law_names.size(); ++law)
    wbal_by_law_J[i][law] = std::max(
        0.0, wbal_after_J(static_cast<RecoveryLaw>(law), strength, wbal_by_law_J[i][law], mean_W, interval_s));
}

void Ride::State::steer() {
  Riders& r = riders;
  for (std::size_t place = 0; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    const double y_m = r.y_m[i];
    double low_m = std::min(r.y_low_m[i], y_m), high_m = std::max(r.y_high_m[i], y_m);
    const auto leave_room = [&](RiderIndex other) {  // for who is alongside now
      if (r.y_m[other] > y_m) high_m = std::min(high_m, std::max(y_m, r.y_m[other] - beside_m));
      else low_m = std::max(low_m, std::min(y_m, r.y_m[other] + beside_m));
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
