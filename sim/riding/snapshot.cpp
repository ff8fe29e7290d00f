#include "riding/snapshot.hpp"

#include <algorithm>

namespace leewheel::riding {

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
          r.efficiency[i],
          r.moving_mass_kg[i]};
}

Cost cost_at(const Snapshot& now, RiderIndex i, RiderIndex where) {
  const Riders& r = now.riders;
  Cost cost = cost_at(now, i);
  cost.slope_N = now.road[where].slope_N / r.weight_N[where] * r.weight_N[i];
  cost.wind_along_mps = r.wind_along_mps[where];
  cost.cross2 = r.wind_cross_mps[where] * r.wind_cross_mps[where];
  return cost;
}

}  // namespace leewheel::riding
