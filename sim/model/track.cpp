#include "model/track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leewheel {

namespace {

constexpr double climbing_from_grade = 0.03, climbing_blend = 0.02;  // a rider sits up between 3 and 5 % (assumed)
constexpr double grade_window_m = 40.0;                              // slope as a rider feels it (assumed)
constexpr double downhill_grade = -0.005;                            // from here on a descent has a limit of speed (assumed)
constexpr double level_limit_mps = 40.0;                             // no limit that a rider would meet
constexpr double easing_effective_grade = 0.015;                     // "clearly easier" (assumed)
constexpr double easing_window_m = 150.0;                            // for so long (assumed)
constexpr double easing_speed_mps = 6.0, easing_area_per_kg = 0.34 / 82.0;  // of the rider whose grade counts the wind too

double mean_slope(const Road& road, double from_m, double to_m) {
  return (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m);
}

}  // namespace

TrackCells::TrackCells(const Scenario& scenario)
    : cells(scenario.road.profile().elevation_m.size()), rules(cells.size()), slope(cells.size()) {
  const Road& road = scenario.road;
  const TacticsSettings& t = scenario.tactics;
  const double length_m = road.length_m();
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const double x = std::min(static_cast<double>(k) * road.spacing_m(), length_m);
    RoadCell& cell = cells[k];
    rules[k] = {lane_at(scenario, x), closed_to_traffic(scenario, x), room_for_two(scenario, x), 0.0f};
    cell.elevation_m = road.profile().elevation_m[k];
    const double inside = std::min(x, length_m - 0.5 * road.spacing_m());
    cell.rolling_cos = static_cast<float>(road.rolling(x) * slope_cosine(road.grade(inside)));
    slope[k] =
        mean_slope(road, std::max(0.0, x - 0.5 * grade_window_m), std::min(length_m, x + 0.5 * grade_window_m) + 1e-9);
    cell.climbing = static_cast<float>(std::clamp((slope[k] - climbing_from_grade) / climbing_blend, 0.0, 1.0));
    const double bend = std::abs(road.curvature_1pm(x));
    cell.speed_limit_mps = static_cast<float>(std::min(slope[k] < downhill_grade ? t.descent_speed_mps : level_limit_mps,
                                                       std::sqrt(t.cornering_mps2 / std::max(bend, 1e-6))));
    cell.half_density = static_cast<float>(
        0.5 * air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, cell.elevation_m)));
  }
  plan_braking(t, road.spacing_m());
  look_for_room(road.spacing_m());
}

Track::Track(const Scenario& scenario, const Wind& wind)
    : Track(scenario, wind, std::make_shared<const TrackCells>(scenario)) {}

Track::Track(const Scenario& scenario, const Wind& wind, std::shared_ptr<const TrackCells> cells)
    : shared_(std::move(cells)), cells_(shared_->cells.data()), rules_(shared_->rules.data()) {
  const double spacing_m = scenario.road.spacing_m();
  per_m_ = 1.0 / spacing_m;
  last_ = static_cast<double>(shared_->cells.size() - 2);
  length_m_ = scenario.road.length_m();
  find_easing(effective_grade(scenario, wind), spacing_m);
}

/// The grade at each grid point with the wind's resistance at the start in it.
std::vector<double> Track::effective_grade(const Scenario& scenario, const Wind& wind) const {
  std::vector<double> grade(shared_->cells.size());
  Wind::Moment start;
  wind.look_at(0.0, start);
  for (std::size_t k = 0; k < grade.size(); ++k) {
    const double x = std::min(static_cast<double>(k) * scenario.road.spacing_m(), length_m_);
    const RoadWind air = wind.at(x, wind.mean_enu_mps(x, start));
    const double along = easing_speed_mps - air.along_mps;
    grade[k] = shared_->slope[k] + cells_[k].half_density * easing_area_per_kg * along * std::hypot(along, air.cross_mps) /
                                       scenario.gravity_mps2;
  }
  return grade;
}

/// Limits of speed leave room to brake for what comes.
void TrackCells::plan_braking(const HandlingSettings& handling, double spacing_m) {
  for (std::size_t k = cells.size() - 1; k-- > 0;) {
    const double next = cells[k + 1].speed_limit_mps;
    cells[k].speed_limit_mps =
        std::min(cells[k].speed_limit_mps,
                 static_cast<float>(std::sqrt(next * next + 2.0 * handling.comfort_braking_mps2 * spacing_m)));
  }
}

/// Where road and wind together next ask clearly less, for a while.
void Track::find_easing(const std::vector<double>& effective_grade, double spacing_m) {
  const std::size_t n = effective_grade.size();
  std::vector<double> sum(n + 1, 0.0);
  for (std::size_t k = 0; k < n; ++k) sum[k + 1] = sum[k] + effective_grade[k];
  const auto window = static_cast<std::size_t>(std::max(1.0, easing_window_m / spacing_m));
  const auto mean_from = [&](std::size_t k) {
    const std::size_t end = std::min(n, k + window);
    return (sum[end] - sum[k]) / static_cast<double>(end - k);
  };
  easing_at_m_.resize(n);
  std::vector<double> least_ahead(n + 1,
                                  std::numeric_limits<double>::infinity());  // spares a search that would find nothing
  for (std::size_t k = n; k-- > 0;) least_ahead[k] = std::min(least_ahead[k + 1], mean_from(k));
  std::size_t found = n - 1;
  for (std::size_t k = 0; k < n; ++k) {
    const double here = mean_from(k > window ? k - window : 0);
    if (least_ahead[k + 1] > here - easing_effective_grade)
      found = n - 1;
    else if (found <= k || mean_from(found) > here - easing_effective_grade)
      for (found = k + 1; found < n - 1 && mean_from(found) > here - easing_effective_grade; found += 10) {
      }
    found = std::min(found, n - 1);
    easing_at_m_[k] = static_cast<float>(static_cast<double>(found) * spacing_m);
  }
}

void TrackCells::look_for_room(double spacing_m) {
  const auto stride = static_cast<std::size_t>(std::max(1.0, std::round(road_look_m / spacing_m)));
  const auto last = rules.size() - 2;  // what `Track::rules` gives beyond the road
  for (std::size_t k = last + 1; k-- > 0;) {
    RoadRules& here = rules[k];
    const float beyond = k + stride > last ? (rules[last].room_for_two ? static_cast<float>(never_m) : 0.0f)
                                           : rules[k + stride].two_abreast_for_m;
    here.two_abreast_for_m = here.room_for_two ? static_cast<float>(road_look_m) + beyond : 0.0f;
  }
}

}  // namespace leewheel
