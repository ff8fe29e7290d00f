#include "model/recover.hpp"

#include <algorithm>

namespace leewheel {

namespace {

constexpr double heavy_share = 0.75;                             // of critical power: riding above this tires (assumed)
constexpr double heart_rise_s = 55.0, heart_fall_s = 75.0;       // first order, from memory (+-40 %)
constexpr double heart_at_rest = 0.35, heart_per_effort = 0.57;  // share of the highest rate, from memory

Strength strength_now(const Riders& r, const RideSettings& ride, RiderIndex i) {
  const Strength fresh = r.settings[i].strength();
  return ride.fatigue ? tired_strength(fresh, r.heavy_s[i]) : fresh;
}

void recover_by_each_law(const Riders& r, Strengths& strengths, const Strength& strength, RiderIndex i, double interval_s) {
  const double mean_W = (r.ledgers.pedal_J[i] - r.pedal_by_law_J[i]) / interval_s;
  strengths.pedal_by_law_J[i] = r.ledgers.pedal_J[i];
  for (std::size_t law = 0; law < recovery_law_names.size(); ++law)
    strengths.wbal_by_law_J[i][law] =
        std::max(0.0, wbal_after_J(static_cast<RecoveryLaw>(law), strength, r.wbal_by_law_J[i][law], mean_W, interval_s));
}

}  // namespace

void recover(const Riders& r, Strengths& strengths, const RideSettings& ride, std::span<const RiderIndex> order,
             double interval_s, bool compare_laws) {
  for (const RiderIndex i : order) {
    const double mean_W = (r.ledgers.pedal_J[i] - r.pedal_before_J[i]) / interval_s;
    strengths.pedal_before_J[i] = r.ledgers.pedal_J[i];
    if (mean_W > heavy_share * r.settings[i].critical_power_W) strengths.heavy_s[i] += interval_s;
    const Strength strength = strength_now(r, ride, i);
    strengths.critical_W[i] = strength.critical_power_W;
    strengths.peak_per_J[i] = (strength.peak_power_W - strength.critical_power_W) / strength.w_prime_J;
    strengths.wbal_J[i] =
        std::min(strength.w_prime_J, wbal_after_J(ride.recovery_law, strength, r.wbal_J[i], mean_W, interval_s));
    strengths.wbal_least_J[i] = std::min(r.wbal_least_J[i], r.wbal_J[i]);
    if (compare_laws) recover_by_each_law(r, strengths, strength, i, static_cast<double>(law_comparison_every) * interval_s);
  }
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
