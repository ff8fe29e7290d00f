#include "leewheel/strength.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "leewheel/integral_wbal.hpp"
#include "model/power_limit.hpp"

namespace leewheel {
namespace {

// Chorley, Bott, Marwood & Lamb 2022, Eur J Appl Physiol 122(3): refill from empty as the sum of two exponentials.
struct TwoExponentials {
  double fast_share = 0.5067, fast_s = 21.5;
  double slow_share = 0.4933, slow_s = 388.0;

  double empty_share(double time_s) const {
    return fast_share * std::exp(-time_s / fast_s) + slow_share * std::exp(-time_s / slow_s);
  }

  // Time since empty at which `share` is still missing. The curve is convex and falling, so Newton's steps from the left
  // never overshoot; the slow term alone lies below it and gives that start.
  double time_since_empty_s(double share) const {
    double time_s = share < slow_share ? slow_s * std::log(slow_share / share) : 0.0;
    for (int i = 0; i < 50; ++i) {
      const double fast = std::exp(-time_s / fast_s), slow = std::exp(-time_s / slow_s);
      const double slope_1ps = -fast_share / fast_s * fast - slow_share / slow_s * slow;
      const double step_s = (share - (fast_share * fast + slow_share * slow)) / slope_1ps;
      time_s += step_s;
      if (step_s <= 1e-12 * (1.0 + time_s)) break;
    }
    return time_s;
  }
};

}  // namespace

double critical_power_from_W(double held_W, double held_s, double w_prime_J) { return held_W - w_prime_J / held_s; }

double recovery_time_s(RecoveryLaw law, double below_W, double w_prime_J) {
  assert(below_W > 0.0 && w_prime_J > 0.0);
  switch (law) {
    case RecoveryLaw::differential: return w_prime_J / below_W;
    case RecoveryLaw::integral: return integral_time_s(below_W);
    case RecoveryLaw::steeper: return 2287.2 * std::pow(below_W, -0.688);
    case RecoveryLaw::two_exponentials: {
      constexpr TwoExponentials refill;  // its initial slope as one time constant; it does not depend on power
      return 1.0 / (refill.fast_share / refill.fast_s + refill.slow_share / refill.slow_s);
    }
  }
  assert(false);
  return w_prime_J / below_W;
}

double wbal_after_J(RecoveryLaw law, const Strength& strength, double wbal_J, double power_W, double dt_s) {
  assert(dt_s >= 0.0 && strength.w_prime_J > 0.0);
  const double below_W = strength.critical_power_W - power_W;
  if (below_W <= 0.0) return wbal_J + below_W * dt_s;

  const double missing_J = strength.w_prime_J - wbal_J;
  if (missing_J <= 0.0) return strength.w_prime_J;
  if (law != RecoveryLaw::two_exponentials)
    return strength.w_prime_J - missing_J * std::exp(-dt_s / recovery_time_s(law, below_W, strength.w_prime_J));

  // The measured curve starts from empty: find where on it the rider stands and go on from there.
  constexpr TwoExponentials refill;
  const double missing_share = missing_J / strength.w_prime_J;
  if (missing_share >= 1.0) return strength.w_prime_J - missing_J * refill.empty_share(dt_s);
  return strength.w_prime_J * (1.0 - refill.empty_share(refill.time_since_empty_s(missing_share) + dt_s));
}

double power_limit_W(const Strength& strength, double wbal_J) {
  return power_limit_W(strength.critical_power_W, peak_per_J_of(strength), wbal_J);
}

Strength strength_after_heavy_riding(const Strength& fresh, double heavy_s) {
  constexpr double knot_s = 40.0 * 60.0;
  constexpr double cp_share[] = {1.0, 268.0 / 260.0, 1.0, 236.0 / 260.0};
  constexpr double w_prime_share[] = {1.0, 16.1 / 17.9, 14.7 / 17.9, 13.8 / 17.9};
  const double knots = std::clamp(heavy_s / knot_s, 0.0, 3.0);
  const auto k = std::min(static_cast<std::size_t>(knots), std::size_t{2});
  const double share = knots - static_cast<double>(k);
  Strength left = fresh;
  left.critical_power_W *= cp_share[k] + share * (cp_share[k + 1] - cp_share[k]);
  left.w_prime_J *= w_prime_share[k] + share * (w_prime_share[k + 1] - w_prime_share[k]);
  return left;
}

Strength tired_strength(const Strength& fresh, double heavy_s) {
  Strength tired = strength_after_heavy_riding(fresh, heavy_s);
  tired.critical_power_W = std::min(tired.critical_power_W, fresh.critical_power_W);
  tired.w_prime_J = std::min(tired.w_prime_J, fresh.w_prime_J);
  return tired;
}

}  // namespace leewheel
