#pragma once
/// Where a group may stop and wait: what a captain would choose.

#include <string>
#include <vector>

#include "leewheel/road.hpp"

namespace leewheel {

inline constexpr double steep_to_stand_grade = 0.05;  // for standing at the roadside (common practice, no source)

/// Mean grade of the road from 50 m before a place to 50 m behind it.
double grade_around(const Road& road, double at_m);

/// Why nobody should be made to wait there, in words; empty where waiting is fine.
std::string unfit_to_wait(const Road& road, double at_m);

}  // namespace leewheel
