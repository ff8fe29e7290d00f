#pragma once
/// W' by the published integral (Skiba, Chidnok, Vanhatalo & Jones 2012, Med Sci Sports Exerc 44:1526):
///
///     W'bal = W' - sum over the seconds u so far of (P_u - CP)+ du exp(-(t - u)/tau),   tau = 546 exp(-0.01 D) + 316 s
///
/// D is critical power less the mean of all powers below it. Tau is one number a ride, known when the ride is over. While it
/// lasts tau is that of the ride so far, so that the value at the finish is the published one; until the first second below
/// critical power D counts as 0. What was spent recovers also while riding above critical power.
///
/// The search of a plan looks ahead from W' alone, which this sum does not allow: `wbal_after_J` (strength.hpp) then takes
/// tau for the power at hand. The rides that judge the plan follow the sum.

#include <array>
#include <span>
#include <vector>

#include "leewheel/strength.hpp"

namespace leewheel {

double integral_time_s(double below_W);  ///< tau

/// The sum of a ride so far, for whatever tau turns up: kept at eight values of tau and interpolated between, to 3e-6 of
/// the work spent.
class IntegralWbal {
 public:
  static constexpr std::size_t nodes = 8;

  /// What is left of work spent, by tau, after an interval.
  struct Decay {
    explicit Decay(double interval_s);
    double interval_s;
    std::array<double, nodes> share;
  };

  /// An interval at that power over critical power (< 0: below it).
  void add(double above_W, const Decay& decay);

  double spent_J() const;  ///< not yet recovered: W' less this is left

 private:
  std::array<double, nodes> spent_J_{};
  double below_J_ = 0.0, below_s_ = 0.0;
};

/// Power held for a time.
struct PowerPiece {
  double duration_s, power_W;
};

/// W' left after each piece of a whole ride, with the one tau of it, second by second. `missing_J` is spent before.
std::vector<double> integral_wbal_J(const Strength& strength, std::span<const PowerPiece> pieces, double missing_J = 0.0);

}  // namespace leewheel
