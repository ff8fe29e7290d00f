#pragma once
/// Published closed forms that the book sets beside measurements and that no ride uses: what the model was chosen among, or is
/// checked against.

#include <array>
#include <cmath>
#include <cstdint>

#include "leewheel/strength.hpp"

namespace leewheel::evidence {

/// u(height)/u(reference) by the power law; 1/7 is the customary exponent over open land.
inline double power_law_ratio(double height_m, double exponent = 1.0 / 7.0, double reference_m = 10.0) {
  return std::pow(height_m / reference_m, exponent);
}

/// EN 1991-1-4:2005, eqs. 4.4 and 4.5. Below z_min (1 to 10 m by category) the standard stops falling: for 10 m and above,
/// not for the wind at a rider.
inline double terrain_factor(double roughness_m) { return 0.19 * std::pow(roughness_m / 0.05, 0.07); }  ///< k_r
inline double roughness_factor(double height_m, double roughness_m) {                                   ///< c_r
  return terrain_factor(roughness_m) * std::log(height_m / roughness_m);
}

/// Lower limits of Beaufort's forces 1 to 12 at 10 m (m/s): WMO-No. 8.
inline constexpr std::array<double, 12> beaufort_from_mps{0.3, 1.6, 3.4, 5.5, 8.0, 10.8, 13.9, 17.2, 20.8, 24.5, 28.5, 32.7};
constexpr int beaufort_force(double speed_mps) {
  int force = 0;
  for (const double from_mps : beaufort_from_mps) force += speed_mps >= from_mps;
  return force;
}

/// Turbulence of MIL-F-8785C at low altitude; its formulas count in feet, and below 10 ft the value at 10 ft is kept.
double dryden_length_m(double height_m);   ///< L_u = h / (0.177 + 0.000823 h)^1.2
double dryden_intensity(double height_m);  ///< sigma_u over the wind at 20 ft: 0.1 / (0.177 + 0.000823 h)^0.4

/// Correlation of the gusts that two riders feel, one `apart_m` behind the other: exp(-d/L), the Ornstein-Uhlenbeck process
/// in space.
inline double gust_correlation(double apart_m, double length_m) { return std::exp(-std::abs(apart_m) / length_m); }

/// Shapes of Taylor & Lee's rule.
enum class HillShape : std::uint8_t { ridge, hill, escarpment };

/// Fractional speed-up at the crest, dS = B (h/L) exp(-A z/L): Taylor & Lee 1984, Climatol. Bull. 18(2):3, after Jackson &
/// Hunt 1975 (constants from memory). For slopes up to about 1:3 without separation.
/// @param half_length_m  L: from the crest to where the height has fallen by half, upwind
double crest_speed_up(HillShape shape, double hill_height_m, double half_length_m, double height_m);

/// Time to exhaustion at constant power (s); infinite at or below CP.
double exhaustion_two_parameter_s(const Strength& strength, double power_W);    // Monod & Scherrer 1965, Ergonomics 8:329
double exhaustion_three_parameter_s(const Strength& strength, double power_W);  // Morton 1996, Ergonomics 39:611

}  // namespace leewheel::evidence
