#pragma once
/// Density of moist air, the standard atmosphere, and gravity.

namespace leewheel {

/// Air at one place.
struct AirState {
  double temperature_C = 15.0;
  double pressure_Pa = 101325.0;   ///< at that place, not reduced to sea level
  double humidity_fraction = 0.5;  ///< relative humidity, 0 to 1
  bool operator==(const AirState&) const = default;
};

/// Density of moist air (kg/m3), CIPM-2007: Picard, Davis, Glaeser & Fujii 2008, Metrologia 45:149.
/// Valid for 600-1100 hPa, 15-27 C by the paper; used outside that range with an error well below 0.1 %.
double air_density_kgpm3(const AirState& air);

/// International standard atmosphere (ISO 2533), geopotential altitude below 11 km.
double standard_temperature_K(double altitude_m);
double standard_pressure_Pa(double altitude_m);
double standard_density_kgpm3(double altitude_m);

/// Air at `altitude_m` from air measured at `station_altitude_m`: hydrostatic, temperature falling 6.5 K/km
/// (the lapse of ISO 2533), humidity fraction kept.
AirState air_at_altitude(const AirState& station, double station_altitude_m, double altitude_m);

/// Gravity on the ellipsoid (m/s2), WGS84 closed formula of Somigliana.
double normal_gravity_mps2(double latitude_rad);

}  // namespace leewheel
