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
  return alone_again->finish_time_s - (rider.finish_time_s - rider.waited_s);
}

std::vector<StretchRidden> stretches_of(const RiderResult& rider, const RiderResult* alone_again) {
  std::vector<StretchRidden> stretches;
  Passage last{"start", 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  double solo_last_s = 0.0;
  for (std::size_t i = 0; i < rider.landmarks.size(); ++i) {
    const Passage& at = rider.landmarks[i];
    const double solo_s = alone_again && i < alone_again->landmarks.size() ? alone_again->landmarks[i].time_s : no_value;
    if (at.distance_m > last.distance_m && at.time_s > last.time_s)
      stretches.push_back({last.name, at.name, last.distance_m, at.distance_m, at.time_s, at.power_W,
                           at.time_s - last.time_s, at.pedal_J - last.pedal_J, at.saved_J - last.saved_J,
                           at.alone_J - last.alone_J, at.sheltered_s - last.sheltered_s, at.wbal_J, solo_s - solo_last_s});
    last = at;
    solo_last_s = solo_s;
  }
  return stretches;
}

std::vector<StretchOfRide> stretches_of_ride(const Scenario& scenario, const RideResult& result) {
  std::vector<StretchOfRide> stretches;
  std::vector<double> time_s, saved_J;
  for (std::size_t r = 0; r < result.riders.size(); ++r) {
    const std::vector<StretchRidden> ridden = stretches_of(result.riders[r], nullptr);
    for (std::size_t k = 0; k < ridden.size(); ++k) {
      const StretchRidden& s = ridden[k];
      if (k == stretches.size()) {
        const double rise_m = scenario.road.elevation_m(s.to_m) - scenario.road.elevation_m(s.from_m);
        stretches.push_back({s.from, s.to, s.from_m, s.to_m, rise_m / (s.to_m - s.from_m), 0.0, r, s.saved_W()});
        time_s.push_back(0.0);
        saved_J.push_back(0.0);
      }
      time_s[k] += s.time_s;
      saved_J[k] += s.saved_J;
      if (s.saved_W() > stretches[k].most_W) stretches[k].most = r, stretches[k].most_W = s.saved_W();
    }
  }
  for (std::size_t k = 0; k < stretches.size(); ++k) stretches[k].saved_W = saved_J[k] / time_s[k];
  return stretches;
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
