#pragma once
/// The mean wind over land as standards give it, at 10 m and above, and the names people give to winds.

#include <array>
#include <cmath>
#include <string_view>

namespace leewheel {

/// u(height)/u(reference) by the power law; 1/7 is the customary exponent over open land.
inline double power_law_ratio(double height_m, double exponent = 1.0 / 7.0, double reference_m = 10.0) {
  return std::pow(height_m / reference_m, exponent);
}

/// EN 1991-1-4:2005, eqs. 4.3 to 4.7. Below z_min (1 to 10 m by category) the standard stops falling: for 10 m and above,
/// not for the wind at a rider.
inline double terrain_factor(double roughness_m) { return 0.19 * std::pow(roughness_m / 0.05, 0.07); }  ///< k_r, eq. 4.5
inline double roughness_factor(double height_m, double roughness_m) {                                   ///< c_r, eq. 4.4
  return terrain_factor(roughness_m) * std::log(height_m / roughness_m);
}
inline double standard_turbulence_intensity(double height_m, double roughness_m, double orography = 1.0) {  ///< I_v, eq. 4.7
  return 1.0 / (orography * std::log(height_m / roughness_m));
}

/// Lower limits of Beaufort's forces 1 to 12 at 10 m (m/s), and names of 0 to 12: WMO-No. 8.
inline constexpr std::array<double, 12> beaufort_from_mps{0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7};
inline constexpr std::array<std::string_view, 13> beaufort_names{
    "calm",      "light air", "light breeze", "gentle breeze", "moderate breeze", "fresh breeze",   "strong breeze",
    "near gale", "gale",      "strong gale",  "storm",         "violent storm",   "hurricane force"};
constexpr int beaufort_force(double speed_mps) {
  int force = 0;
  for (const double from_mps : beaufort_from_mps) force += speed_mps >= from_mps;
  return force;
}

}  // namespace leewheel
