#pragma once
/// What `leewheel debrief` was asked for, from its arguments to recordings of riders.

#include <string>
#include <vector>

#include "leewheel/debrief.hpp"

namespace leewheel {

struct DebriefAsked {
  std::string scenario_path;          ///< empty: a road is made from the first recording
  std::vector<std::string> recorded;  ///< NAME=FILE
  std::vector<std::string> alone;     ///< files or names
  std::vector<std::string> all_out;   ///< NAME:FROM-TO
};

/// Reads everything that is named. Throws InputFault. @param remarks  what was left out, a line each
DebriefInput read_debrief_input(const DebriefAsked& asked, std::vector<std::string>& remarks);

/// What only the debrief shows: a clock a day off; an effort said to be all-out that cannot be one. Throws InputFault.
void refuse_other_day(const DebriefInput& input, const Debrief& told);
void refuse_effort(const DebriefInput& input, const Debrief& told);

/// Files that were read, with those that the scenario names, so that none is overwritten.
std::vector<std::string> files_read(const DebriefAsked& asked);

}  // namespace leewheel
