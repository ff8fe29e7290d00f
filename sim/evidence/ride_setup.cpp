#include "evidence/ride_setup.hpp"

#include <cmath>
#include <string>

#include "evidence/given.hpp"

namespace leewheel::evidence {

namespace {

Road even_road(const RideSetup& setup) {
  Stretch stretch;
  stretch.length_m = setup.length_m;
  stretch.grade = setup.load.grade;
  stretch.width_m = 6.0;
  RoadProfile profile = profile_from_stretches({stretch}, 0.0);
  profile.rolling.assign(profile.rolling.size(), setup.load.rolling);
  return Road(std::move(profile));
}

RiderSettings rider_of(const RideSetup& setup, double plan_W) {
  const RoadLoad& load = setup.load;
  RiderSettings rider;
  rider.body_mass_kg = load.mass_kg - rider.kit_mass_kg - rider.bike_mass_kg;
  rider.drag_area_hoods_m2 = rider.drag_area_drops_m2 = rider.drag_area_upright_m2 = load.drag_area_m2;
  rider.wheel_drag_area_m2 = load.wheel_drag_area_m2;
  rider.wheel_inertia_kgm2 = 0.0;
  rider.drivetrain_efficiency = load.efficiency;
  rider.wheel_skill = setup.wheel_skill;
  rider.target_effort = setup.target_effort;
  rider.critical_power_W = plan_W / setup.target_effort;
  rider.w_prime_J = setup.w_prime_J;
  return rider;
}

/// The forecast that gives a rider on this road the wind of the row.
ForecastPoint forecast_of(const RoadLoad& load, const Road& road, double height_m) {
  const double ratio = rider_height_ratio(road.exposure_left(0.0), height_m);
  return {0.0, std::hypot(load.wind_along_mps, load.wind_cross_mps) / ratio,
          std::atan2(load.wind_cross_mps, -load.wind_along_mps) + road.heading_rad(0.0)};
}

}  // namespace

RideSetup read_ride_setup(YamlMap& given, double shortest_m) {
  RideSetup setup;
  setup.load = read_load(given);
  setup.length_m = needed(given, "length_m", {shortest_m, 1e5});
  setup.w_prime_J = optional(given, "w_prime_J", {0.0, 1e5, true}, setup.w_prime_J);
  setup.target_effort = optional(given, "target_effort", {0.0, 3.0, true}, setup.target_effort);
  setup.wheel_skill = optional(given, "wheel_skill", {0.0, 1.0}, setup.wheel_skill);
  return setup;
}

Scenario ride_of(const RideSetup& setup, const std::vector<double>& plan_W) {
  Scenario s{"", "", "", even_road(setup), AirState{}, 0.0, setup.load.gravity_mps2, {}, {}, {}, {}, {}, {}, {}};
  for (int round = 0; round < 20; ++round) s.air.pressure_Pa *= setup.load.density_kgpm3 / air_density_kgpm3(s.air);
  if (setup.load.wind_along_mps != 0.0 || setup.load.wind_cross_mps != 0.0)
    s.wind.forecast = {forecast_of(setup.load, s.road, s.wind.rider_height_m)};
  s.ride.kind = RideKind::together;
  for (std::size_t k = 0; k < plan_W.size(); ++k) {
    s.riders.push_back(rider_of(setup, plan_W[k]));
    s.riders.back().name = std::string("rider ") + static_cast<char>('a' + k);
    s.ride.start_order.push_back(s.riders.back().name);
  }
  return s;
}

}  // namespace leewheel::evidence
