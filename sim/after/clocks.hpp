#pragma once
/// Whether the riders' clocks agree, by when riders are near each other. Comparing their speeds would not do: everyone slows on
/// the same slope, whatever the clock.

#include <optional>
#include <span>
#include <vector>

#include "after/match.hpp"

namespace leewheel {

inline constexpr double told_shift_s = 3.0;  ///< a smaller shift is neither told nor used

/// Two clocks set beside each other.
struct ClockPair {
  double shift_s = 0.0;  ///< of the second against the first: subtract it from the second's times
  double near_s = 0.0;   ///< time near each other with this shift
  double as_is_s = 0.0;  ///< and with none
};
/// Nothing when no shift brings them near each other for long enough.
std::optional<ClockPair> compare_clocks(const RiddenWay& first, const RiddenWay& second);

struct ClockCheck {
  double shift_s = 0.0;   ///< to subtract; 0 where the clock agrees with most others
  bool compared = false;  ///< near someone else for long enough
  double near_s = 0.0;    ///< time near others that the shift rests on
};
/// By rider. The clock that most riders agree with is right; of two, the first.
std::vector<ClockCheck> check_clocks(std::span<const RiddenWay> ways);

}  // namespace leewheel
