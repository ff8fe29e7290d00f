#include "leewheel/road_notes.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <numeric>

#include "leewheel/air.hpp"
#include "leewheel/ride_facts.hpp"
#include "leewheel/wheel_worth.hpp"
#include "leewheel/wind_outlook.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

namespace {

constexpr double least_critical_power_W = 40.0, most_critical_power_W = 600.0;
constexpr double rows_m = 50.0;  // apart, along the road
constexpr double steepest_over_m = 100.0;

std::size_t in_the_middle(const RidersAlone& alone) {
  std::vector<std::size_t> by_time(alone.time_s.size());
  std::iota(by_time.begin(), by_time.end(), std::size_t{0});
  std::stable_sort(by_time.begin(), by_time.end(),
                   [&](std::size_t a, std::size_t b) { return alone.time_s[a] < alone.time_s[b]; });
  return by_time[by_time.size() / 2];
}

/// One rider alone on the road without plan, gusts and stops.
Scenario one_rider(const Scenario& scenario) {
  Scenario one = alone(scenario, in_the_middle(ride_each_alone(scenario)));
  one.plans.assign(1, {});
  one.wind.gusts = Gusts::off;
  one.tactics.effort_wobble = 0.0;
  return surveyed(std::move(one));
}

RideResult ridden(Scenario one, double critical_power_W) {
  one.riders[0].critical_power_W = critical_power_W;
  return ride_to_end(one, {.notes_debts = false, .notes_laws = false});
}

/// The critical power with which the plan takes that time; 0 where none does. Halves the interval.
double strength_for(const Scenario& one, double wished_s) {
  double low_W = least_critical_power_W, high_W = most_critical_power_W;
  const auto late_s = [&](double critical_power_W) {
    const RiderResult rider = ridden(one, critical_power_W).riders[0];
    return rider.finished ? rider.finish_time_s - wished_s : 1e9;
  };
  if (late_s(high_W) > 0.0 || late_s(low_W) < 0.0) return 0.0;
  double middle_W = 0.0;
  for (int halving = 0; halving < 24; ++halving) {
    middle_W = 0.5 * (low_W + high_W);
    const double late = late_s(middle_W);
    if (std::abs(late) < 0.2 * wished_within_s) break;
    (late > 0.0 ? low_W : high_W) = middle_W;
  }
  return middle_W;
}

NotesStrength told(const Scenario& one, double wished_s, double critical_power_W) {
  const RideResult result = ridden(one, critical_power_W);
  NotesStrength s{wished_s, critical_power_W};
  s.time_s = result.riders[0].finish_time_s;
  s.mean_power_W = result.riders[0].mean_power_W;
  const RideFacts facts = facts_of(one, result);
  for (const StretchRidden& stretch : facts.riders[0].stretches) {
    s.arrive_s.push_back(stretch.arrive_s);
    s.power_W.push_back(stretch.power_W());
  }
  return s;
}

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

/// Means over the rows of a stretch, weighted by the time from one row to the next.
void look_along(const Scenario& one, const Outlook& outlook, double gap_m, NotesStretch& s) {
  double time_s = 0.0, alone_J = 0.0, saved_J = 0.0, open_m = 0.0, all_m = 0.0;
  s.headwind_mps = s.crosswind_mps = 0.0;
  for (std::size_t k = 0; k + 1 < outlook.rows.size(); ++k) {
    const OutlookRow& row = outlook.rows[k];
    if (row.distance_m < s.where.from_m || row.distance_m >= s.where.to_m) continue;
    const double for_s = outlook.rows[k + 1].time_s - row.time_s, for_m = outlook.rows[k + 1].distance_m - row.distance_m;
    const WheelWorth wheel = wheel_at(one, row, gap_m);
    time_s += for_s, all_m += for_m;
    alone_J += std::max(0.0, wheel.power_W) * for_s, saved_J += wheel.saved_W * for_s;
    s.headwind_mps += row.head_mps * for_s, s.crosswind_mps += std::abs(row.from_left_mps) * for_s;
    if (open(row.exposure_left) && open(row.exposure_right)) open_m += for_m;
  }
  if (time_s <= 0.0 || all_m <= 0.0) return;
  s.headwind_mps /= time_s, s.crosswind_mps /= time_s, s.open_share = open_m / all_m;
  s.speed_mps = (s.where.to_m - s.where.from_m) / time_s;
  s.wheel_saves_W = saved_J / time_s;
  s.wheel_saves_percent = alone_J > 0.0 ? 100.0 * saved_J / alone_J : 0.0;
}

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
    s.left_s = result.riders[0].finish_time_s - part.arrive_s;
    stretches.push_back(s);
  }
  return stretches;
}

Scenario with_wind(Scenario one, NotesWind::Kind kind) {
  const auto change = [&](ForecastPoint& at) {
    if (kind == NotesWind::Kind::none) at.speed_mps = 0.0, at.gust_mps.reset();
    if (kind == NotesWind::Kind::half_more) {
      at.speed_mps *= 1.5;
      if (at.gust_mps) *at.gust_mps *= 1.5;
    }
    if (kind == NotesWind::Kind::turned_round) at.from_rad += std::numbers::pi;
  };
  std::for_each(one.wind.forecast.begin(), one.wind.forecast.end(), change);
  for (WindStation& station : one.wind.stations) std::for_each(station.forecast.begin(), station.forecast.end(), change);
  return one;
}

NotesWind under(const Scenario& one, NotesWind::Kind kind, double as_forecast_s, double gap_m) {
  const Scenario other = with_wind(one, kind);
  NotesWind wind{kind};
  wind.later_s = ride_to_end(other, {.notes_debts = false, .notes_laws = false}).riders[0].finish_time_s - as_forecast_s;
  const std::vector<NotesStretch> stretches = stretches_along(other, gap_m);
  const auto best = std::max_element(stretches.begin(), stretches.end(), [](const NotesStretch& a, const NotesStretch& b) {
    return a.wheel_saves_W < b.wheel_saves_W;
  });
  wind.best_stretch = static_cast<std::size_t>(best - stretches.begin());
  wind.wheel_saves_W = best->wheel_saves_W;
  return wind;
}

bool is_windy(const Scenario& scenario) {
  return std::any_of(scenario.wind.forecast.begin(), scenario.wind.forecast.end(),
                     [](const ForecastPoint& at) { return at.speed_mps > 0.0; });
}

}  // namespace

std::vector<double> usual_times_s(const Scenario& scenario) {
  std::vector<double> times_s = ride_each_alone(scenario).time_s;
  std::sort(times_s.begin(), times_s.end());
  std::vector<double> wished_s;
  for (const double time_s : {times_s.front(), times_s[times_s.size() / 2], times_s.back()}) {
    const double round_s = std::max(300.0, 300.0 * std::round(time_s / 300.0));
    if (wished_s.empty() || wished_s.back() != round_s) wished_s.push_back(round_s);
  }
  return wished_s;
}

RoadNotes road_notes(const Scenario& scenario, const std::vector<double>& times_s,
                     const std::function<bool(double)>& go_on) {
  assert(!times_s.empty());
  RoadNotes notes;
  notes.wheel_gap_m = WheelPlace{}.gap_m;
  Scenario one = one_rider(scenario);
  notes.mass_kg = one.riders[0].total_mass_kg(), notes.drag_area_m2 = one.riders[0].drag_area_hoods_m2;
  std::vector<std::size_t> order(times_s.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return times_s[a] < times_s[b]; });
  notes.middle = order[order.size() / 2];
  const auto stopped = [&](double share) { return go_on && !go_on(share); };

  // The plan is found for a rider who would take the middle time at a constant effort of critical power, then ridden by all.
  one.riders[0].target_effort = 1.0;
  const double about_W = strength_for(one, times_s[notes.middle]);
  if (about_W <= 0.0) return notes.why_not = "no rider from 40 to 600 W takes the middle of the wished times", notes;
  one.riders[0].critical_power_W = about_W;
  if (stopped(0.1)) return notes;
  notes.pacing = best_pacing(one, 0);
  if (!notes.pacing.found) return notes.why_not = notes.pacing.why_not, notes;
  if (stopped(0.7)) return notes;
  one.plans[0] = notes.pacing.steps(about_W);
  for (const double wished_s : times_s) {
    const double critical_power_W = strength_for(one, wished_s);
    if (critical_power_W <= 0.0)
      return notes.why_not = "a wished time would take less than 40 or more than 600 W of critical power", notes;
    notes.strengths.push_back(told(one, wished_s, critical_power_W));
    if (stopped(0.7 + 0.2 * static_cast<double>(notes.strengths.size()) / static_cast<double>(times_s.size()))) return notes;
  }
  one.riders[0].critical_power_W = notes.strengths[notes.middle].critical_power_W;
  notes.stretches = stretches_along(one, notes.wheel_gap_m);
  if (is_windy(one))
    for (const auto kind : {NotesWind::Kind::none, NotesWind::Kind::half_more, NotesWind::Kind::turned_round})
      notes.winds.push_back(under(one, kind, notes.strengths[notes.middle].time_s, notes.wheel_gap_m));
  notes.found = true;
  return notes;
}

}  // namespace leewheel
