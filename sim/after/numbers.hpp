#pragma once
/// What the fit says, in the units of a scenario and with how sure it is.

#include "after/fit.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

inline constexpr double least_alone_s = 240.0;  ///< without so long alone nobody gets a drag area
inline constexpr double tied_from = 0.85;       ///< correlation beyond which two numbers are known only together
inline constexpr double learned_share = 1.0 / 3.0, hint_share = 2.0 / 3.0;  ///< of the spread before
inline constexpr double contradiction_sd = 2.0;

/// @param riders  of the scenario, by index in the fit
std::vector<LearnedNumber> numbers_of(const Fit& fit, const RideAir& air, const std::vector<std::size_t>& riders,
                                      const std::vector<double>& company_saved);

}  // namespace leewheel
