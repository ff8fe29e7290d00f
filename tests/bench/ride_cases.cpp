#include "ride_cases.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "leewheel/chance.hpp"
#include "leewheel/ensemble.hpp"
#include "support/scenes.hpp"

namespace leewheel::bench {

namespace {

/// Everyone's name, by chance.
std::vector<std::string> drawn_order(const std::vector<RiderSettings>& riders) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : riders) names.push_back(rider.name);
  std::sort(names.begin(), names.end(),
            [](const std::string& a, const std::string& b) { return mix64(hash_name(a)) < mix64(hash_name(b)); });
  return names;
}

}  // namespace

Scenario ride_case(std::string_view name, std::size_t riders) {
  Scenario s = scenes::scene(scenes::smooth_hills(20000.0), scenes::club(riders));
  s.tactics = TacticsSettings{};
  s.ride.start_abreast = riders > 12 ? 4 : 1;
  s.wind.forecast = {{0.0, 8.0, 4.0}};
  if (name == "steady" || name == "race" || name == "mixed") {
    if (name == "mixed") s.ride.start_order = drawn_order(s.riders);
    s.wind.forecast = {{0.0, 5.0, 4.0}, {1800.0, 8.0, 5.0}};
    s.ride.kind = name == "race" ? RideKind::race : RideKind::steady;
    return s;
  }
  if (name == "constant_wind") return s;
  s.wind.gusts = Gusts::on;
  if (name == "gusty_wind") return s;
  s.wind.hills_from_road = true;
  if (name == "gusty_wind_on_hills") return s;
  throw std::invalid_argument("no ride is called " + std::string(name));
}

Scenario day_case(std::size_t riders) {
  Scenario s = ride_case("steady", riders);
  s.wind.hills_from_road = true;
  s.ride.step_s = many_days_step_s;
  return surveyed(std::move(s));
}

}  // namespace leewheel::bench
