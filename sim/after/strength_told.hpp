#pragma once
/// What a ride tells of a rider's strength: at the least, or more where the rider says an effort was all-out.

#include "after/match.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

/// Critical power of one all-out effort is its mean power less W' over its length, W' as believed: so W' is never told. The spread
/// is never below 5 % (Karsten et al. 2015, Eur J Appl Physiol 115:197: tests on the road against the laboratory, from memory).
/// Without such an effort, the best ten to sixty minutes say what the rider can do at the least.
/// @param scale, scale_sd  of the recorded power; 1 and its spread before the ride where it was not learned
StrengthTold strength_told(const RiddenWay& way, const RiderSettings& rider, const Uncertainty& uncertainty,
                           const std::optional<AllOut>& all_out, double scale, double scale_sd);

/// Time to 63 % of the way from the heart rate at setting off to that of minutes six to eight, in the first steady effort.
HeartTold heart_told(const RiddenWay& way);

inline constexpr double least_effort_s = 180.0;  ///< a shorter effort tells no critical power (assumed)

}  // namespace leewheel
