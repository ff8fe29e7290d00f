#pragma once
/// Smoothing of recorded elevations: minimise  sum w_i (z_i - y_i)^2 + lambda * integral (z'')^2 ds  on a uniform
/// grid (Whittaker 1923, Proc. Edinb. Math. Soc. 41:63; Eilers 2003, Anal. Chem. 75:3631), by Eigen's sparse
/// Cholesky factorisation, with weights lowered where a point is a spike (bisquare, Beaton & Tukey 1974, Technometrics 16:147).

#include <vector>

namespace leewheel {

struct SmoothingSettings {
  double length_m = 60.0;  ///< waves shorter than about this are flattened (half-amplitude wavelength / 2 pi sets lambda)
  double spacing_m = 1.0;  ///< grid of the result
  double spike_m = 8.0;    ///< residuals beyond this lose all weight
  int reweightings = 4;
};

/// @param distance_m  strictly increasing, first 0, at least two
/// @param elevation_m same length, finite
/// @return elevations on the grid 0, spacing, ... covering the last distance
std::vector<double> smooth_elevation(const std::vector<double>& distance_m, const std::vector<double>& elevation_m,
                                     const SmoothingSettings& settings);

}  // namespace leewheel
