#pragma once
/// Efforts that change along the road, as a rider hears them: for the plan of `lineup`, the sheet and its cards.

#include <string>

#include "leewheel/scenario.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// "93 % of critical power (223 W); from Wood top 77 % (184 W); from km 4.83 93 % (223 W)". Empty where the effort of the
/// rider's plan never changes.
std::string effort_changes_text(const Scenario& scenario, std::size_t rider, const ShownUnits& units);

/// A plan by which all ride harder on steep road: "up to 10 % harder from the start to Wood top and from Spring to the finish,
/// easier elsewhere, the same on average", by the first rider whose effort changes.
std::string lean_text(double lean, const Scenario& planned, const ShownUnits& units);

}  // namespace leewheel
