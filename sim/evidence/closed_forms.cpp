#include "evidence/closed_forms.hpp"

#include <algorithm>
#include <cassert>
#include <limits>

namespace leewheel::evidence {
namespace {

constexpr double m_per_ft = 0.3048;

double feet(double height_m) { return std::max(10.0, height_m / m_per_ft); }
double roughness_term(double height_ft) { return 0.177 + 0.000823 * height_ft; }

}  // namespace

double dryden_length_m(double height_m) {
  const double h = feet(height_m);
  return h / std::pow(roughness_term(h), 1.2) * m_per_ft;
}

double dryden_intensity(double height_m) { return 0.1 / std::pow(roughness_term(feet(height_m)), 0.4); }

double crest_speed_up(HillShape shape, double hill_height_m, double half_length_m, double height_m) {
  assert(half_length_m > 0.0 && height_m >= 0.0);
  struct Constants {
    double B, A;
  };
  constexpr Constants constants[] = {{2.0, 3.0}, {1.6, 4.0}, {0.8, 2.5}};
  const auto [B, A] = constants[static_cast<std::size_t>(shape)];
  return B * hill_height_m / half_length_m * std::exp(-A * height_m / half_length_m);
}

double exhaustion_two_parameter_s(const Strength& strength, double power_W) {
  const double above_W = power_W - strength.critical_power_W;
  return above_W > 0.0 ? strength.w_prime_J / above_W : std::numeric_limits<double>::infinity();
}

double exhaustion_three_parameter_s(const Strength& strength, double power_W) {
  const double above_W = power_W - strength.critical_power_W;
  if (above_W <= 0.0) return std::numeric_limits<double>::infinity();
  if (power_W >= strength.peak_power_W) return 0.0;  // no time at all at the highest power
  return strength.w_prime_J / above_W - strength.w_prime_J / (strength.peak_power_W - strength.critical_power_W);
}

}  // namespace leewheel::evidence
