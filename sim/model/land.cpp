#include "model/land.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace leewheel {
namespace {

constexpr double blending_height_m = 60.0;  // where the wind no longer feels the local land (Wieringa 1986, QJRMS 112:867)
constexpr double table_height_m = 1.2;      // height of the intensities in the table

// The standard deviation of the wind along its mean is 2.5 u* at any height of the neutral surface layer, so that over
// u = (u*/0.4) ln(z/z0) the intensity is 1/ln(z/z0): EN 1991-1-4 eq. 4.7. The standard stops the growth below its z_min
// (1 to 10 m by category); we go on down to the rider, as the log law itself does, but not beyond the standard's largest
// value, 0.434 (category IV at z_min): gust factors measured at 2 m, 1.6 to 1.95 (Harper, Kepert & Ginger 2010,
// WMO/TD-1555), leave no room for more.
double surface_layer_intensity(double roughness_m, double height_m = table_height_m) {
  return std::min(1.0 / std::log(height_m / roughness_m), largest_intensity);
}

// Roughness by class: Davenport's classes as revised by Wieringa 1992, J Wind Eng Ind Aerodyn 41:357. Where obstacles
// stand above the rider, their height H gives z0 = H/10 and d = 0.7 H (common rules, from memory).
const std::array<ExposureAir, exposure_names.size()>& exposure_table() {
  static const std::array<ExposureAir, exposure_names.size()> table{{
      {0.03, 0.0, 0.0, surface_layer_intensity(0.03), "class open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.10, 0.0, 0.0, surface_layer_intensity(0.10),
       "class roughly open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.25, 0.0, 0.0, surface_layer_intensity(0.25), "class rough, Wieringa 1992; intensity held at EN 1991-1-4's largest"},
      {0.50, 3.5, 0.25, surface_layer_intensity(0.50),
       "class very rough, Wieringa 1992, houses of 5 m; share of the wind among them assumed"},
      {1.50, 10.5, 0.11, 0.70,
       "trees of 15 m (assumed); share Albini & Baughman 1979, USDA INT-221 (8-14 % under closed forest, of the wind 20 ft "
       "above it); intensity from memory (0.5-1 below canopies)"},
  }};
  return table;
}

}  // namespace

double log_law_ratio(double height_m, double roughness_m, double displacement_m, double reference_m) {
  assert(height_m - displacement_m > roughness_m && reference_m - displacement_m > roughness_m);
  return std::log((height_m - displacement_m) / roughness_m) / std::log((reference_m - displacement_m) / roughness_m);
}

const ExposureAir& exposure_air(Exposure exposure) { return exposure_table()[static_cast<std::size_t>(exposure)]; }

double exposure_intensity(Exposure exposure, double height_m) {
  const ExposureAir& land = exposure_air(exposure);
  return land.turbulence_intensity > largest_intensity ? land.turbulence_intensity
                                                       : surface_layer_intensity(land.roughness_m, height_m);
}

double rider_height_ratio(Exposure exposure, double height_m) {
  const ExposureAir& land = exposure_air(exposure);
  const double tops_m = land.displacement_m + 3.0 * land.roughness_m;  // H, by the rules of the table
  if (land.canopy_fraction > 0.0 && height_m < tops_m) return land.canopy_fraction;
  return log_law_ratio(blending_height_m, forecast_roughness_m, 0.0, forecast_height_m) *
         log_law_ratio(height_m, land.roughness_m, land.displacement_m, blending_height_m);
}

}  // namespace leewheel
