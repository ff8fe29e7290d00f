#pragma once
/// What the road asks, in short blocks: the ground on which sections are cut.

#include <vector>

#include "leewheel/pacing.hpp"

namespace leewheel {

/// A road in blocks of 25 m for a rider at one power.
struct Demand {
  std::vector<double> ends_m;    ///< one more than blocks, from 0
  std::vector<double> passed_s;  ///< at each end
  std::vector<double> log_mps;   ///< of the steady speed there: slope, wind and exposure in one number
  std::vector<bool> falls;       ///< by block, in runs that last
  std::size_t blocks() const { return log_mps.size(); }
};

Demand demand_of(const Scenario& solo, double power_W);

/// Ends of runs of blocks, 0 and the last included, that differ: the spread of log speed about the means of what rises and
/// what falls in each run, weighted by time, is least for their number (dynamic programming over the ends). Runs last
/// `least_s` or longer where the road allows; one more must explain `worth` of the whole time.
std::vector<std::size_t> runs_of(const Demand& demand, double least_s, double worth);

}  // namespace leewheel
