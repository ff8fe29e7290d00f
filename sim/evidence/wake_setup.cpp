#include "evidence/wake_setup.hpp"

#include <algorithm>
#include <numeric>

namespace leewheel::evidence {
namespace {

constexpr double line_area_m2 = 0.23;  // time-trial posture, the rider of the line table
constexpr long most_riders = 500;

void add(WakeSetup& setup, double along_m, double across_m, double area_m2) {
  setup.along_m.push_back(along_m);
  setup.across_m.push_back(across_m);
  setup.drag_area_m2.push_back(area_m2);
}

/// Rows of 1, 2, 3 ... up to `widest` riders, then alternately one fewer, so that neighbours sit in the gaps.
void add_bunch(WakeSetup& setup, std::size_t riders, double gap_m, double spacing_m, int widest, double area_m2) {
  for (int row = 0; setup.size() < riders; ++row) {
    const int full = std::min(row + 1, row >= widest && row % 2 == 1 ? widest - 1 : widest);
    const int width = std::min(full, static_cast<int>(riders - setup.size()));
    for (int k = 0; k < width; ++k) {
      add(setup, -row * (bicycle_length_m + gap_m), (k - 0.5 * (width - 1)) * spacing_m, area_m2);
      setup.bunch_row.push_back(row + 1);
    }
  }
}

/// Each behind the one named before by a wheel gap, or at a place of its own.
void add_riders(WakeSetup& setup, const YamlValue& list, double area_m2) {
  for (const YamlValue& item : list.items()) {
    YamlMap rider(item);
    double along_m = 0.0, gap_m = 0.0, across_m = 0.0, own_area_m2 = area_m2;
    const bool by_gap = rider["gap_m"].number({-bicycle_length_m, 1000.0}, gap_m);
    rider["along_m"].number({-1e4, 1e4}, along_m);
    if (by_gap && rider["along_m"].given()) item.fault("found both along_m and gap_m, expected one of them");
    if (by_gap) along_m = setup.size() ? setup.along_m.back() - bicycle_length_m - gap_m : 0.0;
    rider["across_m"].number({-50.0, 50.0}, across_m);
    rider["drag_area_m2"].number({0.0, 20.0, true}, own_area_m2);
    add(setup, along_m, across_m, own_area_m2);
  }
  if (setup.size() == 0) list.fault("found no rider, expected at least one");
}

}  // namespace

WakeFactors factors_of(const WakeSetup& setup, const WakeLaw& law) {
  const std::size_t n = setup.size();
  std::vector<std::size_t> order(n);
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return setup.along_m[a] > setup.along_m[b]; });
  std::vector<double> along(n), across(n), area(n), factor(n), side(n);
  for (std::size_t k = 0; k < n; ++k) {
    along[k] = setup.along_m[order[k]];
    across[k] = setup.across_m[order[k]];
    area[k] = setup.drag_area_m2[order[k]];
  }
  const std::vector<double> air_along(n, setup.speed_mps - setup.wind.along_mps), air_cross(n, setup.wind.cross_mps),
      turbulence(n, setup.turbulence);
  wake_factors(law, {along, across, area, air_along, air_cross, turbulence}, {factor, side});
  WakeFactors factors{std::vector<double>(n), std::vector<double>(n)};
  for (std::size_t k = 0; k < n; ++k) {
    factors.drag[order[k]] = factor[k];
    factors.side[order[k]] = side[k];
  }
  return factors;
}

WakeSetup line_of(std::size_t riders, double gap_m, double drag_area_m2, double speed_mps, double turbulence) {
  WakeSetup setup;
  for (std::size_t i = 0; i < riders; ++i)
    add(setup, -static_cast<double>(i) * (bicycle_length_m + gap_m), 0.0, drag_area_m2);
  setup.speed_mps = speed_mps;
  setup.turbulence = turbulence;
  return setup;
}

WakeSetup read_wake_setup(YamlMap& given) {
  WakeSetup setup;
  const double area_m2 = optional(given, "drag_area_m2", {0.0, 20.0, true}, line_area_m2);
  int ways = 0;
  if (YamlMap line(given["line"]); line.given()) {
    ++ways;
    long riders = 2;
    line.require("riders", "a number of riders").whole(1, most_riders, riders);
    const double gap_m = needed(line, "gap_m", {0.0, 1000.0});
    for (long i = 0; i < riders; ++i) add(setup, -static_cast<double>(i) * (bicycle_length_m + gap_m), 0.0, area_m2);
  }
  if (YamlMap bunch(given["bunch"]); bunch.given()) {
    ++ways;
    long riders = 100, widest = 9;
    bunch.require("riders", "a number of riders").whole(1, most_riders, riders);
    bunch["widest"].whole(1, 50, widest);
    const double gap_m = needed(bunch, "gap_m", {0.0, 100.0});
    add_bunch(setup, static_cast<std::size_t>(riders), gap_m, needed(bunch, "spacing_m", {0.0, 10.0, true}),
              static_cast<int>(widest), area_m2);
  }
  if (given["riders"].given()) {
    ++ways;
    add_riders(setup, given["riders"], area_m2);
  }
  if (ways != 1) given.value().fault("expected one of line, bunch, riders");
  setup.speed_mps = needed(given, "speed_mps", {0.0, 60.0});
  setup.wind = read_wind(given);
  setup.turbulence = optional(given, "turbulence_percent", {0.0, 100.0}, 0.0) / 100.0;
  return setup;
}

}  // namespace leewheel::evidence
