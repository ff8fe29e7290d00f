#include "leewheel/hill.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace leewheel {
namespace {

// The curves of EN 1991-1-4, Annex A.3. q = z/L_e.
double crest_value(double q) {
  return (((0.1552 * q - 0.8575) * q + 1.8133) * q - 1.9115) * q + 1.0124;
}
double upwind_decay(double q) { return (0.3542 * q - 1.0577) * q + 2.6456; }
double downwind_decay(double q) { return (-0.3056 * q + 1.0212) * q - 1.7637; }

double behind_cliff(double x_over_Le, double q) {
  const double l = std::log10(x_over_Le), p = std::log10(std::max(q, 1e-6));
  const double A = ((-1.3420 * p - 0.8222) * p + 0.4609) * p - 0.0791;
  const double B = ((-1.0196 * p - 0.8910) * p + 0.5343) * p - 0.1156;
  const double C = ((0.8030 * p + 0.4236) * p - 0.5738) * p + 0.1606;
  return std::max(0.0, (A * l + B) * l + C);
}

double orographic_location_factor(const HillSection& hill, double x_m, double effective_length_m, double q) {
  if (q > 2.0) return 0.0;
  if (x_m <= 0.0) {
    const double u = x_m / hill.upwind_length_m;
    return u < -1.5 ? 0.0 : crest_value(q) * std::exp(upwind_decay(q) * u);
  }
  if (!hill.cliff) {
    const double u = x_m / hill.downwind_length_m;
    return u > 2.0 ? 0.0 : crest_value(q) * std::exp(downwind_decay(q) * u);
  }
  const double u = x_m / effective_length_m;
  if (u > 3.5) return 0.0;
  if (u >= 0.1) return behind_cliff(u, q);
  return crest_value(q) + u / 0.1 * (behind_cliff(0.1, q) - crest_value(q));
}

}  // namespace

double orography_factor(const HillSection& hill, double from_crest_m, double height_m) {
  assert(hill.height_m >= 0.0 && hill.upwind_length_m > 0.0 && (hill.cliff || hill.downwind_length_m > 0.0) && height_m > 0.0);
  const double slope = hill.height_m / hill.upwind_length_m;
  if (slope < 0.05) return 1.0;
  const double effective_length_m = slope < 0.3 ? hill.upwind_length_m : hill.height_m / 0.3;
  const double s = orographic_location_factor(hill, from_crest_m, effective_length_m, height_m / effective_length_m);
  return 1.0 + (slope < 0.3 ? 2.0 * slope : 0.6) * std::max(0.0, s);
}

double crest_speed_up(HillShape shape, double hill_height_m, double half_length_m, double height_m) {
  assert(half_length_m > 0.0 && height_m >= 0.0);
  struct Constants { double B, A; };
  constexpr Constants constants[] = {{2.0, 3.0}, {1.6, 4.0}, {0.8, 2.5}};
  const auto [B, A] = constants[static_cast<std::size_t>(shape)];
  return B * hill_height_m / half_length_m * std::exp(-A * height_m / half_length_m);
}

}  // namespace leewheel
