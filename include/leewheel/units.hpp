#pragma once
/// Constants and conversions. Inside the program everything is SI and radians; these are used at the edges only.

#include <cmath>
#include <numbers>

namespace leewheel {

inline constexpr double standard_gravity_mps2 = 9.80665;  ///< ISO 80000-3
inline constexpr double kelvin_at_0C = 273.15;

constexpr double rad_from_deg(double deg) { return deg * std::numbers::pi / 180.0; }
constexpr double deg_from_rad(double rad) { return rad * 180.0 / std::numbers::pi; }
constexpr double kmh_from_mps(double mps) { return mps * 3.6; }
constexpr double mps_from_kmh(double kmh) { return kmh / 3.6; }

/// Rounded to so many decimals, half away from zero; never minus zero. Non-finite values are unchanged.
inline double rounded(double value, int decimals) {
  if (!std::isfinite(value)) return value;
  const double scale = std::pow(10.0, decimals), result = std::round(value * scale) / scale;
  return result == 0.0 ? 0.0 : result;
}

}  // namespace leewheel
