#pragma once
/// The road cut into sections, and the instructions that they make up.

#include <vector>

#include "leewheel/pacing.hpp"

namespace leewheel {

/// Sections of about even demand. Those of one lever are ridden at one power. The sections of an instruction are neighbours;
/// it has one lever, or two if it is a rule: one for what rises or is flat, one for what falls.
struct Layout {
  std::vector<double> cuts_m;       ///< from 0 to the road's length
  std::vector<bool> falls;          ///< by section
  std::vector<std::size_t> lever;   ///< by section, counted from 0
  std::vector<std::size_t> begins;  ///< first section of each instruction
  std::size_t sections() const { return falls.size(); }
  std::size_t levers() const;
  std::size_t end_of(std::size_t instruction) const {
    return instruction + 1 < begins.size() ? begins[instruction + 1] : sections();
  }
};

/// For a scenario of one rider at that power.
Layout layout_of(const Scenario& solo, double power_W, const PacingSettings& settings);

/// Seconds from the start in which the rider is held to even power.
double calm_for_s(double even_time_s, const PacingSettings& settings);

}  // namespace leewheel
