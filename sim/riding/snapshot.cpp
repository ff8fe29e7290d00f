#include "riding/snapshot.hpp"

#include <algorithm>

namespace leewheel::riding {

bool Snapshot::is_instructed(RiderIndex i, Choice choice) const {
  const Memory& m = memory[i];
  return m.instruction >= 0 && !m.carried_out && instructions[static_cast<std::size_t>(m.instruction)].choice == choice;
}

double Cost::power_W(double v, double drag_factor) const {
  const double along = v - wind_along_mps;
  const double air_N = half_density * (area_m2 * drag_factor + wheel_area_m2) * along * std::sqrt(along * along + cross2);
  const double wheel_W = (air_N + rolling_N + bearing_force_N(v) + slope_N) * v;
  return wheel_W > 0.0 ? wheel_W / efficiency : wheel_W;
}

double Cost::speed_mps(double power, double drag_factor, double v) const {
  constexpr double faster_mps = 0.5;  // tried where the power curve dips first, on a descent
  constexpr double slowest_mps = 0.3, fastest_mps = 30.0;
  const double along = v - wind_along_mps, air_mps = std::sqrt(along * along + cross2);
  const double area = half_density * (area_m2 * drag_factor + wheel_area_m2);
  const double still_N = rolling_N + bearing_force_N(v) + slope_N;
  const double at_W = (area * along * air_mps + still_N) * v;
  const double slope = area * air_mps * (along + v * (1.0 + (along * along) / std::max(along * along + cross2, 1e-6))) +
                       still_N + bearing_Nspm * v;
  if (!(slope > 1.0)) return v + faster_mps;
  return std::clamp(v - (at_W - power * efficiency) / slope, slowest_mps, fastest_mps);
}

Cost cost_at(const Snapshot& now, RiderIndex i) {
  const Riders& r = now.riders;
  return {r.half_density[i],
          r.area_m2[i],
          r.wheel_area_m2[i],
          r.wind_along_mps[i],
          r.wind_cross_mps[i] * r.wind_cross_mps[i],
          r.rolling_N[i],
          now.road[i].slope_N,
          r.efficiency[i]};
}

}  // namespace leewheel::riding
