#pragma once
/// The road cut into sections of about even slope and wind.

#include <vector>

#include "leewheel/pacing.hpp"

namespace leewheel {

/// Boundaries, from 0 to the road's length, for a scenario of one rider at that power.
std::vector<double> section_cuts_m(const Scenario& solo, double power_W, const PacingSettings& settings);

}  // namespace leewheel
