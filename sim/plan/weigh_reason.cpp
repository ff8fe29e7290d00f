#include "plan/weigh_reason.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/wheel_worth.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

/// Sums over the seconds that the rider, alone, spends on the stretch.
struct Ridden {
  double seconds = 0.0, speed_mps = 0.0, power_W = 0.0, along_mps = 0.0, cross_mps = 0.0;
  double air_W = 0.0, wheel_W = 0.0, rolls_s = 0.0;  ///< at the cranks: asked by the air; what a wheel would save
};

/// What a wheel saves in this second, at most what is pedalled, and what the air asks for meanwhile.
void look(const Scenario& solo, const Wind& wind, const RideView& view, Ridden& sum) {
  const Road& road = solo.road;
  const RideSample& now = view.now;
  const double at_m = view.distance_m(0), speed_mps = now.speed_mps[0], power_W = now.power_W[0];
  RiderSettings rider = solo.riders[0];
  rider.drag_area_hoods_m2 = now.drag_area_m2[0];
  WheelPlace place;
  place.headwind_mps = -now.wind_along_mps[0];
  place.gap_m = solo.tactics.gap_wary_m + rider.wheel_skill * (solo.tactics.gap_skilled_m - solo.tactics.gap_wary_m);
  place.turbulence_intensity = wind.turbulence_intensity(at_m);
  place.density_kgpm3 = air_density_kgpm3(air_at_altitude(solo.air, solo.air_station_altitude_m, road.elevation_m(at_m)));
  RoadLoad load = load_alone(rider, place);
  load.wind_cross_mps = now.wind_cross_mps[0];
  const double alone_W = road_power(load, speed_mps).air_W / rider.drivetrain_efficiency;
  load.drag_factor = wheel_drag_factor(rider, place, solo.wake, speed_mps);
  const double behind_W = road_power(load, speed_mps).air_W / rider.drivetrain_efficiency;
  ++sum.seconds;
  sum.speed_mps += speed_mps, sum.power_W += power_W, sum.along_mps += now.wind_along_mps[0];
  sum.cross_mps += std::abs(load.wind_cross_mps);
  if (power_W > 0.0) sum.air_W += std::max(0.0, alone_W);
  sum.wheel_W += std::clamp(alone_W - behind_W, 0.0, power_W);
  sum.rolls_s += power_W <= 0.0 ? 1.0 : 0.0;
}

Ridden ridden_on(const Scenario& solo, const TimedStretch& stretch) {
  const Wind wind(solo.wind, solo.road);
  Ridden sum;
  Ride ride(solo, {.notes_debts = false, .notes_laws = false});
  watch(ride, {1.0, [&](const Ride& now) { return now.first_distance_m() < stretch.to_m; }}, [&](const RideView& view) {
    if (view.whole_interval && view.ride.first_distance_m() >= stretch.from_m) look(solo, wind, view, sum);
  });
  return sum;
}

}  // namespace

WeighReason reason_of(const Scenario& solo, const TimedStretch& stretch) {
  const Road& road = solo.road;
  const Ridden sum = ridden_on(solo, stretch);
  if (sum.seconds == 0.0) return {};
  return {.speed_mps = sum.speed_mps / sum.seconds,
          .grade = (road.elevation_m(stretch.to_m) - road.elevation_m(stretch.from_m)) / (stretch.to_m - stretch.from_m),
          .headwind_mps = -sum.along_mps / sum.seconds,
          .crosswind_mps = sum.cross_mps / sum.seconds,
          .power_W = sum.power_W / sum.seconds,
          .air_share = sum.power_W > 0.0 ? sum.air_W / sum.power_W : 0.0,
          .wheel_takes_share = sum.air_W > 0.0 ? sum.wheel_W / sum.air_W : 0.0,
          .wheel_saves_W = sum.wheel_W / sum.seconds,
          .rolls_share = sum.rolls_s / sum.seconds};
}

}  // namespace leewheel
