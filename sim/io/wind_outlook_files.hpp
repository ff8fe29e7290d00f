#pragma once
/// The wind along a road for machines: wind.csv, and JSON with the same columns.

#include <string>

#include "leewheel/wind_outlook.hpp"

namespace leewheel {

std::string outlook_json(const Scenario& scenario, const Outlook& outlook);
std::string outlook_csv(const Outlook& outlook);

}  // namespace leewheel
