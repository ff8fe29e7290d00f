#include "model/riders.hpp"

#include <algorithm>
#include <numbers>
#include <numeric>

#include "leewheel/chance.hpp"

namespace leewheel {

void Ledgers::keep_share_since(const EnergyLedger& before, double share, std::size_t i) {
  const auto keep = [&](std::vector<double>& column, double before_J) {
    column[i] = before_J + share * (column[i] - before_J);
  };
  keep(pedal_J, before.pedal_J);
  keep(drivetrain_J, before.drivetrain_J);
  keep(air_J, before.air_J);
  keep(rolling_J, before.rolling_J);
  keep(bearings_J, before.bearings_J);
  keep(braking_J, before.braking_J);
  keep(alone_J, before.alone_J);
  kinetic_J[i] = pedal_J[i] - drivetrain_J[i] - air_J[i] - rolling_J[i] - bearings_J[i] - braking_J[i] - potential_J[i];
}

void Riders::resize(std::size_t n) {
  count = n;
  Bodies::resize_columns(n);
  Motion::resize_columns(n);
  Air::resize_columns(n);
  Near::resize_columns(n);
  Commands::resize_columns(n);
  Strengths::resize_columns(n);
  ledgers.resize_columns(n);
  settings.resize(n);
  plans.resize(n);
  name_hash.resize(n);
  squad.assign(n, 0);
  riding.assign(n, 1);
  std::fill_n(on_road.begin(), n, 1.0);
  blocker.assign(n, nobody);
  wheel_of.assign(n, nobody);
  front_of.resize(n);
  std::iota(front_of.begin(), front_of.end(), 0u);
  wbal_by_law_J.resize(n);
  spent.resize(n);
}

void Riders::set(RiderIndex i, const RiderSettings& s, double gravity_mps2, const HandlingSettings& handling) {
  settings[i] = s;
  name_hash[i] = hash_name(s.name);
  weight_N[i] = s.total_mass_kg() * gravity_mps2;
  moving_mass_kg[i] = s.total_mass_kg() + s.wheel_inertia_kgm2 / (s.wheel_radius_m * s.wheel_radius_m);
  per_moving_mass[i] = 1.0 / moving_mass_kg[i];
  efficiency[i] = s.drivetrain_efficiency;
  per_efficiency[i] = 1.0 / s.drivetrain_efficiency;
  wheel_area_m2[i] = s.wheel_drag_area_m2;
  rolling_multiplier[i] = s.rolling_multiplier;
  pedal_limit_N[i] = s.pedal_force_N * 2.0 * std::numbers::pi * s.crank_length_m / s.lowest_development_m;
  area_hoods_m2[i] = area_m2[i] = s.drag_area_hoods_m2;
  area_drops_m2[i] = s.drag_area_drops_m2;
  area_upright_m2[i] = s.drag_area_upright_m2;
  own_gap_m[i] = handling.gap_wary_m + s.wheel_skill * (handling.gap_skilled_m - handling.gap_wary_m);
  wbal_J[i] = wbal_least_J[i] = s.w_prime_J;
  wbal_by_law_J[i].fill(s.w_prime_J);
  critical_W[i] = s.critical_power_W;
  peak_per_J[i] = peak_per_J_of(s.strength());
}

}  // namespace leewheel
