#pragma once
/// The last of many rungs at which a sum that falls still reaches one.

#include <algorithm>

namespace leewheel::riding {

/// The same rung that halving the ladder finds, in a few looks when `guess` is near: two neighbouring rungs give the slope, and
/// the slope the next two.
/// @param sum_at  falls, or stays, from rung to rung; reaches one at rung 0, whatever it says there, and not at rung `rungs`
template <class SumAt>
int last_rung_at_one(int rungs, int guess, const SumAt& sum_at) {
  constexpr int by_slope = 3;  // looks; then halving, which always ends
  int low = 0, high = rungs, probe = std::clamp(guess, 0, rungs - 1);
  for (int look = 1;; ++look) {
    const double here = sum_at(probe), next = sum_at(probe + 1);
    (here >= 1.0 ? low : high) = probe;
    if (next >= 1.0)
      low = probe + 1;
    else
      high = std::min(high, probe + 1);
    if (high - low <= 1) return low;
    const double to = probe + (here - 1.0) / (here - next);
    probe = look <= by_slope && to >= low && to < high ? static_cast<int>(to) : (low + high) / 2;
  }
}

}  // namespace leewheel::riding
