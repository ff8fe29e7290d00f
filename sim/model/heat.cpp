#include "leewheel/heat.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "leewheel/scenario.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

std::span<const NumberField<HeatSettings>> heat_fields() {
  using H = HeatSettings;
  static constexpr NumberField<H> fields[] = {
      {"sun_C", &H::sun_C, 0.0, 15.0, "what a clear sun overhead adds to the temperature felt (C); 0 under clouds",
       "assumed"},
      {"warming_s", &H::warming_s, 60.0, 7200.0, "time in which a rider's loss follows the heat around (s)", "assumed"},
      {"acclimatised", &H::acclimatised, 0.0, 1.0, "0 fresh from the cool, 1 after two weeks in such heat",
       "Racinais et al. 2015, MSSE 47:601"},
  };
  return fields;
}

double heat_loss_share(double felt_C, double acclimatised) {
  constexpr double at_C[] = {17.0, 22.0, 27.0, 32.0}, share[] = {0.0, 0.015, 0.021, 0.061};
  constexpr double most_share = 0.25, left_after_two_weeks = 0.125;
  if (felt_C <= at_C[0]) return 0.0;
  const std::size_t k = felt_C < at_C[1] ? 0 : felt_C < at_C[2] ? 1 : 2;
  const double loss = std::lerp(share[k], share[k + 1], (felt_C - at_C[k]) / (at_C[k + 1] - at_C[k]));
  return std::min(loss, most_share) * std::lerp(1.0, left_after_two_weeks, acclimatised);
}

double sun_height_sine(double latitude_rad, std::chrono::local_seconds clock) {
  namespace chrono = std::chrono;
  const chrono::local_days date = chrono::floor<chrono::days>(clock);
  const chrono::local_days new_year = chrono::local_days(chrono::year_month_day(date).year() / chrono::January / 1);
  const double day = static_cast<double>((date - new_year).count()) + 1.0;
  const double hour = static_cast<double>((clock - date).count()) / 3600.0;
  const double declination_rad = rad_from_deg(23.45) * std::sin(2.0 * std::numbers::pi * (284.0 + day) / 365.0);
  const double hour_angle_rad = rad_from_deg(15.0 * (hour - 12.0));
  return std::max(0.0, std::sin(latitude_rad) * std::sin(declination_rad) +
                           std::cos(latitude_rad) * std::cos(declination_rad) * std::cos(hour_angle_rad));
}

double sunlit_share(Exposure left, Exposure right) {
  const auto of_one = [](Exposure side) {
    return side == Exposure::wood ? 0.15 : side == Exposure::scattered_trees || side == Exposure::houses ? 0.6 : 1.0;
  };
  return 0.5 * (of_one(left) + of_one(right));
}

namespace {

/// At the altitude where the air was measured.
double air_temperature_C(const Scenario& scenario, double time_s) {
  const std::vector<ForecastPoint>& points =
      scenario.wind.stations.empty() ? scenario.wind.forecast : scenario.wind.stations.front().forecast;
  const auto of = [&](const ForecastPoint& p) { return p.temperature_C.value_or(scenario.air.temperature_C); };
  const auto next = std::find_if(points.begin(), points.end(), [&](const ForecastPoint& p) { return p.time_s > time_s; });
  if (next == points.begin()) return of(points.front());
  if (next == points.end()) return of(points.back());
  const ForecastPoint& before = *(next - 1);
  return std::lerp(of(before), of(*next), (time_s - before.time_s) / (next->time_s - before.time_s));
}

}  // namespace

double felt_temperature_C(const Scenario& scenario, double at_m, double time_s) {
  const Road& road = scenario.road;
  AirState air = scenario.air;
  air.temperature_C = air_temperature_C(scenario, time_s);
  const double there_C = air_at_altitude(air, scenario.air_station_altitude_m, road.elevation_m(at_m)).temperature_C;
  if (!scenario.start) return there_C;
  const double latitude_rad = road.profile().has_position ? road.profile().latitude_rad : rad_from_deg(45.0);
  const auto clock = *scenario.start + std::chrono::seconds(std::llround(time_s));
  return there_C + scenario.heat.sun_C * sun_height_sine(latitude_rad, clock) *
                       sunlit_share(road.exposure_left(at_m), road.exposure_right(at_m));
}

double heat_share_after(const Scenario& scenario, double share, double at_m, double time_s, double interval_s) {
  const double towards = heat_loss_share(felt_temperature_C(scenario, at_m, time_s), scenario.heat.acclimatised);
  return share + (towards - share) * -std::expm1(-interval_s / scenario.heat.warming_s);
}

}  // namespace leewheel
