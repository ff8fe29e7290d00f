#include "leewheel/gust.hpp"

#include <algorithm>

namespace leewheel {
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

}  // namespace leewheel
