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

}  // namespace

double place_to_decide_m(const Course& course, const std::vector<double>& powers, const PacedRide& ride,
                         const PacingSettings& settings) {
  const Scenario bad_day = with_strength(course.solo, 1.0 + settings.bad_day_share);
  const double heed_J =
      (settings.reserve_share + heeded_share * (1.0 - settings.reserve_share)) * bad_day.riders[0].w_prime_J;
  double at_s = 0.0;
  const double at_m = first_place_m(bad_day, course.cuts, powers, [&](double now_s, double wbal_J) {
    at_s = now_s;
    return now_s >= 0.25 * ride.time_s || wbal_J < heed_J;
  });
  const double length_m = course.cuts.back();
  if (at_m < 0.0 || at_m >= length_m) return course.cuts[1];
  const auto k =
      static_cast<std::size_t>(std::upper_bound(course.cuts.begin(), course.cuts.end(), at_m) - course.cuts.begin()) - 1;
  const double before_m = course.cuts[k], to_m = course.cuts[k + 1];
  if (k > 0 && ride.passed_s[k] >= marked_share * at_s) return before_m;
  const double place_m = std::max(100.0 * std::floor(at_m / 100.0), before_m + settings.least_section_m);
  return to_m - place_m >= settings.least_section_m || k == 0 ? std::min(place_m, 0.5 * (before_m + to_m)) : before_m;
}

DayOutcome outcome_on(const Course& course, const std::vector<double>& powers, std::size_t first, double critical_share,
                      std::vector<double>& changed) {
  Course day = course;
  day.solo = with_strength(course.solo, critical_share);
  for (Strength& s : day.bounds.strength) s.critical_power_W *= critical_share;
  const PacedRide kept = ride_timed(day.solo, day.cuts, powers);
  DayOutcome outcome{
      day.solo.riders[0].critical_power_W, kept.time_s, kept.wbal_least_J, -1.0, kept.time_s, kept.wbal_least_J, 0.0};
  if (kept.wbal_least_J < empty_share * day.solo.riders[0].w_prime_J)
    outcome.empty_at_m = first_place_m(day.solo, day.cuts, powers, [&](double, double wbal_J) {
      return wbal_J < empty_share * day.solo.riders[0].w_prime_J;
    });
  changed = best_powers_from(day, {powers.begin(), powers.begin() + static_cast<std::ptrdiff_t>(first)}, kept.wbal_J[first]);
  if (changed.empty()) changed = powers;
  const PacedRide adjusted = ride_timed(day.solo, day.cuts, changed);
  outcome.adjusted_s = adjusted.time_s;
  outcome.adjusted_least_J = adjusted.wbal_least_J;
  double weight = 0.0;
  for (std::size_t k = first; k < powers.size(); ++k) {
    const double time_s = adjusted.passed_s[k + 1] - adjusted.passed_s[k];
    outcome.change_W += (changed[k] - powers[k]) * time_s;
    weight += time_s;
  }
  if (weight > 0.0) outcome.change_W /= weight;
  return outcome;
}

std::vector<HeartRise> heart_rise(const Course& course, double power_W) {
  Scenario as_planned = course.solo;
  as_planned.plans = {{PlanStep{0.0, power_W / as_planned.riders[0].critical_power_W}}};
  Ride ride(as_planned, {.notes_debts = false});
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

void find_range(Pacing& pacing, const Course& course, const std::vector<double>& powers, int days) {
  const std::vector<double> even(powers.size(), pacing.even_power_W);
  std::vector<double> time_s(static_cast<std::size_t>(days)), gain_s(time_s.size());
  tbb::parallel_for(std::size_t{0}, time_s.size(), [&](std::size_t d) {
    const Scenario day = on_day(course.solo, draw_day(course.solo, course.solo.ride.seed, d));
    time_s[d] = ride_timed(day, course.cuts, powers).time_s;
    gain_s[d] = ride_timed(day, course.cuts, even).time_s - time_s[d];
  });
  std::sort(time_s.begin(), time_s.end());
  std::sort(gain_s.begin(), gain_s.end());
  if (time_s.empty()) time_s = {pacing.time_s}, gain_s = {pacing.even_time_s - pacing.time_s};
  const std::size_t low = time_s.size() / 10, high = time_s.size() - 1 - low;
  pacing.time_low_s = time_s[low], pacing.time_high_s = time_s[high];
  pacing.gain_low_s = gain_s[low], pacing.gain_high_s = gain_s[high];
}

}  // namespace leewheel
