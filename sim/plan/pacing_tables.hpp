#pragma once
/// Tables of what other powers in an instruction cost, from rides.

#include "plan/pacing_search.hpp"

namespace leewheel {

/// Powers by section and choice; the sections of an instruction have as many choices.
using Choices = std::vector<std::vector<double>>;

/// From the lowest power to the hardest, whole steps; of a rule all pairs, coarser.
Choices whole_range(const Course& course, const PacingSettings& settings);
/// What the levers have now and up to two steps to either side; of a rule all pairs up to one step.
Choices about(const Course& course, const std::vector<double>& powers_W, double step_W);

/// Every other instruction is ridden otherwise in one ride; what that changes in the next counts with it.
SectionCosts costs_about(const Course& course, const std::vector<double>& powers_W, const Choices& choices);

}  // namespace leewheel
