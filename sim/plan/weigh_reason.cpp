#include "plan/weigh_reason.hpp"

#include <cmath>

#include "leewheel/wheel_worth.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

/// Means of the seconds that the rider, alone, spends on the stretch.
struct MeanRidden {
  double seconds = 0.0, speed_mps = 0.0, power_W = 0.0, along_mps = 0.0, cross_mps = 0.0, area_m2 = 0.0, turbulence = 0.0,
         rolling = 0.0;
};

MeanRidden means_on(const Scenario& solo, const TimedStretch& stretch) {
  const Road& road = solo.road;
  const Wind wind(solo.wind, road);
  MeanRidden sum;
  Ride ride(solo, {.notes_debts = false, .notes_laws = false});
  watch(ride, {1.0, [&](const Ride& now) { return now.first_distance_m() < stretch.to_m; }}, [&](const RideView& view) {
    if (!view.whole_interval || view.ride.first_distance_m() < stretch.from_m) return;
    const RideSample& now = view.now;
    ++sum.seconds;
    sum.speed_mps += now.speed_mps[0];
    sum.power_W += now.power_W[0];
    sum.along_mps += now.wind_along_mps[0];
    sum.cross_mps += std::abs(now.wind_cross_mps[0]);
    sum.area_m2 += now.drag_area_m2[0];
    sum.turbulence += wind.turbulence_intensity(view.distance_m(0));
    sum.rolling += road.rolling(view.distance_m(0));
  });
  if (sum.seconds == 0.0) return sum;
  for (double MeanRidden::*mean :
       {&MeanRidden::speed_mps, &MeanRidden::power_W, &MeanRidden::along_mps, &MeanRidden::cross_mps, &MeanRidden::area_m2,
        &MeanRidden::turbulence, &MeanRidden::rolling})
    sum.*mean /= sum.seconds;
  return sum;
}

}  // namespace

WeighReason reason_of(const Scenario& solo, const TimedStretch& stretch) {
  const Road& road = solo.road;
  const RiderSettings& rider = solo.riders[0];
  const MeanRidden mean = means_on(solo, stretch);
  if (mean.seconds == 0.0) return {};
  WheelPlace place;
  place.grade = (road.elevation_m(stretch.to_m) - road.elevation_m(stretch.from_m)) / (stretch.to_m - stretch.from_m);
  place.headwind_mps = -mean.along_mps;
  place.gap_m = solo.tactics.gap_wary_m + rider.wheel_skill * (solo.tactics.gap_skilled_m - solo.tactics.gap_wary_m);
  place.turbulence_intensity = mean.turbulence;
  const double height_m = 0.5 * (road.elevation_m(stretch.from_m) + road.elevation_m(stretch.to_m));
  place.density_kgpm3 = air_density_kgpm3(air_at_altitude(solo.air, solo.air_station_altitude_m, height_m));
  place.rolling = mean.rolling;
  place.gravity_mps2 = solo.gravity_mps2;
  RiderSettings as_ridden = rider;
  as_ridden.drag_area_hoods_m2 = mean.area_m2;
  const WheelWorth worth = wheel_worth_at_speed(as_ridden, place, solo.wake, mean.speed_mps);
  return {worth.speed_mps, place.grade,     place.headwind_mps, mean.cross_mps,
          mean.power_W,    worth.air_share, worth.drag_factor,  worth.saved_W};
}

}  // namespace leewheel
