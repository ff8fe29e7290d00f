#include "model/recover.hpp"

#include <algorithm>

#include "model/power_limit.hpp"

namespace leewheel {

namespace {

constexpr double heavy_share = 0.75;                             // of critical power: riding above this tires (assumed)
constexpr double heart_fall_s = 75.0;                            // first order, from memory (+-40 %)
constexpr double heart_at_rest = 0.35, heart_per_effort = 0.57;  // share of the highest rate, from memory

Strength strength_now(const Riders& r, const RideSettings& ride, RiderIndex i) {
  const Strength fresh = r.settings[i].strength();
  Strength now = ride.fatigue ? tired_strength(fresh, r.heavy_s[i]) : fresh;
  now.critical_power_W *= 1.0 - r.heat_share[i];
  return now;
}

/// W' after `interval_s` at that mean power, `spent` having it already. Never below nothing, though heat and fatigue lower
/// critical power after the power was limited by it.
double wbal_then_J(RecoveryLaw law, const Strength& strength, double wbal_J, const IntegralWbal& spent, double mean_W,
                   double interval_s) {
  if (law == RecoveryLaw::integral) return std::max(0.0, strength.w_prime_J - spent.spent_J());
  return std::clamp(wbal_after_J(law, strength, wbal_J, mean_W, interval_s), 0.0, strength.w_prime_J);
}

}  // namespace

void warm(const Riders& r, Strengths& strengths, const Scenario& scenario, std::span<const RiderIndex> order, double time_s,
          double interval_s) {
  if (!scenario.heat.on) return;
  for (const RiderIndex i : order)
    strengths.heat_share[i] = heat_share_after(scenario, r.heat_share[i], r.x_m[i], time_s, interval_s);
}

void recover(const Riders& r, Strengths& strengths, const RideSettings& ride, std::span<const RiderIndex> order,
             double interval_s, LawsKept laws) {
  const IntegralWbal::Decay decay(interval_s);
  for (const RiderIndex i : order) {
    const double mean_W = (r.ledgers.pedal_J[i] - r.pedal_before_J[i]) / interval_s;
    strengths.pedal_before_J[i] = r.ledgers.pedal_J[i];
    if (mean_W > heavy_share * r.settings[i].critical_power_W) strengths.heavy_s[i] += interval_s;
    const Strength strength = strength_now(r, ride, i);
    strengths.critical_W[i] = strength.critical_power_W;
    strengths.peak_per_J[i] = peak_per_J_of(strength);
    if (laws == LawsKept::all || ride.recovery_law == RecoveryLaw::integral)
      strengths.spent[i].add(mean_W - strength.critical_power_W, decay);
    strengths.wbal_J[i] = wbal_then_J(ride.recovery_law, strength, r.wbal_J[i], r.spent[i], mean_W, interval_s);
    strengths.wbal_least_J[i] = std::min(r.wbal_least_J[i], r.wbal_J[i]);
    for (std::size_t n = 0; laws == LawsKept::all && n < recovery_law_names.size(); ++n) {
      const auto law = static_cast<RecoveryLaw>(n);
      if (law == ride.recovery_law || law == RecoveryLaw::integral) continue;
      double& left_J = strengths.wbal_by_law_J[i][n];
      left_J = wbal_then_J(law, strength, left_J, r.spent[i], mean_W, interval_s);
    }
  }
}

WbalByLaw wbal_by_law_J(const Riders& r, const RideSettings& ride, RiderIndex i) {
  WbalByLaw left_J = r.wbal_by_law_J[i];
  left_J[static_cast<std::size_t>(RecoveryLaw::integral)] =
      std::max(0.0, strength_now(r, ride, i).w_prime_J - r.spent[i].spent_J());
  left_J[static_cast<std::size_t>(ride.recovery_law)] = r.wbal_J[i];
  return left_J;
}

double wbal_at_J(const Riders& r, const RideSettings& ride, RiderIndex i, double pedal_J, double interval_s) {
  if (interval_s <= 0.0) return r.wbal_J[i];
  const double mean_W = (pedal_J - r.pedal_before_J[i]) / interval_s;
  const Strength strength = strength_now(r, ride, i);
  IntegralWbal spent = r.spent[i];
  if (ride.recovery_law == RecoveryLaw::integral)
    spent.add(mean_W - strength.critical_power_W, IntegralWbal::Decay(interval_s));
  return wbal_then_J(ride.recovery_law, strength, r.wbal_J[i], spent, mean_W, interval_s);
}

void beat(const Riders& r, Strengths& strengths, std::span<const RiderIndex> order, double interval_s) {
  for (const RiderIndex i : order) {
    const double effort = r.power_W[i] / r.settings[i].critical_power_W;
    const double towards = std::clamp(heart_at_rest + heart_per_effort * effort, heart_at_rest, 1.0);
    double& share = strengths.heart_share[i];
    share += (towards - share) * interval_s / (towards > share ? heart_rise_s : heart_fall_s);
  }
}

}  // namespace leewheel
