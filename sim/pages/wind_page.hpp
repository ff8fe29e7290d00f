#pragma once
/// The wind along a road as one picture: the land, what a rider feels, speeds, head and cross wind, side force.

#include <string>

#include "leewheel/wind_outlook.hpp"

namespace leewheel {

std::string outlook_svg(const Scenario& scenario, const Outlook& outlook);

}  // namespace leewheel
