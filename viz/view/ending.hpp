#pragma once
/// What a ride came to.

#include <string>
#include <vector>

#include "viz/view/replay.hpp"

namespace leewheel::view {

/// Up to three sentences, for the end of a replay: who is home when, what company saved, who carried whom. What a trace does not tell
/// is left out.
std::vector<std::string> ending_results(const Replay& replay);

}  // namespace leewheel::view
