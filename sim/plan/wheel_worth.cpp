#include "leewheel/wheel_worth.hpp"

#include <algorithm>
#include <array>

namespace leewheel {

namespace {

constexpr double steepest = 0.25;

/// The drag factor behind a wheel taken as that at the speed alone: it changes little with speed.
WheelWorth worth_of(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double speed_mps,
                    double power_W) {
  RoadLoad load = load_alone(rider, place);
  const PowerSplit alone = road_power(load, speed_mps);
  WheelWorth worth{};
  worth.speed_mps = speed_mps;
  worth.power_W = power_W;
  worth.drag_factor = wheel_drag_factor(rider, place, law, speed_mps);
  worth.air_share = alone.crank_W > 0.0 ? alone.air_W / (alone.crank_W - alone.drivetrain_W) : 0.0;
  load.drag_factor = worth.drag_factor;
  worth.saved_W = std::max(0.0, alone.crank_W) - std::max(0.0, road_power(load, speed_mps).crank_W);
  worth.saved_percent = alone.crank_W > 0.0 ? 100.0 * worth.saved_W / alone.crank_W : 0.0;
  worth.behind_speed_mps = steady_speed_mps(load, power_W);
  worth.saved_s_per_km = speed_mps > 0.0 ? 1000.0 / speed_mps - 1000.0 / worth.behind_speed_mps : 0.0;
  return worth;
}

}  // namespace

RoadLoad load_alone(const RiderSettings& rider, const WheelPlace& place) {
  RoadLoad load;
  load.mass_kg = rider.total_mass_kg();
  load.drag_area_m2 = rider.drag_area_hoods_m2;
  load.wheel_drag_area_m2 = rider.wheel_drag_area_m2;
  load.rolling = place.rolling * rider.rolling_multiplier;
  load.efficiency = rider.drivetrain_efficiency;
  load.density_kgpm3 = place.density_kgpm3;
  load.gravity_mps2 = place.gravity_mps2;
  load.grade = place.grade;
  load.wind_along_mps = -place.headwind_mps;
  return load;
}

double wheel_drag_factor(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double speed_mps) {
  const double area_m2 = rider.drag_area_hoods_m2, along_mps = speed_mps + place.headwind_mps;
  const double turbulence = wake_turbulence(wake_base(law), place.turbulence_intensity,
                                            place.headwind_mps * place.headwind_mps, along_mps * along_mps);
  const std::array<double, 2> distance_m{bicycle_length_m + place.gap_m, 0.0}, lateral_m{}, areas_m2{area_m2, area_m2},
      along{along_mps, along_mps}, cross{}, gusts{turbulence, turbulence};
  std::array<double, 2> factor{}, side{};
  wake_factors(law, {distance_m, lateral_m, areas_m2, along, cross, gusts}, {factor, side});
  return factor[1];
}

WheelWorth wheel_worth_at_power(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double power_W) {
  return worth_of(rider, place, law, steady_speed_mps(load_alone(rider, place), power_W), power_W);
}

WheelWorth wheel_worth_at_speed(const RiderSettings& rider, const WheelPlace& place, const WakeLaw& law, double speed_mps) {
  return worth_of(rider, place, law, speed_mps, road_power(load_alone(rider, place), speed_mps).crank_W);
}

std::optional<double> grade_where_it_stops_paying(const RiderSettings& rider, WheelPlace place, const WakeLaw& law,
                                                  double power_W) {
  const auto pays_at = [&](double grade) {
    place.grade = grade;
    return still_pays(wheel_worth_at_power(rider, place, law, power_W));
  };
  if (!pays_at(0.0)) return 0.0;
  if (pays_at(steepest)) return std::nullopt;
  double low = 0.0, high = steepest;
  while (high - low > 1e-5) {
    const double middle = 0.5 * (low + high);
    (pays_at(middle) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace leewheel
