#include "plan/pacing_tables.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

namespace leewheel {

namespace {

constexpr int single_powers = 14, pair_powers = 7;
constexpr double unlimited_J = 1e12;
constexpr double never_s = std::numeric_limits<double>::infinity();

/// All pairs of what is tried for the levers of each instruction.
template <class TriedFor>  // lever and number of powers to powers
Choices pairs_of(const Course& course, const TriedFor& tried_for) {
  const Layout& layout = course.layout;
  Choices choices(layout.sections());
  for (std::size_t i = 0; i < layout.begins.size(); ++i) {
    const std::size_t first = layout.begins[i], end = layout.end_of(i), lever = layout.lever[first];
    std::size_t other = lever;
    for (std::size_t k = first; k < end; ++k)
      if (layout.lever[k] != lever) other = layout.lever[k];
    const bool is_rule = other != lever;
    const std::vector<double> one = tried_for(lever, is_rule);
    const std::vector<double> two = is_rule ? tried_for(other, is_rule) : std::vector<double>{0.0};
    for (std::size_t k = first; k < end; ++k)
      for (const double p : one)
        for (const double q : two) choices[k].push_back(layout.lever[k] == lever ? p : q);
  }
  return choices;
}

/// One ride: every other instruction from `first` on by that choice, if it has so many.
std::vector<double> varied(const Layout& layout, std::vector<double> powers_W, const Choices& choices, std::size_t first,
                           std::size_t choice) {
  for (std::size_t i = first; i < layout.begins.size(); i += 2)
    for (std::size_t k = layout.begins[i]; k < layout.end_of(i); ++k)
      if (choice < choices[k].size()) powers_W[k] = choices[k][choice];
  return powers_W;
}

/// Enters what the ride with that choice tells of its instructions; the last section bears what changes in the next one.
void enter(SectionCosts& costs, const Layout& layout, const PacedRide& base, const PacedRide& ride, std::size_t first,
           std::size_t choice) {
  for (std::size_t i = first; i < layout.begins.size(); i += 2) {
    const std::size_t begin = layout.begins[i], end = layout.end_of(i);
    const std::size_t next = i + 1 < layout.begins.size() ? layout.end_of(i + 1) : end;
    if (choice >= costs.power_W[begin].size() || ride.reached < next || base.reached < next) continue;
    const auto later = [&](const std::vector<double>& of, const std::vector<double>& was) {
      return of[next] - of[end] - (was[next] - was[end]);
    };
    for (std::size_t k = begin; k < end; ++k) {
      costs.time_s[k][choice] = ride.passed_s[k + 1] - ride.passed_s[k];
      costs.work_J[k][choice] = ride.pedal_J[k + 1] - ride.pedal_J[k];
    }
    costs.time_s[end - 1][choice] += later(ride.passed_s, base.passed_s);
    costs.work_J[end - 1][choice] += later(ride.pedal_J, base.pedal_J);
    if (costs.time_s[end - 1][choice] <= 0.0) costs.time_s[end - 1][choice] = never_s;
  }
}

}  // namespace

Choices whole_range(const Course& course, const PacingSettings& settings) {
  return pairs_of(course, [&](std::size_t lever, bool is_rule) {
    const int count = is_rule ? pair_powers : single_powers;
    const double least = std::ceil(course.bounds.least_W[lever] / settings.step_W - 1e-9);
    const double most = std::max(least, std::floor(course.bounds.most_W[lever] / settings.step_W + 1e-9));
    std::vector<double> powers;
    for (int p = 0; p < count; ++p)
      powers.push_back(settings.step_W * std::round(least + (most - least) * p / (count - 1.0)));
    return powers;
  });
}

Choices about(const Course& course, const std::vector<double>& powers_W, double step_W) {
  return pairs_of(course, [&](std::size_t lever, bool is_rule) {
    const auto k = std::find(course.layout.lever.begin(), course.layout.lever.end(), lever) - course.layout.lever.begin();
    const int reach = is_rule ? 1 : 2;
    std::vector<double> powers;
    for (int steps = -reach; steps <= reach; ++steps)
      powers.push_back(std::max(0.0, powers_W[static_cast<std::size_t>(k)] + steps * step_W));
    return powers;
  });
}

SectionCosts costs_about(const Course& course, const std::vector<double>& powers_W, const Choices& choices) {
  Scenario tireless = course.solo;
  tireless.riders[0].w_prime_J = unlimited_J;
  std::size_t tried = 0;
  for (const std::vector<double>& powers : choices) tried = std::max(tried, powers.size());
  const std::size_t begins = std::min<std::size_t>(2, course.layout.begins.size());
  std::vector<PacedRide> rides(begins * tried);
  PacedRide base;
  tbb::parallel_for(std::size_t{0}, rides.size() + 1, [&](std::size_t r) {
    const std::vector<double> powers =
        r == rides.size() ? powers_W : varied(course.layout, powers_W, choices, r / tried, r % tried);
    (r == rides.size() ? base : rides[r]) = ride_timed(tireless, course.layout.cuts_m, powers);
  });
  SectionCosts costs{choices, {}, {}};
  for (const std::vector<double>& powers : choices) costs.time_s.emplace_back(powers.size(), never_s);
  costs.work_J = costs.time_s;
  for (std::size_t r = 0; r < rides.size(); ++r) enter(costs, course.layout, base, rides[r], r / tried, r % tried);
  return costs;
}

}  // namespace leewheel
