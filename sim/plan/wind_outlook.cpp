#include "leewheel/wind_outlook.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

double between(const std::vector<double>& x, const std::vector<double>& y, double at) {
  const auto next = std::upper_bound(x.begin(), x.end(), at);
  if (next == x.begin()) return y.front();
  if (next == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(next - x.begin());
  return y[i - 1] + (at - x[i - 1]) / (x[i] - x[i - 1]) * (y[i] - y[i - 1]);
}

/// The crests, by their distance, behind which the wind of the time of arrival may turn round.
std::vector<double> steep_leewards_m(const Scenario& scenario, const Wind& wind, const Coming& coming, double frozen_s) {
  std::vector<RoadHill> hills = scenario.wind.hills;
  if (scenario.wind.hills_from_road)
    for (const RoadHill& hill : hills_of_road(scenario.road)) hills.push_back(hill);
  std::vector<double> crests_m;
  for (const RoadHill& hill : hills) {
    const double when_s = frozen_s >= 0.0 ? frozen_s : between(coming.distance_m, coming.time_s, hill.crest_m);
    const Eigen::Vector2d open = wind.open_enu_mps(hill.crest_m, when_s);
    if (open.norm() > 0.0 && may_separate(hill, std::atan2(open.x(), open.y()))) crests_m.push_back(hill.crest_m);
  }
  return crests_m;
}

}  // namespace

Coming coming_at_speed(const Scenario& scenario, double speed_mps) {
  const double length_m = scenario.road.length_m();
  return {{0.0, length_m}, {0.0, length_m / speed_mps}};
}

Coming coming_alone(const Scenario& scenario, std::size_t rider) {
  constexpr double every_s = 5.0;
  Coming coming{{0.0}, {0.0}};
  const auto note = [&](const Ride& ride) {
    const double distance_m = ride.first_distance_m();
    if (distance_m <= coming.distance_m.back()) return;
    coming.distance_m.push_back(std::min(distance_m, scenario.road.length_m()));
    coming.time_s.push_back(ride.time_s());
  };
  Ride ride(alone(scenario, rider));
  const auto go_on = [&](const Ride& now) {
    if (now.time_s() >= coming.time_s.back() + every_s) note(now);
    return true;
  };
  watch_with(ride, {0.0, go_on}, {});
  note(ride);
  return coming;
}

Outlook wind_outlook(const Scenario& scenario, const Coming& coming, double spacing_m, double frozen_s) {
  const Road& road = scenario.road;
  const Wind wind(scenario.wind, road);
  WindSettings without_belts = scenario.wind;
  without_belts.windbreaks.clear();
  const Wind hills(without_belts, road);
  Outlook outlook{"", scenario.wind.gusty(), {}, steep_leewards_m(scenario, wind, coming, frozen_s)};
  const auto steps = static_cast<std::size_t>(std::ceil(road.length_m() / spacing_m - 1e-9));
  for (std::size_t k = 0; k <= steps; ++k) {
    OutlookRow row{};
    const double x = row.distance_m = std::min(road.length_m(), static_cast<double>(k) * spacing_m);
    row.time_s = between(coming.distance_m, coming.time_s, x);
    const double before_m = std::max(0.0, x - 50.0), after_m = std::min(road.length_m(), x + 50.0);
    const double took_s =
        between(coming.distance_m, coming.time_s, after_m) - between(coming.distance_m, coming.time_s, before_m);
    row.speed_mps = took_s > 0.0 ? (after_m - before_m) / took_s : 0.0;
    const double when_s = frozen_s >= 0.0 ? frozen_s : row.time_s;
    const Eigen::Vector2d open = wind.open_enu_mps(x, when_s), local = wind.mean_enu_mps(x, when_s);
    row.open_mps = open.norm();
    row.open_from_rad = std::atan2(-open.x(), -open.y());
    if (row.open_from_rad < 0.0) row.open_from_rad += rad_from_deg(360.0);
    row.land_share = row.open_mps > 0.0 ? local.norm() / row.open_mps : 1.0;
    row.hill_share = row.open_mps > 0.0 ? hills.mean_enu_mps(x, when_s).norm() / row.open_mps : 1.0;
    const RoadWind air = wind.at(x, local);
    const ApparentWind met = apparent_wind(row.speed_mps, air);
    row.rider_mps = std::hypot(air.along_mps, air.cross_mps);
    row.head_mps = -air.along_mps;
    row.from_left_mps = -air.cross_mps;
    row.yaw_rad = met.yaw_rad;
    row.air_mps = met.speed_mps;
    row.gust_intensity = wind.gust_intensity(x, when_s);
    const double gust = three_second_gust(row.gust_intensity);
    row.gust_mps = gust * row.rider_mps;
    row.gust_least_mps = std::max(0.0, 2.0 - gust) * row.rider_mps;
    const double side_Npm2ps2 =
        0.5 * scenario.wind.side_area_m2 *
        air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, road.elevation_m(x)));
    row.side_force_N = side_Npm2ps2 * std::abs(met.cross_mps) * met.speed_mps;
    const ApparentWind in_gust = apparent_wind(row.speed_mps, {gust * air.along_mps, gust * air.cross_mps});
    row.gust_side_force_N = side_Npm2ps2 * std::abs(in_gust.cross_mps) * in_gust.speed_mps;
    row.exposure_left = road.exposure_left(std::min(x, road.length_m() - 0.5 * road.spacing_m()));
    row.exposure_right = road.exposure_right(std::min(x, road.length_m() - 0.5 * road.spacing_m()));
    outlook.rows.push_back(row);
  }
  return outlook;
}

}  // namespace leewheel
