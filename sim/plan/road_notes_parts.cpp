#include "plan/road_notes_parts.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/air.hpp"
#include "leewheel/heat.hpp"
#include "leewheel/ride_facts.hpp"
#include "leewheel/wheel_worth.hpp"
#include "leewheel/wind_outlook.hpp"

namespace leewheel {

namespace {

constexpr double rows_m = 50.0;  // apart, along the road
constexpr double steepest_over_m = 100.0;

void look_at_slope(const Road& road, NotesStretch& s) {
  const double length_m = s.where.to_m - s.where.from_m, over_m = std::min(steepest_over_m, length_m);
  s.grade = (road.elevation_m(s.where.to_m) - road.elevation_m(s.where.from_m)) / length_m;
  s.steepest_grade = -1.0;
  for (double at_m = s.where.from_m; at_m + over_m <= s.where.to_m + 1e-6; at_m += road.spacing_m()) {
    const double grade = (road.elevation_m(at_m + over_m) - road.elevation_m(at_m)) / over_m;
    if (grade > s.steepest_grade) s.steepest_grade = grade, s.steepest_at_m = at_m;
  }
}

bool open(Exposure land) { return land == Exposure::open_ridge || land == Exposure::open_slope; }

WheelWorth wheel_at(const Scenario& one, const OutlookRow& row, double gap_m) {
  const WheelPlace place{.grade = one.road.grade(row.distance_m),
                         .headwind_mps = row.head_mps,
                         .gap_m = gap_m,
                         .turbulence_intensity = row.gust_intensity,
                         .density_kgpm3 = air_density_kgpm3(
                             air_at_altitude(one.air, one.air_station_altitude_m, one.road.elevation_m(row.distance_m))),
                         .rolling = one.road.rolling(row.distance_m),
                         .gravity_mps2 = one.gravity_mps2};
  return wheel_worth_at_speed(one.riders[0], place, one.wake, row.speed_mps);
}

/// Sums over the rows of a stretch, weighted by the time from one row to the next.
struct Along {
  double time_s = 0.0, way_m = 0.0, open_m = 0.0, head_m = 0.0, across_m = 0.0;
  double wheel_s = 0.0, alone_J = 0.0, saved_J = 0.0;  ///< off descents
  double falling_m = 0.0;                              ///< of the descent that goes on
};

void add_row(const Scenario& one, const OutlookRow& row, const OutlookRow& next, double gap_m, Along& sum, NotesStretch& s) {
  const double for_s = next.time_s - row.time_s, for_m = next.distance_m - row.distance_m;
  sum.time_s += for_s, sum.way_m += for_m;
  sum.head_m += row.head_mps * for_s, sum.across_m += std::abs(row.from_left_mps) * for_s;
  if (open(row.exposure_left) && open(row.exposure_right)) sum.open_m += for_m;
  const double rise_m = one.road.elevation_m(next.distance_m) - one.road.elevation_m(row.distance_m);
  if (is_descent(rise_m / for_m, row.speed_mps)) {
    sum.falling_m += for_m;
    if (sum.falling_m > s.falls_m) s.falls_m = sum.falling_m, s.falls_from_m = next.distance_m - sum.falling_m;
    return;
  }
  sum.falling_m = 0.0;
  const WheelWorth wheel = wheel_at(one, row, gap_m);
  sum.wheel_s += for_s, sum.alone_J += std::max(0.0, wheel.power_W) * for_s, sum.saved_J += wheel.saved_W * for_s;
}

void look_along(const Scenario& one, const Outlook& outlook, double gap_m, NotesStretch& s) {
  Along sum;
  for (std::size_t k = 0; k + 1 < outlook.rows.size(); ++k)
    if (outlook.rows[k].distance_m >= s.where.from_m && outlook.rows[k].distance_m < s.where.to_m)
      add_row(one, outlook.rows[k], outlook.rows[k + 1], gap_m, sum, s);
  if (sum.time_s <= 0.0 || sum.way_m <= 0.0) return;
  s.headwind_mps = sum.head_m / sum.time_s, s.crosswind_mps = sum.across_m / sum.time_s;
  s.open_share = sum.open_m / sum.way_m;
  s.speed_mps = (s.where.to_m - s.where.from_m) / sum.time_s;
  if (sum.wheel_s <= 0.0) return;
  s.wheel_saves_W = sum.saved_J / sum.wheel_s;
  s.wheel_saves_percent = sum.alone_J > 0.0 ? 100.0 * sum.saved_J / sum.alone_J : 0.0;
}

}  // namespace

std::vector<NotesStretch> stretches_along(const Scenario& one, double gap_m) {
  const Outlook outlook = wind_outlook(one, coming_alone(one, 0), rows_m);
  const RideResult result = ride_to_end(one, {.notes_debts = false, .notes_laws = false});
  const std::vector<StretchRidden> parts = facts_of(one, result).riders[0].stretches;
  std::vector<NotesStretch> stretches;
  for (const RoadStretch& where : stretches_of(one.road)) {
    NotesStretch s{where};
    look_at_slope(one.road, s);
    look_along(one, outlook, gap_m, s);
    const StretchRidden& part = parts.at(stretches.size());
    s.effort_share = part.power_W() / result.riders[0].mean_power_W;
    s.wbal_share = part.wbal_J / one.riders[0].w_prime_J;
    s.felt_C = felt_temperature_C(one, where.to_m, part.arrive_s);
    s.left_s = result.riders[0].finish_time_s - part.arrive_s;
    stretches.push_back(s);
  }
  return stretches;
}

}  // namespace leewheel
