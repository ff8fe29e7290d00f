#pragma once
/// The wind along a road as a table for people.

#include <string>

#include "leewheel/wind_outlook.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// A line every `spacing_m`, and the places that a captain will ask about.
std::string outlook_text(const Scenario& scenario, const Outlook& outlook, double spacing_m, const ShownUnits& units = {});

/// "scattered trees".
std::string exposure_text(Exposure exposure);

}  // namespace leewheel
