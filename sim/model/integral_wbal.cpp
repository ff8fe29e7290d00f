#include "leewheel/integral_wbal.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leewheel {

namespace {

constexpr double slowest_s = 316.0, further_s = 546.0;  // tau = slowest_s + further_s x, x from 0 to 1

/// Chebyshev's points on [0, 1] and the weights of the interpolation between them.
struct Points {
  std::array<double, IntegralWbal::nodes> x, weight;
  Points() {
    for (std::size_t k = 0; k < x.size(); ++k) {
      const double angle = std::numbers::pi * (2.0 * static_cast<double>(k) + 1.0) / (2.0 * static_cast<double>(x.size()));
      x[k] = 0.5 - 0.5 * std::cos(angle);
      weight[k] = (k % 2 == 0 ? 1.0 : -1.0) * std::sin(angle);
    }
  }
};
const Points points;

}  // namespace

double integral_time_s(double below_W) { return further_s * std::exp(-0.01 * below_W) + slowest_s; }

IntegralWbal::Decay::Decay(double step_s) : interval_s(step_s) {
  for (std::size_t k = 0; k < nodes; ++k) share[k] = std::exp(-step_s / (slowest_s + further_s * points.x[k]));
}

void IntegralWbal::add(double above_W, const Decay& decay) {
  const double more_J = std::max(0.0, above_W) * decay.interval_s;
  for (std::size_t k = 0; k < nodes; ++k) spent_J_[k] = spent_J_[k] * decay.share[k] + more_J;
  if (above_W >= 0.0) return;
  below_J_ -= above_W * decay.interval_s;
  below_s_ += decay.interval_s;
}

double IntegralWbal::spent_J() const {
  const double below_W = below_s_ > 0.0 ? below_J_ / below_s_ : 0.0;
  const double x = (integral_time_s(below_W) - slowest_s) / further_s;
  double sum_J = 0.0, sum = 0.0;
  for (std::size_t k = 0; k < nodes; ++k) {
    if (x == points.x[k]) return spent_J_[k];
    const double weight = points.weight[k] / (x - points.x[k]);
    sum_J += weight * spent_J_[k];
    sum += weight;
  }
  return sum_J / sum;
}

std::vector<double> integral_wbal_J(const Strength& strength, std::span<const PowerPiece> pieces, double missing_J) {
  double below_J = 0.0, below_s = 0.0;
  for (const PowerPiece& piece : pieces)
    if (const double below_W = strength.critical_power_W - piece.power_W; below_W > 0.0) {
      below_J += below_W * piece.duration_s;
      below_s += piece.duration_s;
    }
  const double tau_s = integral_time_s(below_s > 0.0 ? below_J / below_s : 0.0);
  std::vector<double> left_J;
  double spent_J = missing_J;
  for (const PowerPiece& piece : pieces) {
    const double above_W = std::max(0.0, piece.power_W - strength.critical_power_W);
    for (double passed_s = 0.0; passed_s < piece.duration_s; passed_s += 1.0) {
      const double second_s = std::min(1.0, piece.duration_s - passed_s);
      spent_J = spent_J * std::exp(-second_s / tau_s) + above_W * second_s;
    }
    left_J.push_back(strength.w_prime_J - spent_J);
  }
  return left_J;
}

}  // namespace leewheel
