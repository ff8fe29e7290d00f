/// The columns of a recorded ride: name, unit, meaning and where the value comes from, a row each.

#include <algorithm>
#include <array>
#include <cmath>

#include "leewheel/motion.hpp"
#include "ride/state.hpp"

namespace leewheel {

namespace {

/// One rider at the moment of a sample.
struct Sampled {
  const Ride::State& ride;
  RiderIndex i;
  const Riders& r;
  bool riding, moved;  ///< moved: forces have acted, which they have not before the first step

  double wheel() const {
    return r.wheel_of[i] == nobody ? -1.0 : static_cast<double>(ride.places.scenario_index[r.wheel_of[i]]);
  }
  double grade() const { return ride.scenario.road.grade(r.x_m[i]); }
  double air_N() const {
    const double along = r.v_mps[i] - r.wind_along_mps[i];
    return r.half_density[i] * (r.area_m2[i] * r.yaw_factor[i] * r.drag_factor[i] + r.wheel_area_m2[i]) * along *
           std::hypot(along, r.wind_cross_mps[i]);
  }
};

struct Row {
  SampleColumn column;
  double (*value)(const Sampled&);
};

using S = RideSample;
const Row rows[] = {
    {{"distance_m", &S::distance_m, "m", "front wheel's distance from the start, along the road surface"},
     [](const Sampled& s) { return std::min(s.r.x_m[s.i], s.ride.scenario.road.length_m()); }},
    {{"lateral_m", &S::lateral_m, "m", "place across the road, > 0 left of its middle"},
     [](const Sampled& s) { return s.r.y_m[s.i]; }},
    {{"speed_mps", &S::speed_mps, "m/s", "speed along the road"},
     [](const Sampled& s) { return s.riding ? s.r.v_mps[s.i] : 0.0; }},
    {{"power_W", &S::power_W, "W", "power at the cranks"},
     [](const Sampled& s) { return s.riding ? s.r.power_W[s.i] : 0.0; }},
    {{"alone_power_W", &S::alone_power_W, "W", "power the same motion would cost without drafting"},
     [](const Sampled& s) { return s.riding ? s.r.alone_W[s.i] : 0.0; }},
    {{"drag_factor", &S::drag_factor, "1", "drag factor: drag over drag alone; 1 is no draft"},
     [](const Sampled& s) { return s.riding ? s.r.drag_factor[s.i] : 1.0; }},
    {{"side_force_N", &S::side_force_N, "N", "size of the side force of the wind"},
     [](const Sampled& s) { return s.riding ? s.ride.cautions.side_force_N(s.i) : 0.0; }},
    {{"wbal_J", &S::wbal_J, "J", "work above critical power that is left (W')"},
     [](const Sampled& s) { return s.r.wbal_J[s.i]; }},
    {{"group_id", &S::group_id, "1", "group the rider is in, -1 when alone"},
     [](const Sampled& s) { return static_cast<double>(s.riding ? s.ride.groups.group_of()[s.i] : no_group); }},
    {{"role", &S::role, "1", "what the rider is doing; the attribute names lists the roles"},
     [](const Sampled& s) { return static_cast<double>(s.ride.decide.role(s.i)); }},
    {{"wheel_of", &S::wheel_of, "1", "index of the rider whose wheel is followed, -1 for none"},
     [](const Sampled& s) { return s.wheel(); }},
    {{"gap_m", &S::gap_m, "m", "wheel gap to the rider whose wheel is followed, -1 for none"},
     [](const Sampled& s) { return s.r.wheel_of[s.i] == nobody ? -1.0 : s.r.gap_m(s.i, s.r.wheel_of[s.i]); }},
    {{"wind_along_mps", &S::wind_along_mps, "m/s", "wind at the rider along the road, gust included, > 0 pushes on"},
     [](const Sampled& s) { return s.r.wind_along_mps[s.i]; }},
    {{"wind_cross_mps", &S::wind_cross_mps, "m/s", "wind at the rider across the road, gust included, > 0 towards the left"},
     [](const Sampled& s) { return s.r.wind_cross_mps[s.i]; }},
    {{"drag_area_m2", &S::drag_area_m2, "m2", "drag area CdA of the present posture, alone"},
     [](const Sampled& s) { return s.r.area_m2[s.i]; }},
    {{"saved_J", &S::saved_J, "J", "work saved by drafting since the start"},
     [](const Sampled& s) { return s.r.ledgers.of(s.i).saved_J; }},
    {{"pedal_J", &S::pedal_J, "J", "work at the cranks since the start"},
     [](const Sampled& s) { return s.r.ledgers.pedal_J[s.i]; }},
    {{"gravity_W", &S::gravity_W, "W", "power into height"},
     [](const Sampled& s) { return s.moved ? s.r.weight_N[s.i] * slope_sine(s.grade()) * s.r.v_mps[s.i] : 0.0; }},
    {{"air_W", &S::air_W, "W", "power into the air, < 0 while a tailwind pushes"},
     [](const Sampled& s) { return s.moved ? s.air_N() * s.r.v_mps[s.i] : 0.0; }},
    {{"rolling_W", &S::rolling_W, "W", "power into the tyres and bearings"},
     [](const Sampled& s) {
       const double v = s.r.v_mps[s.i];
       return s.moved ? (s.r.rolling_N[s.i] + bearing_force_N(v)) * v : 0.0;
     }},
    {{"kinetic_W", &S::kinetic_W, "W", "power into speed, < 0 while slowing"},
     [](const Sampled& s) { return s.moved ? s.r.moving_mass_kg[s.i] * s.r.accel_mps2[s.i] * s.r.v_mps[s.i] : 0.0; }},
    {{"heart_rate_share", &S::heart_rate_share, "1",
      "heart rate as a share of the maximum, following the power with a lag; from memory, +-40 %"},
     [](const Sampled& s) { return s.r.heart_share[s.i]; }},
};

const auto columns = [] {
  std::array<SampleColumn, std::size(rows)> all{};
  for (std::size_t k = 0; k < all.size(); ++k) all[k] = rows[k].column;
  return all;
}();

}  // namespace

std::span<const SampleColumn> sample_columns() { return columns; }

void Ride::sample(RideSample& into) const {
  const State& s = *state_;
  into.time_s = s.time_s();
  for (const Row& row : rows) {
    std::vector<float>& column = into.*row.column.values;
    column.resize(s.riders.count);
    for (RiderIndex i = 0; i < s.riders.count; ++i) {
      const bool riding = s.riders.riding[i] != 0;
      column[s.places.scenario_index[i]] = static_cast<float>(row.value({s, i, s.riders, riding, riding && s.tick > 0}));
    }
  }
}

}  // namespace leewheel
