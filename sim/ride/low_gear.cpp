#include "leewheel/low_gear.hpp"

#include <cmath>

#include "leewheel/motion.hpp"

namespace leewheel {

double planned_power_W(const Scenario& scenario, std::size_t rider, double at_m) {
  double effort = scenario.riders[rider].target_effort;
  if (rider < scenario.plans.size())
    for (const PlanStep& step : scenario.plans[rider])
      if (step.from_m <= at_m) effort = step.effort;
  return effort * scenario.riders[rider].critical_power_W;
}

namespace {

constexpr double step_m = 5.0, window_m = 20.0, one_ramp_m = 50.0;

double grade_over(const Road& road, double at_m) {
  const double sine = (road.elevation_m(at_m + 0.5 * window_m) - road.elevation_m(at_m - 0.5 * window_m)) / window_m;
  return sine / std::sqrt(1.0 - sine * sine);  // distances run along the surface
}

LowGearRamp at_place(const Scenario& scenario, std::size_t rider, double at_m) {
  const RiderSettings& r = scenario.riders[rider];
  LowGearRamp here{at_m, at_m + step_m, grade_over(scenario.road, at_m), planned_power_W(scenario, rider, at_m), 0.0, 0.0};
  RoadLoad load;
  load.mass_kg = r.total_mass_kg();
  load.drag_area_m2 = r.drag_area_upright_m2;
  load.wheel_drag_area_m2 = r.wheel_drag_area_m2;
  load.rolling = r.rolling_multiplier * scenario.road.rolling(at_m);
  load.efficiency = r.drivetrain_efficiency;
  load.gravity_mps2 = scenario.gravity_mps2;
  load.grade = here.grade;
  here.speed_mps = steady_speed_mps(load, here.power_W);
  here.cadence_rpm = 60.0 * here.speed_mps / r.lowest_development_m;
  return here;
}

}  // namespace

std::vector<LowGearRamp> low_gear_ramps(const Scenario& scenario, std::size_t rider) {
  constexpr double least_grade = 0.04;  // below it nobody's lowest gear is too high
  std::vector<LowGearRamp> ramps;
  for (double at_m = 0.5 * window_m; at_m < scenario.road.length_m() - 0.5 * window_m; at_m += step_m) {
    if (grade_over(scenario.road, at_m) < least_grade) continue;
    const LowGearRamp here = at_place(scenario, rider, at_m);
    if (here.power_W <= 0.0 || here.cadence_rpm >= stands_below_rpm) continue;
    if (ramps.empty() || here.from_m - ramps.back().to_m > one_ramp_m) {
      ramps.push_back(here);
      continue;
    }
    const double from_m = ramps.back().from_m;
    if (here.cadence_rpm < ramps.back().cadence_rpm) ramps.back() = here;
    ramps.back().from_m = from_m;
    ramps.back().to_m = here.to_m;
  }
  return ramps;
}

}  // namespace leewheel
