#pragma once
/// What land beside the road does to the wind of a forecast: constants that several files of the wind share.

#include "leewheel/wind.hpp"

namespace leewheel {

inline constexpr double forecast_height_m = 10.0;     // all forecasts are brought to it
inline constexpr double forecast_roughness_m = 0.03;  // open land, the exposure of a weather station (WMO-No. 8)
inline constexpr double largest_intensity = 0.434;    // EN 1991-1-4, category IV at its z_min

/// Turbulence intensity of a class at another height than the rider's: 1/ln(z/z0), at most 0.434; among trees that of the
/// table. A ride takes that of the table; evidence compares other heights.
double exposure_intensity(Exposure exposure, double height_m);

}  // namespace leewheel
