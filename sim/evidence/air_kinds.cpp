/// Density of the air and gravity, by air.hpp.

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/air.hpp"
#include "leewheel/units.hpp"

namespace leewheel::evidence {
namespace {

Work read_standard_air(YamlMap& given) {
  const std::vector<double> altitude_m = number_list(given.require("altitude_m", "numbers"), {-1000.0, 10999.0});
  const bool geometric = yes_no(given, "geometric", false);
  return [=](const WakeLaw&) -> Quantities {
    Quantity density{"density_kgpm3", {}}, pressure{"pressure_Pa", {}}, temperature{"temperature_K", {}};
    for (double z_m : altitude_m) {
      constexpr double earth_radius_m = 6356766.0;  // ISO 2533, for geopotential altitudes
      if (geometric) z_m = earth_radius_m * z_m / (earth_radius_m + z_m);
      density.values.push_back(standard_density_kgpm3(z_m));
      pressure.values.push_back(standard_pressure_Pa(z_m));
      temperature.values.push_back(standard_temperature_K(z_m));
    }
    return {density, pressure, temperature};
  };
}

Work read_moist_air(YamlMap& given) {
  AirState air;
  air.temperature_C = needed(given, "temperature_C", {-60.0, 60.0});
  air.pressure_Pa = needed(given, "pressure_Pa", {10000.0, 120000.0});
  air.humidity_fraction = needed(given, "humidity_percent", {0.0, 100.0}) / 100.0;
  return [=](const WakeLaw&) -> Quantities { return {{"density_kgpm3", {air_density_kgpm3(air)}}}; };
}

Work read_gravity(YamlMap& given) {
  const std::vector<double> latitude_deg = number_list(given.require("latitude_deg", "numbers"), {-90.0, 90.0});
  return [=](const WakeLaw&) -> Quantities {
    Quantity gravity{"gravity_mps2", {}};
    for (const double deg : latitude_deg) gravity.values.push_back(normal_gravity_mps2(rad_from_deg(deg)));
    return {gravity};
  };
}

}  // namespace

std::vector<Kind> air_kinds() {
  return {{"standard_air", "the standard atmosphere", {"density_kgpm3", "pressure_Pa", "temperature_K"}, read_standard_air},
          {"moist_air", "density of moist air", {"density_kgpm3"}, read_moist_air},
          {"gravity", "gravity on the ellipsoid", {"gravity_mps2"}, read_gravity}};
}

}  // namespace leewheel::evidence
