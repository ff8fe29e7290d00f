#include "yardstick.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::bench {

namespace {
constexpr std::size_t slopes = 16384;  // of a metre each; a power of two
}

Yardstick::Yardstick(std::size_t riders) {
  for (std::size_t i = 0; i < riders; ++i) {
    const double size = static_cast<double>(i * 7 % 11);
    riders_.push_back(
        {-2.2 * static_cast<double>(i) + 1e5, 6.0, 15000.0, 0.0, 75.0 + size, 0.30 + 0.005 * size, 220.0 + size});
  }
  for (std::size_t k = 0; k < slopes; ++k)
    slope_.push_back(0.04 * std::sin(6.283185307179586 * static_cast<double>(k) / slopes));
}

void Yardstick::step() {
  constexpr double dt = 0.1, half_density = 0.6, wind_mps = 2.0, cross2 = 4.0, rolling = 0.005, gravity_mps2 = 9.81;
  constexpr double efficiency = 0.976, w_prime_J = 15000.0, length_m = 1.7, gap_m = 0.5;
  double ahead_m = 1e9, ahead_mps = 30.0;
  for (Rider& r : riders_) {
    const double along = r.v_mps + wind_mps, slope = slope_[static_cast<std::size_t>(r.x_m) & (slopes - 1)];
    const double air_N = half_density * r.area_m2 * along * std::sqrt(along * along + cross2);
    const double against_N = air_N + r.mass_kg * gravity_mps2 * (rolling + slope);
    const double gap = ahead_m - r.x_m - length_m;
    const double wish_mps2 = std::min(1.0, 0.2 * (gap - gap_m) + 0.6 * (ahead_mps - r.v_mps));
    const double wish_W = (r.mass_kg * wish_mps2 + against_N) * r.v_mps / efficiency;
    const double power_W = std::min(std::max(0.0, wish_W), r.critical_W + 0.02 * r.wbal_J);
    const double braking_mps2 = std::min(0.0, wish_W * efficiency / (r.mass_kg * r.v_mps));
    const double accel_mps2 = (efficiency * power_W / r.v_mps - against_N) / r.mass_kg + braking_mps2;
    ahead_m = r.x_m;
    ahead_mps = r.v_mps;
    r.v_mps = std::max(0.5, r.v_mps + accel_mps2 * dt);
    r.x_m += r.v_mps * dt;
    r.pedal_J += power_W * dt;
    r.wbal_J = std::min(w_prime_J, std::max(0.0, r.wbal_J + (r.critical_W - power_W) * dt));
  }
}

double Yardstick::sum() const {
  double sum = 0.0;
  for (const Rider& r : riders_) sum += r.x_m + r.pedal_J;
  return sum;
}

}  // namespace leewheel::bench
