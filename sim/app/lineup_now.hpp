#pragma once
/// `leewheel lineup --now`: the rest of a ride that is under way.

#include <string>

#include "leewheel/from_here.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// What is told before the plan: whose kilometres and times these are.
std::string rest_words(const FromHere& rest, const ShownUnits& units);
/// When everyone is at the finish, by the clock; empty where the scenario has no start.
std::string rest_by_the_clock(const Lineup& lineup, const FromHere& rest);

}  // namespace leewheel
