#include "leewheel/air.hpp"

#include <cassert>
#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel {
namespace {

// ISO 2533:1975 (the same values in ICAO Doc 7488).
constexpr double sea_temperature_K = 288.15;
constexpr double sea_pressure_Pa = 101325.0;
constexpr double lapse_Kpm = 0.0065;
constexpr double dry_air_gas_constant_JpkgK = 287.05287;
constexpr double hydrostatic_exponent = standard_gravity_mps2 / (lapse_Kpm * dry_air_gas_constant_JpkgK);

// Hydrostatic pressure ratio between two temperatures of air that cools by `lapse_Kpm`.
double pressure_ratio(double upper_K, double lower_K) { return std::pow(upper_K / lower_K, hydrostatic_exponent); }

// The functions below are the terms of CIPM-2007, Picard et al. 2008, appendix A, in its units (K, C, Pa).
double saturation_pressure_Pa(double T_K) {
  return std::exp(1.2378847e-5 * T_K * T_K - 1.9121316e-2 * T_K + 33.93711047 - 6.3431645e3 / T_K);
}

double enhancement_factor(double p_Pa, double t_C) { return 1.00062 + 3.14e-8 * p_Pa + 5.6e-7 * t_C * t_C; }

double compressibility(double p_Pa, double t_C, double vapour_fraction) {
  const double p_over_T = p_Pa / (t_C + kelvin_at_0C);
  const double x = vapour_fraction;
  const double linear = 1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * t_C) * t_C + (5.707e-6 - 2.051e-8 * t_C) * x +
                        (1.9898e-4 - 2.376e-6 * t_C) * x * x;
  const double quadratic = 1.83e-11 - 0.765e-8 * x * x;
  return 1.0 - p_over_T * linear + p_over_T * p_over_T * quadratic;
}

}  // namespace

double air_density_kgpm3(const AirState& air) {
  assert(air.pressure_Pa > 0.0 && air.temperature_C > -kelvin_at_0C);
  constexpr double gas_constant_JpmolK = 8.314472;
  constexpr double dry_air_kgpmol = 28.96546e-3;  // at the paper's 400 ppm of CO2
  constexpr double water_kgpmol = 18.01528e-3;
  const double T_K = air.temperature_C + kelvin_at_0C;
  const double vapour_fraction = air.humidity_fraction * enhancement_factor(air.pressure_Pa, air.temperature_C) *
                                 saturation_pressure_Pa(T_K) / air.pressure_Pa;
  const double Z = compressibility(air.pressure_Pa, air.temperature_C, vapour_fraction);
  return air.pressure_Pa * dry_air_kgpmol / (Z * gas_constant_JpmolK * T_K) *
         (1.0 - vapour_fraction * (1.0 - water_kgpmol / dry_air_kgpmol));
}

double standard_temperature_K(double altitude_m) {
  assert(altitude_m < 11000.0);
  return sea_temperature_K - lapse_Kpm * altitude_m;
}

double standard_pressure_Pa(double altitude_m) {
  return sea_pressure_Pa * pressure_ratio(standard_temperature_K(altitude_m), sea_temperature_K);
}

double standard_density_kgpm3(double altitude_m) {
  return standard_pressure_Pa(altitude_m) / (dry_air_gas_constant_JpkgK * standard_temperature_K(altitude_m));
}

AirState air_at_altitude(const AirState& station, double station_altitude_m, double altitude_m) {
  const double station_K = station.temperature_C + kelvin_at_0C;
  const double there_K = station_K - lapse_Kpm * (altitude_m - station_altitude_m);
  assert(there_K > 0.0);
  return {.temperature_C = there_K - kelvin_at_0C,
          .pressure_Pa = station.pressure_Pa * pressure_ratio(there_K, station_K),
          .humidity_fraction = station.humidity_fraction};
}

double normal_gravity_mps2(double latitude_rad) {
  // WGS84 (NIMA TR8350.2): gravity at the equator, Somigliana's k, first eccentricity squared.
  constexpr double equator_mps2 = 9.7803253359;
  constexpr double k = 0.00193185265241;
  constexpr double eccentricity_squared = 0.00669437999013;
  const double sin2 = std::sin(latitude_rad) * std::sin(latitude_rad);
  return equator_mps2 * (1.0 + k * sin2) / std::sqrt(1.0 - eccentricity_squared * sin2);
}

}  // namespace leewheel
