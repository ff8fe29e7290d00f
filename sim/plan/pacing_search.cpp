#include "plan/pacing_search.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/pacing_ride.hpp"

namespace leewheel {

namespace {

constexpr double unrest_sPW =
    0.03;  // of two plans about as fast, the one with smaller steps: a watt of change is worth this (assumed)
constexpr int rounds_of_exchange = 12, exchanges_a_round = 12;
constexpr double unlimited_J = 1e12;

SectionCosts costs_of(const Scenario& solo, const std::vector<double>& cuts, double even_W, const PacingSettings& settings) {
  SectionCosts costs;
  const double step = settings.step_W;
  const long lowest = std::max(1L, std::lround(std::ceil((1.0 - settings.most_easier) * even_W / step)));
  const long highest = std::lround(std::floor((1.0 + settings.most_harder) * even_W / step));
  for (long k = lowest; k <= highest; ++k) costs.power_W.push_back(static_cast<double>(k) * step);
  Scenario tireless = solo;
  tireless.riders[0].w_prime_J = unlimited_J;
  std::vector<PacedRide> rides(costs.power_W.size());
  tbb::parallel_for(std::size_t{0}, rides.size(), [&](std::size_t p) {
    rides[p] = ride_timed(tireless, cuts, std::vector<double>(cuts.size() - 1, costs.power_W[p]));
  });
  costs.time_s.assign(cuts.size() - 1, std::vector<double>(rides.size(), std::numeric_limits<double>::infinity()));
  costs.work_J = costs.time_s;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k)
    for (std::size_t p = 0; p < rides.size(); ++p) {
      if (!rides[p].finished) continue;
      costs.time_s[k][p] = rides[p].passed_s[k + 1] - rides[p].passed_s[k];
      costs.work_J[k][p] = rides[p].pedal_J[k + 1] - rides[p].pedal_J[k];
    }
  return costs;
}

PacingBounds bounds_of(const Scenario& solo, const PacedRide& even, double even_W, const PacingSettings& settings) {
  PacingBounds bounds;
  const Strength fresh = solo.riders[0].strength();
  for (std::size_t k = 0; k + 1 < even.passed_s.size(); ++k)
    bounds.strength.push_back(solo.ride.fatigue ? tired_strength(fresh, 0.5 * (even.passed_s[k] + even.passed_s[k + 1]))
                                                : fresh);
  bounds.law = solo.ride.recovery_law;
  bounds.reserve_J = reserve_J(fresh, settings);
  bounds.calm_s = settings.calm_s;
  bounds.calm_W = even_W;
  bounds.begins_s = even.passed_s;
  return bounds;
}

std::vector<double> powers_of(const SectionCosts& costs, const std::vector<std::size_t>& steps) {
  std::vector<double> powers;
  for (const std::size_t step : steps) powers.push_back(costs.power_W[step]);
  return powers;
}

bool calm(const Course& course, const std::vector<double>& powers, std::size_t first) {
  for (std::size_t k = first; k < powers.size(); ++k)
    if (course.bounds.begins_s[k] < course.bounds.calm_s && powers[k] > course.bounds.calm_W) return false;
  return true;
}

/// What the exchanges make small: time, and a little for every watt of change.
double burden_s(const PacedRide& ride, const std::vector<double>& powers) {
  double change_W = 0.0;
  for (std::size_t k = 1; k < powers.size(); ++k) change_W += std::abs(powers[k] - powers[k - 1]);
  return ride.time_s + unrest_sPW * change_W;
}

struct Exchange {
  std::size_t up, down;  // the same: one section alone goes up
  double hoped_s;
};

/// A step more here against one less there, the most promising by the tables first.
std::vector<Exchange> exchanges(const Course& course, const std::vector<double>& powers, std::size_t first) {
  const double step = course.costs.power_W.size() > 1 ? course.costs.power_W[1] - course.costs.power_W[0] : 0.0;
  const auto time_s = [&](std::size_t k, double power) {
    const auto p = static_cast<std::ptrdiff_t>(std::lround((power - course.costs.power_W.front()) / step));
    if (p < 0 || p >= static_cast<std::ptrdiff_t>(course.costs.power_W.size()))
      return std::numeric_limits<double>::infinity();
    return course.costs.time_s[k][static_cast<std::size_t>(p)];
  };
  std::vector<Exchange> list;
  for (std::size_t up = first; up < powers.size(); ++up) {
    const double gained_s = time_s(up, powers[up]) - time_s(up, powers[up] + step);
    for (std::size_t down = first; down < powers.size(); ++down) {
      const double lost_s = up == down ? 0.0 : time_s(down, powers[down] - step) - time_s(down, powers[down]);
      if (std::isfinite(gained_s) && std::isfinite(lost_s)) list.push_back({up, down, gained_s - lost_s});
    }
  }
  std::stable_sort(list.begin(), list.end(), [](const Exchange& a, const Exchange& b) { return a.hoped_s > b.hoped_s; });
  return list;
}

/// True if one of the most promising exchanges made the ride better within the reserve; the best of them is taken.
bool exchange_once(const Course& course, std::vector<double>& powers, PacedRide& ride, std::size_t first, double floor_J) {
  const double step = course.costs.power_W.size() > 1 ? course.costs.power_W[1] - course.costs.power_W[0] : 0.0;
  std::vector<std::vector<double>> tries;
  for (const Exchange& exchange : exchanges(course, powers, first)) {
    if (exchange.hoped_s < -1.0) break;
    std::vector<double> changed = powers;
    changed[exchange.up] += step;
    if (exchange.down != exchange.up) changed[exchange.down] -= step;
    // What a single step up would cost is known well enough not to ride it in vain.
    const double spent_J =
        exchange.up == exchange.down ? step * (ride.passed_s[exchange.up + 1] - ride.passed_s[exchange.up]) : 0.0;
    if (!calm(course, changed, first) || spent_J > 2.0 * (ride.wbal_least_J - floor_J) + step * 60.0) continue;
    tries.push_back(std::move(changed));
    if (tries.size() == exchanges_a_round) break;
  }
  std::vector<PacedRide> rides(tries.size());
  tbb::parallel_for(std::size_t{0}, tries.size(),
                    [&](std::size_t t) { rides[t] = ride_timed(course.solo, course.cuts, tries[t]); });
  bool better = false;
  for (std::size_t t = 0; t < tries.size(); ++t) {
    if (!keeps_reserve(rides[t], tries[t], course.solo.riders[0].strength(), floor_J) ||
        burden_s(rides[t], tries[t]) >= burden_s(ride, powers) - 1e-3)
      continue;
    ride = rides[t];
    powers = tries[t];
    better = true;
  }
  return better;
}

}  // namespace

double reserve_J(const Strength& fresh, const PacingSettings& settings) {
  return std::max(settings.reserve_share, empty_share) * fresh.w_prime_J;
}

Course course_of(const Scenario& solo, const std::vector<double>& cuts, double even_W, const PacingSettings& settings) {
  Course course{solo, cuts, {}, {}};
  const PacedRide even = ride_timed(course.solo, cuts, std::vector<double>(cuts.size() - 1, even_W));
  course.costs = costs_of(course.solo, cuts, even_W, settings);
  course.bounds = bounds_of(solo, even, even_W, settings);
  return course;
}

std::vector<double> best_powers_from(const Course& course, const std::vector<double>& begun, double start_J) {
  const std::size_t first = begun.size();
  const double floor_J = std::min(course.bounds.reserve_J, start_J);
  PacingBounds bounds = course.bounds;
  std::vector<double> powers;
  PacedRide ride{};
  for (int round = 0; round < 8; ++round) {  // the sweep's W' and the ride's differ by little: ask for that much more
    const std::vector<std::size_t> steps = fastest_steps(course.costs, bounds, first, start_J);
    if (steps.empty()) return {};
    powers = begun;
    for (const double power : powers_of(course.costs, steps)) powers.push_back(power);
    ride = ride_timed(course.solo, course.cuts, powers);
    // On a day of other strength the beginning is ridden already, whatever it cost.
    if (first > 0) return powers;
    if (keeps_reserve(ride, powers, course.solo.riders[0].strength(), floor_J)) break;
    bounds.reserve_J += std::max(wbal_level_J, 1.2 * (course.bounds.reserve_J - ride.wbal_least_J));
  }
  for (int round = 0; round < rounds_of_exchange && exchange_once(course, powers, ride, first, floor_J); ++round) {
  }
  return powers;
}

}  // namespace leewheel
