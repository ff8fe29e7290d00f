#pragma once
/// The stretches of road notes: slope, wind, land and what a wheel saves, for one rider under a plan.

#include <vector>

#include "leewheel/road_notes.hpp"

namespace leewheel {

/// @param one  the rider alone, with the plan  @param gap_m  wheel to wheel
std::vector<NotesStretch> stretches_along(const Scenario& one, double gap_m);

}  // namespace leewheel
