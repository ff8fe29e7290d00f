#include "plan/pacing_days.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>

#include "plan/pacing_ride.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

constexpr double heeded_share = 0.2;  // of what may be spent: a bad day is acted upon before less is left (assumed)
constexpr double marked_share =
    0.75;  // a mark of the plan at this share of the time to where one should decide will do (assumed)

constexpr double rise_asked_s[] = {30.0, 60.0, 120.0, 180.0, 300.0};
constexpr double heart_settled_s = 600.0;          // the rise is over by then
constexpr double least_rise = 0.01;                // of the highest rate: less is not worth a line (assumed)
constexpr double heart_time_constant_share = 0.4;  // by which the time constant may be longer or shorter (from memory)

/// The foot of a wall that holds the place or ends shortly before it: on top of it legs and heart tell of the wall, not of the day.
double before_wall_m(const Road& road, double place_m) {
  constexpr double wall_grade = 0.12, over_m = 100.0, breath_m = 300.0;  // assumed
  double foot_m = place_m;
  for (double at_m = place_m; at_m >= std::max(0.0, foot_m - breath_m); at_m -= 10.0)
    if (road.elevation_m(at_m + 0.5 * over_m) - road.elevation_m(at_m - 0.5 * over_m) >= wall_grade * over_m) foot_m = at_m;
  const double hundred_m = 100.0 * std::floor((foot_m - 0.5 * over_m) / 100.0 + 1e-9);
  return foot_m < place_m && hundred_m >= 0.5 * place_m ? hundred_m : place_m;
}

}  // namespace

double place_to_decide_m(const Course& course, const RiddenPlan& plan, const PacingSettings& settings) {
  const Scenario bad_day = with_strength(course.solo, 1.0 + settings.bad_day_share);
  const double heed_J =
      (settings.reserve_share + heeded_share * (1.0 - settings.reserve_share)) * bad_day.riders[0].w_prime_J;
  double at_s = 0.0;
  const double at_m = first_place_m(bad_day, course.layout.cuts_m, plan.powers_W, [&](double now_s, double wbal_J) {
    at_s = now_s;
    return now_s >= 0.25 * plan.ride.time_s || wbal_J < heed_J;
  });
  const double length_m = course.solo.road.length_m();
  if (at_m < 0.0 || at_m >= length_m) return 0.25 * length_m;
  double mark_m = 0.0;
  for (const std::size_t k : course.layout.begins)
    if (k > 0 && course.layout.cuts_m[k] <= at_m && plan.ride.passed_s[k] >= marked_share * at_s)
      mark_m = course.layout.cuts_m[k];
  const double hundred_m = 100.0 * std::floor(at_m / 100.0);
  return before_wall_m(course.solo.road, mark_m > 0.0 ? mark_m : hundred_m > 0.0 ? hundred_m : 0.5 * at_m);
}

void cut_at(double place_m, Course& course, std::vector<double>& powers_W) {
  Layout& layout = course.layout;
  const auto after = std::lower_bound(layout.cuts_m.begin(), layout.cuts_m.end(), place_m);
  if (after != layout.cuts_m.end() && *after == place_m) return;
  const auto k = after - layout.cuts_m.begin();
  const auto repeat = [k](auto& values) {
    const auto value = values[static_cast<std::size_t>(k - 1)];
    values.insert(values.begin() + k, value);
  };
  layout.cuts_m.insert(after, place_m);
  repeat(layout.falls);
  repeat(layout.lever);
  repeat(course.held);
  repeat(course.bounds.strength);
  repeat(course.bounds.floor_J);
  repeat(powers_W);
  for (std::size_t& begins : layout.begins)
    if (begins >= static_cast<std::size_t>(k)) ++begins;
}

DayOutcome outcome_on(const Course& course, const std::vector<double>& powers_W, std::size_t first, double critical_share) {
  const std::vector<double>& cuts_m = course.layout.cuts_m;
  const Scenario day = with_strength(course.solo, critical_share);
  const double critical_W = day.riders[0].critical_power_W, empty_J = empty_share * day.riders[0].w_prime_J;
  const PacedRide kept = ride_timed(day, cuts_m, powers_W);
  DayOutcome outcome{critical_W, kept.time_s, kept.wbal_least_J, -1.0, kept.time_s, kept.wbal_least_J, 0.0};
  if (kept.wbal_least_J < empty_J)
    outcome.empty_at_m = first_place_m(day, cuts_m, powers_W, [&](double, double wbal_J) { return wbal_J < empty_J; });
  const bool bad = critical_share < 1.0;
  outcome.change_W =
      most_change_W(course, day, powers_W, first, bad ? -0.5 * critical_W : 0.0, bad ? 0.0 : 0.5 * critical_W);
  const PacedRide adjusted = ride_timed(day, cuts_m, changed_from(course, powers_W, first, outcome.change_W));
  outcome.adjusted_s = adjusted.time_s;
  outcome.adjusted_least_J = adjusted.wbal_least_J;
  return outcome;
}

std::vector<HeartRise> heart_rise(const Scenario& solo, double power_W) {
  Scenario as_planned = solo;
  as_planned.plans = {{PlanStep{0.0, power_W / as_planned.riders[0].critical_power_W}}};
  Ride ride(as_planned, {.notes_debts = false, .notes_laws = false});
  double start = 0.0, now = 0.0;
  std::vector<double> seen;
  watch(ride, {0.0, [](const Ride& r) { return r.time_s() < heart_settled_s; }}, [&](const RideView& view) {
    now = view.now.heart_rate_share[0];
    if (view.ride.tick() == 0) start = now;
    if (seen.size() < std::size(rise_asked_s) && view.time_s() >= rise_asked_s[seen.size()] - 1e-9) seen.push_back(now);
  });
  const bool settled = ride.end() == RideEnd::riding && now > start + least_rise;
  std::vector<HeartRise> rise;
  for (std::size_t k = 0; settled && k < seen.size(); ++k) {
    const double left = std::clamp(1.0 - (seen[k] - start) / (now - start), 0.0, 1.0);
    rise.push_back({rise_asked_s[k], 1.0 - std::pow(left, 1.0 / (1.0 + heart_time_constant_share)), 1.0 - left,
                    1.0 - std::pow(left, 1.0 / (1.0 - heart_time_constant_share))});
  }
  return rise;
}

void find_range(Pacing& pacing, const Scenario& lived, int days) {
  std::vector<double> time_s(static_cast<std::size_t>(days)), gain_s(time_s.size());
  const std::vector<double> whole{0.0, lived.road.length_m()};
  tbb::parallel_for(std::size_t{0}, time_s.size(), [&](std::size_t d) {
    Scenario day = on_day(lived, draw_day(lived, lived.ride.seed, d));
    day.ride.seed += d;  // legs are unsteady in another way each day, for both plans alike
    time_s[d] = ride_timed(day, pacing.cuts_m, pacing.powers_W).time_s;
    gain_s[d] = ride_timed(day, whole, {pacing.even_power_W}).time_s - time_s[d];
  });
  std::sort(time_s.begin(), time_s.end());
  std::sort(gain_s.begin(), gain_s.end());
  if (time_s.empty()) time_s = {pacing.time_s}, gain_s = {pacing.even_time_s - pacing.time_s};
  const std::size_t low = time_s.size() / 10, high = time_s.size() - 1 - low;
  pacing.time_low_s = time_s[low], pacing.time_high_s = time_s[high];
  pacing.gain_low_s = gain_s[low], pacing.gain_s = gain_s[gain_s.size() / 2], pacing.gain_high_s = gain_s[high];
}

}  // namespace leewheel
