#pragma once
/// The wind along a road as one picture: the land, what a rider feels, speeds, head and cross wind, side force.

#include <string>

#include "leewheel/wind_outlook.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// Axes in the units that people read; the arrows have no scale.
std::string outlook_svg(const Scenario& scenario, const Outlook& outlook, const ShownUnits& units = {});

}  // namespace leewheel
