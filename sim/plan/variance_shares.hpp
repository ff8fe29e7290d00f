#pragma once
/// How much of the spread of finishing times goes with each uncertain input: the regression behind `VarianceShares`.

#include <vector>

#include "leewheel/ensemble.hpp"

namespace leewheel {

/// Shares for one rider. `draws` and `times_s` belong to the same days, at least `least_runs_for_shares` of them.
VarianceShares variance_shares(const std::vector<Draw>& draws, const std::vector<double>& times_s, std::size_t rider);

}  // namespace leewheel
