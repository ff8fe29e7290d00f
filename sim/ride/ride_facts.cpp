#include "leewheel/ride_facts.hpp"

#include <algorithm>
#include <tuple>

#include "leewheel/air.hpp"

namespace leewheel {

const RiderResult* solo_of(const std::vector<RideResult>& solo, std::size_t rider) {
  return rider < solo.size() && solo[rider].riders.size() == 1 ? &solo[rider].riders.front() : nullptr;
}

double percent(double part, double whole) { return whole > 0.0 ? 100.0 * part / whole : no_value; }

double time_saved_s(const RiderResult& rider, const RiderResult* alone_again) {
  if (!rider.finished || !alone_again || !alone_again->finished) return no_value;
  return alone_again->riding_s() - rider.riding_s();
}

double door_to_door_saved_s(const RiderResult& rider, const RiderResult* alone_again) {
  if (!rider.finished || !alone_again || !alone_again->finished) return no_value;
  return alone_again->finish_time_s - rider.finish_time_s;
}

std::size_t worst_ledger(const RideResult& result) {
  const auto worse = [](const RiderResult& a, const RiderResult& b) { return a.ledger.error() < b.ledger.error(); };
  return static_cast<std::size_t>(std::max_element(result.riders.begin(), result.riders.end(), worse) -
                                  result.riders.begin());
}

std::vector<std::vector<std::uint32_t>> finish_groups(const RideResult& result) {
  constexpr double new_group_s = 1.0;  // wheel to wheel (rules of racing, second-hand)
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < result.riders.size(); ++i)
    if (result.riders[i].finished) order.push_back(i);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return std::tie(result.riders[a].finish_time_s, result.riders[a].name) <
           std::tie(result.riders[b].finish_time_s, result.riders[b].name);
  });
  std::vector<std::vector<std::uint32_t>> groups;
  double ahead_s = -1e9;
  for (const std::uint32_t i : order) {
    if (result.riders[i].finish_time_s - ahead_s >= new_group_s) groups.emplace_back();
    groups.back().push_back(i);
    ahead_s = result.riders[i].finish_time_s;
  }
  return groups;
}

double start_density_kgpm3(const Scenario& scenario) {
  return air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, scenario.road.elevation_m(0.0)));
}

std::vector<std::string> names_of(const Scenario& scenario, const std::vector<std::uint32_t>& riders) {
  std::vector<std::string> names;
  for (const std::uint32_t rider : riders) names.push_back(scenario.riders.at(rider).name);
  return names;
}

}  // namespace leewheel
