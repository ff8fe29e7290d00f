#pragma once
/// How the wind varies about its mean: length and strength of gusts, and a gust along the road as a correlated random
/// process. Closed forms only; the caller supplies the random numbers.

#include <array>
#include <cmath>
#include <cstdint>
#include <vector>

namespace leewheel {

/// Length scale of gusts along the wind at a rider's height (m). Sources give 8 to 27 m at 1.5 to 2 m; uncertain (assumed).
inline constexpr double gust_length_m = 20.0;

/// One step of a gust u as an Ornstein-Uhlenbeck process, whose spectrum is Dryden's along the wind:
/// u' = carry u + noise sigma N(0, 1), carry = exp(-dt/T), T = length over the air speed of the rider. Its variance is
/// sigma^2 for any step.
struct GustStep {
  double carry, noise;
};
inline GustStep gust_step(double length_m, double air_speed_mps, double step_s) {
  const double carry = std::exp(-step_s * air_speed_mps / length_m);
  return {carry, std::sqrt(1.0 - carry * carry)};
}

/// Turbulence intensity over land, standard deviation over mean: EN 1991-1-4:2005, eq. 4.7, for 10 m and above (below z_min, 1 to
/// 10 m by category, the standard stops the growth).
inline double standard_turbulence_intensity(double height_m, double roughness_m, double orography = 1.0) {
  return 1.0 / (orography * std::log(height_m / roughness_m));
}

/// Largest gust over the mean: 1 + 3.5 I, the peak factor of EN 1991-1-4 eq. 4.8 on the speed itself.
inline double gust_factor(double turbulence_intensity) { return 1.0 + 3.5 * turbulence_intensity; }

/// Strongest three-second gust to expect in ten minutes near the ground, over the mean: that of `GustField` at L/U = 4 s
/// (a test holds it to 0.1). Lower than the standard's peak, which is shorter; within what was measured at 2 m.
inline double three_second_gust(double turbulence_intensity) { return 1.0 + 2.5 * turbulence_intensity; }

/// Across the mean wind gusts are weaker: sigma_v/sigma_u = 0.8 near the ground (Panofsky & Dutton 1984, Atmospheric
/// Turbulence, 2.4 and 1.9 u*; from memory). Their length is that of the gusts along, as in MIL-F-8785C at low altitude.
inline constexpr double gust_across_share = 0.8;

/// Gusts as a frozen field in the moving air: two numbers of mean 0 and variance 1 at each place, along the mean wind and
/// across it. Along the wind the correlation is exp(-d/L), the Ornstein-Uhlenbeck process with Dryden's spectrum, on a
/// grid of L/20 joined linearly. Sideways the field is the sum of two rows of independent strips that pass into one another,
/// L/2 and L/10 apart with 4/5 and 1/5 of the variance: up to L/4 abreast riders come within 0.1 of what isotropic
/// turbulence has along the wind, (1 - d/2L) exp(-d/L) (Batchelor 1953, The Theory of Homogeneous Turbulence, Cambridge), further
/// out up to 0.28 below it; and the length sideways is 0.3 to 0.4 L (Counihan 1975, Atmos. Environ.
/// 9:871, from memory). A strip repeats after 410 L (8.2 km of air for L = 20 m). The numbers are counter-based: the
/// same seed gives the same field, in any order of calls.
class GustField {
 public:
  GustField(double length_m, std::uint64_t seed);  ///< length_m > 0

  struct Gust {
    double along, across;
  };
  /// @param downwind_m, sideways_m  place in the air: along the mean wind's direction of travel, and to its left
  Gust at(double downwind_m, double sideways_m) const;

 private:
  struct Sample {
    float along, across;
  };
  struct Row {
    double strips_per_m, first_strip;        ///< strip at 0 m, by chance
    double strength;                         ///< square root of this set's share of the variance
    std::vector<std::uint32_t> strip_start;  ///< in the samples
  };
  Gust in_strip(std::uint32_t start, double position) const;
  Gust in_row(const Row& row, double position, double sideways_m) const;
  std::vector<Sample> samples_;  ///< of one periodic strip; the others start at other places of it
  std::array<Row, 2> rows_;
  double samples_per_m_;
};

}  // namespace leewheel
