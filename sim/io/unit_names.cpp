#include "io/unit_names.hpp"

#include <algorithm>

namespace leewheel {

namespace {

struct UnitName {
  std::string_view ending, plain, shown;
};

/// An ending that another one ends with stands before it.
constexpr UnitName units[] = {{"_W_per_kg", "W/kg", "W/kg"},
                              {"_kcal_per_h", "kcal/h", "kcal/h"},
                              {"_m_per_h", "m/h", "m/h"},
                              {"_s_per_km", "s/km", "s/km"},
                              {"_rad_per_s", "rad/s", "rad/s"},
                              {"_J_per_m", "J/m", "J/m"},
                              {"_percent", "percent", "%"},
                              {"_kgpm3", "kg/m3", "kg/m³"},
                              {"_kgm2", "kg m2", "kg m²"},
                              {"_mps2", "m/s2", "m/s²"},
                              {"_1ps2", "1/s2", "1/s²"},
                              {"_mps", "m/s", "m/s"},
                              {"_kmh", "km/h", "km/h"},
                              {"_1ps", "1/s", "1/s"},
                              {"_1pm", "1/m", "1/m"},
                              {"_deg", "degrees", "°"},
                              {"_rad", "rad", "rad"},
                              {"_hPa", "hPa", "hPa"},
                              {"_min", "min", "min"},
                              {"_Pa", "Pa", "Pa"},
                              {"_kg", "kg", "kg"},
                              {"_m2", "m2", "m²"},
                              {"_ft", "ft", "ft"},
                              {"_W", "W", "W"},
                              {"_J", "J", "J"},
                              {"_N", "N", "N"},
                              {"_C", "degrees Celsius", "°C"},
                              {"_K", "K", "K"},
                              {"_s", "s", "s"},
                              {"_m", "m", "m"}};

const UnitName* unit_of(std::string_view name) {
  const auto* const found =
      std::find_if(std::begin(units), std::end(units), [&](const UnitName& unit) { return name.ends_with(unit.ending); });
  return found == std::end(units) ? nullptr : found;
}

}  // namespace

std::string_view plain_unit_of(std::string_view name) {
  const UnitName* const unit = unit_of(name);
  return unit ? unit->plain : "";
}

std::string_view shown_unit_of(std::string_view name) {
  const UnitName* const unit = unit_of(name);
  return unit ? unit->shown : "";
}

std::string words_of(std::string_view name) {
  if (const UnitName* const unit = unit_of(name)) name.remove_suffix(unit->ending.size());
  std::string words(name);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

}  // namespace leewheel
