#include "leewheel/uncertainty.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/chance.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

std::span<const NumberField<Uncertainty>> uncertainty_fields() {
  using U = Uncertainty;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<U> fields[] = {
      {"wind_speed_mps", &U::wind_speed_mps, 0, 10, "forecast wind speed at 10 m (m/s)",
       "assumed; a day ahead over land forecasts miss by 1.5 to 2 m/s, from memory"},
      {"wind_direction_deg", &U::wind_direction_deg, 0, 90, "forecast wind direction (degrees)",
       "assumed; 20 to 30 degrees in moderate winds, from memory"},
      {"wake_scale", &U::wake_scale, 0, 0.5, "what a wake saves, as a share of it",
       "spread between tunnel, computation, track and field (docs/model.md)"},
      {"halving_turbulence_factor", &U::halving_turbulence_factor, 1, 4,
       "factor on the turbulence that halves the length of the wake",
       "covers smooth computation and coasting data (Olds 1998, Eur J Appl Physiol 77:492), which conflict"},
      {"rolling_share", &U::rolling_share, 0, 0.5, "rolling resistance: tyres, pressure, surface", ours},
      {"drag_area_share", &U::drag_area_share, 0, 0.3, "a rider's own drag area: clothing, posture", ours},
      {"critical_power_share", &U::critical_power_share, 0, 0.3, "a rider's critical power on the day", ours},
      {"w_prime_share", &U::w_prime_share, 0, 0.5, "a rider's W' on the day", ours},
      {"mass_kg", &U::mass_kg, 0, 10, "body, clothing and bottles (kg)", ours},
  };
  return fields;
}

namespace {
constexpr double cut_off = 3.0;
constexpr double least_share = 0.1;  // no draw takes a coefficient below a tenth of the scenario's (assumed)

double normal(std::uint64_t seed, std::uint64_t who, std::uint64_t number) {
  return std::clamp(chance_normal(seed, who, number, Purpose::draw), -cut_off, cut_off);
}

double scaled(double value, double share, double z) { return value * std::max(least_share, 1.0 + share * z); }

/// The day's form and what is not known of the rider, independent of each other.
double with_own(double day_share, double known_share) {
  return known_share > 0.0 ? std::hypot(day_share, known_share) : day_share;
}

void move_wind(std::vector<ForecastPoint>& forecast, double by_mps, double turn_rad) {
  for (ForecastPoint& point : forecast) {
    const double before_mps = point.speed_mps;
    point.speed_mps = std::max(0.0, point.speed_mps + by_mps);
    point.from_rad = std::remainder(point.from_rad + turn_rad, 2.0 * std::numbers::pi);
    if (point.gust_mps) *point.gust_mps = std::max(point.speed_mps, *point.gust_mps + point.speed_mps - before_mps);
  }
}
}  // namespace

Draw draw_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  Draw draw;
  for (std::size_t k = 0; k < shared_inputs; ++k) draw.shared[k] = normal(seed, hash_name(input_names[k]), number);
  draw.own.resize(scenario.riders.size());
  for (std::size_t i = 0; i < draw.own.size(); ++i)
    for (std::size_t k = 0; k < own_inputs; ++k)
      draw.own[i][k] =
          normal(seed, hash_name(scenario.riders[i].name) ^ mix64(hash_name(input_names[shared_inputs + k])), number);
  return draw;
}

Scenario on_day(const Scenario& scenario, const Draw& draw) {
  Scenario day = scenario;
  const Uncertainty& u = scenario.uncertainty;
  const auto shared = [&](Input input) { return draw.shared[static_cast<std::size_t>(input)]; };
  const double by_mps = u.wind_speed_mps * shared(Input::wind_speed);
  const double turn_rad = rad_from_deg(u.wind_direction_deg) * shared(Input::wind_direction);
  move_wind(day.wind.forecast, by_mps, turn_rad);
  for (WindStation& station : day.wind.stations) move_wind(station.forecast, by_mps, turn_rad);
  double& wake_scale = wake_base(day.wake).wake_scale;
  wake_scale = scaled(wake_scale, u.wake_scale, shared(Input::wake_scale));
  const double mixing = std::pow(u.halving_turbulence_factor, shared(Input::halving_turbulence));
  std::visit(
      [mixing](auto& law) {
        if constexpr (requires { law.halving_turbulence; }) law.halving_turbulence *= mixing;
      },
      day.wake);
  for (std::size_t i = 0; i < day.riders.size(); ++i) {
    RiderSettings& rider = day.riders[i];
    const auto own = [&](Input input) { return draw.own[i][static_cast<std::size_t>(input) - shared_inputs]; };
    rider.rolling_multiplier = scaled(rider.rolling_multiplier, u.rolling_share, shared(Input::rolling));
    for (double* area : {&rider.drag_area_hoods_m2, &rider.drag_area_drops_m2, &rider.drag_area_upright_m2})
      *area = scaled(*area, u.drag_area_share, own(Input::drag_area));
    const double fresh_W = rider.critical_power_W;
    rider.critical_power_W =
        scaled(fresh_W, with_own(u.critical_power_share, rider.critical_power_spread), own(Input::critical_power));
    rider.peak_power_W += rider.critical_power_W - fresh_W;  // a good day is one at every length of effort
    rider.w_prime_J = scaled(rider.w_prime_J, with_own(u.w_prime_share, rider.w_prime_spread), own(Input::w_prime));
    rider.body_mass_kg = std::max(0.5 * rider.body_mass_kg, rider.body_mass_kg + u.mass_kg * own(Input::mass));
  }
  return day;
}

}  // namespace leewheel
