#include "evidence/even_line.hpp"

#include <algorithm>
#include <numeric>

#include "leewheel/air.hpp"
#include "leewheel/wind.hpp"

namespace leewheel::evidence {

namespace {

double mean(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

std::vector<double> factors(const EvenLine& line, std::size_t riders, double speed_mps) {
  const double wind_mps = line.load.wind_along_mps, met_mps = speed_mps - wind_mps;
  std::vector<double> distance_m(riders), zero(riders, 0.0), area_m2(riders, line.load.drag_area_m2),
      along_mps(riders, met_mps),
      turbulence(riders, wake_turbulence(wake_base(line.law), line.turbulence, wind_mps * wind_mps, met_mps * met_mps)),
      factor(riders), side(riders);
  const double place_m = bicycle_length_m + line.gap_m + line.headway_s * speed_mps;
  for (std::size_t k = 0; k < riders; ++k) distance_m[k] = -place_m * static_cast<double>(k);
  wake_factors(line.law, {distance_m, zero, area_m2, along_mps, zero, turbulence}, {factor, side});
  return factor;
}

}  // namespace

std::vector<double> powers_W(const EvenLine& line, std::size_t riders, double speed_mps) {
  std::vector<double> powers = factors(line, riders, speed_mps);
  for (double& value : powers) {
    RoadLoad load = line.load;
    load.drag_factor = value;
    value = std::max(0.0, road_power(load, speed_mps).crank_W);
  }
  return powers;
}

LineSpeed even_line_speed(const EvenLine& line, std::size_t riders) {
  double low_mps = 0.1, high_mps = 30.0;
  for (int round = 0; round < 60; ++round) {
    const double middle_mps = 0.5 * (low_mps + high_mps);
    const std::vector<double> powers = powers_W(line, riders, middle_mps);
    const bool bearable = mean(powers) <= line.plan_W && powers.front() <= std::max(line.plan_W, line.cap_W);
    (bearable ? low_mps : high_mps) = middle_mps;
  }
  return {low_mps, powers_W(line, riders, low_mps)};
}

double even_line_gain(const EvenLine& line, std::size_t riders) {
  return even_line_speed(line, riders).speed_mps / even_line_speed(line, 1).speed_mps - 1.0;
}

EvenLine even_line(const Scenario& s) {
  const double at_m = 0.5 * s.road.length_m();
  const RiderSettings& r = s.riders.front();
  const TacticsSettings& t = s.tactics;
  const Wind wind(s.wind, s.road);
  EvenLine line{s.wake, {}};
  line.load.mass_kg = r.total_mass_kg();
  line.load.drag_area_m2 = r.drag_area_hoods_m2;
  line.load.wheel_drag_area_m2 = r.wheel_drag_area_m2;
  line.load.rolling = r.rolling_multiplier * s.road.rolling(at_m);
  line.load.efficiency = r.drivetrain_efficiency;
  line.load.density_kgpm3 = air_density_kgpm3(s.air);
  line.load.gravity_mps2 = s.gravity_mps2;
  line.load.grade = s.road.grade(at_m);
  line.load.wind_along_mps = wind.at(at_m, 0.0).along_mps;
  line.plan_W = r.target_effort * r.critical_power_W;
  line.cap_W = t.front_effort * r.critical_power_W;
  line.gap_m = t.gap_wary_m + r.wheel_skill * (t.gap_skilled_m - t.gap_wary_m);
  line.headway_s = t.headway_s;
  line.turbulence = wind.turbulence_intensity(at_m);
  return line;
}

}  // namespace leewheel::evidence
