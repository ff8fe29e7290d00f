#pragma once
/// A pacing plan on other days than the one it was made for, and in its first minutes.

#include <vector>

#include "plan/pacing_ride.hpp"
#include "plan/pacing_search.hpp"

namespace leewheel {

/// Where a quarter of the time has passed, or sooner where a bad day leaves little W' to act upon; on a mark of the plan
/// where one lies shortly before, else on a hundred metres.
double place_to_decide_m(const Course& course, const std::vector<double>& powers, const PacedRide& ride,
                         const PacingSettings& settings);

/// The plan on a day of other strength: kept, and changed from section `first` on. `changed` receives the powers then.
DayOutcome outcome_on(const Course& course, const std::vector<double>& powers, std::size_t first, double critical_share,
                      std::vector<double>& changed);

/// Heart rate in the first minutes at the first power: from the ride, the time constant's band by raising what is left of
/// the rise to another power (exp(-t/T) with T times 1.4 or 0.6).
std::vector<HeartRise> heart_rise(const Course& course, double power_W);

/// Middle 80 % of drawn days, this plan kept and the even one.
void find_range(Pacing& pacing, const Course& course, const std::vector<double>& powers, int days);

}  // namespace leewheel
