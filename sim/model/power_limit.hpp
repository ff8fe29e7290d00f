#pragma once
/// The most power W' allows, for one rider or for a register of riders.

#include "model/simd.hpp"

namespace leewheel {

/// Power a rider can give at a moment (W): CP + (P_max - CP) W'bal/W', Morton 1996, Ergonomics 39:611.
template <class Number>
LEEWHEEL_INLINE Number power_limit_W(const Number& critical_W, const Number& peak_per_J, const Number& wbal_J) {
  return critical_W + peak_per_J * max_of(wbal_J, 0.0);
}

}  // namespace leewheel
