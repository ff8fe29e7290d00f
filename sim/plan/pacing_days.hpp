#pragma once
/// A pacing plan on other days than the one it was made for, and in its first minutes.

#include <vector>

#include "plan/pacing_search.hpp"

namespace leewheel {

/// Where a quarter of the time has passed, or sooner where a bad day leaves little W' to act upon; on the beginning of an
/// instruction where one lies shortly before, else on a hundred metres.
double place_to_decide_m(const Course& course, const RiddenPlan& plan, const PacingSettings& settings);

/// The course with a cut more at that place, if there is none; powers stay.
void cut_at(double place_m, Course& course, std::vector<double>& powers_W);

/// The plan on a day of other strength: kept, and with every power changed alike from section `first` on. On a bad day by the
/// least that keeps the reserve, on a good one by the most.
DayOutcome outcome_on(const Course& course, const std::vector<double>& powers_W, std::size_t first, double critical_share);

/// Heart rate in the first minutes at the first power: from the ride, the time constant's band by raising what is left of
/// the rise to another power (exp(-t/T) with T times 1.4 or 0.6).
std::vector<HeartRise> heart_rise(const Scenario& solo, double power_W);

/// Middle 80 % of drawn days, this plan kept and even power, with the rider's behaviour as `lived` has it.
void find_range(Pacing& pacing, const Scenario& lived, int days);

}  // namespace leewheel
