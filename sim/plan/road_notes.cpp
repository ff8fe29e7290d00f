#include "leewheel/road_notes.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <numeric>

#include "leewheel/ride_facts.hpp"
#include "leewheel/wheel_worth.hpp"
#include "plan/group_score.hpp"
#include "plan/road_notes_parts.hpp"

namespace leewheel {

namespace {

constexpr double never_s = 1e9;  // the finish is not reached

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

double time_with(const Scenario& one, double critical_power_W) {
  const RiderResult rider = ridden(one, critical_power_W).riders[0];
  return rider.finished ? rider.finish_time_s : never_s;
}

/// The critical power with which the plan takes that time; 0 where none does. Halves the interval.
double strength_for(const Scenario& one, double wished_s) {
  double low_W = least_critical_power_W, high_W = most_critical_power_W;
  const auto late_s = [&](double critical_power_W) { return time_with(one, critical_power_W) - wished_s; };
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

/// That time asks for a strength that nobody has.
RoadNotes no_notes(RoadNotes notes, const Scenario& one, double wished_s) {
  notes.not_possible_s = wished_s;
  notes.possible_from_s = time_with(one, most_critical_power_W);
  const double to_s = time_with(one, least_critical_power_W);
  if (to_s < never_s) notes.possible_to_s = to_s;
  return notes;
}

/// Who of the scenario is quickest alone, at critical power all the way.
void find_quickest(Scenario all, RoadNotes& notes) {
  all.plans.assign(all.riders.size(), {});
  all.wind.gusts = Gusts::off;
  for (RiderSettings& rider : all.riders) rider.target_effort = 1.0;
  const RidersAlone alone = ride_each_alone(all);
  const auto first = std::min_element(alone.time_s.begin(), alone.time_s.end()) - alone.time_s.begin();
  if (!alone.finishes(static_cast<std::size_t>(first))) return;
  notes.quickest = all.riders[static_cast<std::size_t>(first)].name;
  notes.quickest_s = alone.time_s[static_cast<std::size_t>(first)];
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
  Scenario planned = one;
  planned.riders[0].critical_power_W = critical_power_W;
  s.walks = low_gear_ramps(planned, 0);
  s.way = coming_alone(planned, 0);
  std::erase_if(s.walks, [](const LowGearRamp& ramp) { return !ramp.walks(); });
  return s;
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
  for (std::size_t k = 0; k < stretches.size(); ++k)
    if (!stretches[k].descent() && stretches[k].wheel_saves_W > wind.wheel_saves_W)
      wind.best_stretch = k, wind.wheel_saves_W = stretches[k].wheel_saves_W;
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
  find_quickest(scenario, notes);
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
  if (about_W <= 0.0) return no_notes(notes, one, times_s[notes.middle]);
  one.riders[0].critical_power_W = about_W;
  if (stopped(0.1)) return notes;
  notes.pacing = best_pacing(one, 0);
  if (!notes.pacing.found) return notes.why_not = notes.pacing.why_not, notes;
  if (stopped(0.7)) return notes;
  one.plans[0] = notes.pacing.steps(about_W);
  for (const double wished_s : times_s) {
    const double critical_power_W = strength_for(one, wished_s);
    if (critical_power_W <= 0.0) return no_notes(notes, one, wished_s);
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
