#pragma once
/// Efforts that change along the road, as a rider hears them: for the plan of `lineup`, the sheet and its cards.

#include <string>

#include "leewheel/scenario.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// "77 % of critical power (184 W); 93 % (223 W) from the start to Wood top and from km 4.8 to the finish"; of three efforts or
/// more in the order of the road: "77 % of critical power (184 W); from Wood top 93 % (223 W); from km 4.8 85 % (204 W)". Empty
/// where the effort of the rider's plan never changes.
std::string effort_changes_text(const Scenario& scenario, std::size_t rider, const ShownUnits& units);

/// Where the efforts of everyone's plan are above their middle: "harder from the start to Wood top, easier elsewhere; watts on
/// each card". By the first rider's plan; empty where somebody's effort never changes.
std::string harder_text(const Scenario& planned, const ShownUnits& units);

/// A plan by which all ride harder on steep road: "up to 10 % harder from the start to Wood top and from Spring to the finish,
/// easier elsewhere, the same on average", by the first rider whose effort changes.
std::string lean_text(double lean, const Scenario& planned, const ShownUnits& units);

}  // namespace leewheel
