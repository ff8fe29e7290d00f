#pragma once
/// A wait in sentences.

#include <string>

#include "leewheel/ride_facts.hpp"

namespace leewheel {

/// "Tom and Ines left Col after the longest wait of 20 min; Gail came 1:30 later".
std::string given_up_text(const Scenario& scenario, const WaitOfRide& wait, const WaitOfRide::GivenUp& given_up);

/// "Col", or "Col (10 min for water)".
std::string place_text(const Scenario& scenario, const PlannedStop& place);

}  // namespace leewheel
