#include "leewheel/motion.hpp"

#include <algorithm>

namespace leewheel {

PowerSplit road_power(const RoadLoad& load, double speed_mps) {
  const double along_mps = speed_mps - load.wind_along_mps;
  const double cross_mps = load.air_form == AirForm::vector ? load.wind_cross_mps : 0.0;
  const double area_m2 = load.drag_area_m2 * load.drag_factor + load.wheel_drag_area_m2;
  const double slope_rad = std::atan(load.grade);
  const double weight_N = load.mass_kg * load.gravity_mps2;
  PowerSplit split{};
  split.air_W = air_force_N(0.5 * load.density_kgpm3, area_m2, along_mps, cross_mps) * speed_mps;
  split.rolling_W = weight_N * load.rolling * std::cos(slope_rad) * speed_mps;
  split.bearings_W = load.bearings ? bearing_force_N(speed_mps) * speed_mps : 0.0;
  split.gravity_W = weight_N * std::sin(slope_rad) * speed_mps;
  const double wheel_W = split.air_W + split.rolling_W + split.bearings_W + split.gravity_W;
  split.crank_W = wheel_W > 0.0 ? wheel_W / load.efficiency : wheel_W;
  split.drivetrain_W = split.crank_W - wheel_W;
  return split;
}

double steady_speed_mps(const RoadLoad& load, double crank_W) {
  // Force balance f(v) = resistance - drive crosses zero once from below at the largest root; bisection is sure.
  const auto surplus_W = [&](double speed_mps) { return road_power(load, speed_mps).crank_W - crank_W; };
  double low_mps = 0.0, high_mps = 1.0;
  while (surplus_W(high_mps) <= 0.0 && high_mps < 100.0) {
    low_mps = high_mps;
    high_mps *= 1.5;
  }
  for (int i = 0; i < 200 && high_mps - low_mps > 1e-13 * high_mps; ++i) {
    const double middle_mps = 0.5 * (low_mps + high_mps);
    (surplus_W(middle_mps) <= 0.0 ? low_mps : high_mps) = middle_mps;
  }
  return 0.5 * (low_mps + high_mps);
}

}  // namespace leewheel
