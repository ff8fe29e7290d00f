#pragma once
/// Parts of the debrief that stand by themselves.

#include "after/time_parts.hpp"
#include "after/ways.hpp"

namespace leewheel {

/// What company may save by second of a way.
struct Company {
  std::vector<float> saved_share;  ///< of drag, as the plan has it there
  std::vector<bool> alone;         ///< nobody was near, recorded or not, as far as can be known
};
/// Others were near, or may have been without being recorded.
/// @param with       by second: another recorded rider is near
/// @param nearest_m  by second: how near
/// @param alone      the rider says that nobody was near
/// @param unrecorded riders of the plan have no recording, so where the plan has company there may have been some
Company company_of(const RiddenWay& way, const PlannedRider& planned, const std::vector<bool>& with,
                   const std::vector<double>& nearest_m, bool alone, bool unrecorded);

/// A way that ends a little before the finish, as recordings do, is taken on to it at its last speed.
void close_profile(const RiddenWay& way, double length_m, PaceProfile& profile);

/// Sums by stretch of what was laid side by side along the road.
std::vector<DebriefStretch> stretches_told(const Road& road, const AlongRoad& along);

/// Power, standing and company, of the whole and by stretch.
void tell_sums(const RiddenWay& way, const PlannedRider& planned, const Road& road, const std::vector<bool>& with,
               RiderDebrief& told);

/// How long the plan stands near a place; 0: not at all.
double planned_stand_s(const PlannedRider& planned, double at_m);

}  // namespace leewheel
