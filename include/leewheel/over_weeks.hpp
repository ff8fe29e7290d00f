#pragma once
/// Numbers of riders learned on several rides, put together.

#include <string>
#include <vector>

namespace leewheel {

/// What one ride told of one number, one standard deviation each.
struct LearnedOnce {
  std::string ride;       ///< its name, for people
  double age_days = 0.0;  ///< before the latest ride
  double value = 0.0, sd = 0.0;
  double before = 0.0, before_sd = 0.0;  ///< what was believed when the ride was debriefed, which `value` has in it
};

struct LearnedOverWeeks {
  double value = 0.0, sd = 0.0;
  std::vector<std::string> rides;  ///< that it rests on, the oldest first
  bool disagree = false;           ///< the rides differ by more than their spreads allow; `sd` is widened
};

/// A ride of this age counts half as much as one of today: form, clothes and position change (assumed).
inline constexpr double half_life_days = 120.0;

/// Mean of what each ride added to what was believed before, by inverse variance, old rides fading, together with what the latest
/// ride believed before. Rides that disagree widen the spread by the root of chi squared a ride (Birge 1932, Phys. Rev. 40:207).
/// @param once  not empty
LearnedOverWeeks over_weeks(std::vector<LearnedOnce> once);

}  // namespace leewheel
