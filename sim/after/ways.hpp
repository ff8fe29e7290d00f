#pragma once
/// All recordings laid on the road, with clocks set and one common zero.

#include <vector>

#include "after/clocks.hpp"
#include "after/match.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

struct RiddenWays {
  std::vector<RiddenWay> ways;  ///< by recording; times after the common zero
  std::vector<RecordingNotes> notes;
  double zero_s = 0.0;  ///< by the clocks that most agree with
};

RiddenWays ways_of(const DebriefInput& input);

}  // namespace leewheel
