#pragma once
/// The most power W' allows, for one rider or for a register of riders.

#include <algorithm>

#include "leewheel/strength.hpp"
#include "model/simd.hpp"

namespace leewheel {

/// W' is reckoned about once a second: whoever could use it up sooner than in this time would go below nothing. Riders take
/// ten times as long (W' over P_max - CP).
inline constexpr double least_use_s = 2.0;

/// Power above critical power for each joule of W' left (1/s).
inline double peak_per_J_of(const Strength& strength) {
  return std::min((strength.peak_power_W - strength.critical_power_W) / strength.w_prime_J, 1.0 / least_use_s);
}

/// Power a rider can give at a moment (W): CP + (P_max - CP) W'bal/W', Morton 1996, Ergonomics 39:611.
template <class Number>
LEEWHEEL_INLINE Number power_limit_W(const Number& critical_W, const Number& peak_per_J, const Number& wbal_J) {
  return critical_W + peak_per_J * max_of(wbal_J, 0.0);
}

}  // namespace leewheel
