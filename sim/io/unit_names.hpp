#pragma once
/// The unit that a quantity carries at the end of its name: gap_m, power_W, density_kgpm3.

#include <string>
#include <string_view>

namespace leewheel {

/// Written so that any program reads it: "kg/m3", "degrees"; empty without a unit.
std::string_view plain_unit_of(std::string_view name);
/// As people write it: "kg/m³", "°".
std::string_view shown_unit_of(std::string_view name);
/// The name without its unit and with blanks: "air density".
std::string words_of(std::string_view name);

}  // namespace leewheel
