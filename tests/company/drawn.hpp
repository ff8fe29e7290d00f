#pragma once
/// Rides drawn at random, and what company may never cost in them.

#include <cstdint>
#include <string>
#include <vector>

#include "company/rides.hpp"

namespace company {

struct Drawn {
  leewheel::Scenario scenario;
  bool equals;
  std::string text;  ///< road, wind, riders and kind in a line
};

/// Waves, stairs, a climb, a descent or all of them; wind to 9 m/s; 2 to 12 equals or riders of 90 to 400 W; any kind, start
/// and, in kinds that wait, regroup point. The same for the same seed.
Drawn draw(std::uint64_t seed);

/// Every way in which the ride breaks what holds for it; empty when all is well.
std::vector<std::string> faults(const Drawn& drawn, const Company& ridden);

}  // namespace company
