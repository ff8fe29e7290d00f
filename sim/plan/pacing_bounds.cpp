/// What a plan on one course must keep to.

#include <algorithm>

#include "plan/pacing_search.hpp"

namespace leewheel {

namespace {

constexpr double held_below = 0.8;  // of even power: mean power downhill where something else holds the rider (assumed)
constexpr double early_until = 2.0 / 3.0;  // of the time that is not spent downhill

/// Floors of W' at the sections' ends, none above what even power leaves there.
std::vector<double> floors_J(const Course& course, const PacedRide& even) {
  double to_ride_s = 0.0, ridden_s = 0.0;
  const auto counted_s = [&](std::size_t k) {
    return course.layout.falls[k] ? 0.0 : even.passed_s[k + 1] - even.passed_s[k];
  };
  for (std::size_t k = 0; k < course.layout.sections(); ++k) to_ride_s += counted_s(k);
  std::vector<double> floors;
  for (std::size_t k = 0; k < course.layout.sections(); ++k) {
    ridden_s += counted_s(k);
    const bool early = ridden_s < early_until * to_ride_s;
    floors.push_back(early ? std::max(course.reserve_J, std::min(course.early_J, even.wbal_J[k + 1])) : course.reserve_J);
  }
  return floors;
}

/// Share of a lever's time in which bends or the speed limit hold the rider.
double held_time_share(const Course& course, const PacedRide& even, std::size_t lever) {
  double held_s = 0.0, all_s = 0.0;
  for (std::size_t k = 0; k < course.layout.sections(); ++k) {
    if (course.layout.lever[k] != lever) continue;
    const double lasts_s = even.passed_s[k + 1] - even.passed_s[k];
    all_s += lasts_s;
    if (course.held[k]) held_s += lasts_s;
  }
  return held_s / all_s;
}

void bound_powers(Course& course, const PacedRide& even, const PacingSettings& settings) {
  const Layout& layout = course.layout;
  PacingBounds& bounds = course.bounds;
  bounds.least_W.assign(layout.levers(), settings.easiest_share * course.even_W);
  bounds.most_W.assign(layout.levers(), settings.hardest_share * course.even_W);
  const double calm_s = calm_for_s(even.time_s, settings);
  for (std::size_t i = 0; i < layout.begins.size(); ++i)
    for (std::size_t k = layout.begins[i]; k < layout.end_of(i); ++k) {
      double &least = bounds.least_W[layout.lever[k]], &most = bounds.most_W[layout.lever[k]];
      if (even.passed_s[layout.begins[i]] < calm_s) most = std::min(most, course.even_W);
      if (course.held[k]) {
        const bool mostly = held_time_share(course, even, layout.lever[k]) > 0.5;
        most = std::min(most, (mostly ? settings.held_share : 1.0) * course.solo.riders[0].critical_power_W);
      }
      if (layout.falls[k]) least = 0.0;
    }
}

}  // namespace

double reserve_J(const Strength& fresh, const PacingSettings& settings) {
  return std::max(settings.reserve_share, empty_share) * fresh.w_prime_J;
}

Course course_of(const Scenario& solo, const Layout& layout, double even_W, double reserve_J,
                 const PacingSettings& settings) {
  const Strength fresh = solo.riders[0].strength();
  Course course{solo, layout, even_W, reserve_J, std::max(reserve_J, settings.early_share * fresh.w_prime_J), {}, {}};
  const PacedRide even = ride_timed(solo, layout.cuts_m, std::vector<double>(layout.sections(), even_W));
  double heat_share = 0.0;
  for (std::size_t k = 0; k < layout.sections(); ++k) {
    const double lasts_s = even.passed_s[k + 1] - even.passed_s[k];
    Strength left = solo.ride.fatigue ? tired_strength(fresh, 0.5 * (even.passed_s[k] + even.passed_s[k + 1])) : fresh;
    if (solo.heat.on)
      heat_share = heat_share_after(solo, heat_share, 0.5 * (layout.cuts_m[k] + layout.cuts_m[k + 1]),
                                    0.5 * (even.passed_s[k] + even.passed_s[k + 1]), lasts_s);
    left.critical_power_W *= 1.0 - heat_share;
    const double asked_J = even_W * left.critical_power_W / fresh.critical_power_W * lasts_s;
    course.held.push_back(layout.falls[k] && even.pedal_J[k + 1] - even.pedal_J[k] < held_below * asked_J);
    course.bounds.strength.push_back(left);
  }
  course.bounds.law = solo.ride.recovery_law;
  course.bounds.floor_J = floors_J(course, even);
  bound_powers(course, even, settings);
  return course;
}

}  // namespace leewheel
