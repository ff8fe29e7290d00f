/// Speed, and a hash of the state beside it so that a faster wrong answer is seen. Never part of the test run.
/// Results are kept as results/*.csv: leewheel_bench --benchmark_format=csv

#include <benchmark/benchmark.h>

#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Hills, trees, a turning wind, everything on.
Scenario mass_start(RideKind kind, std::size_t riders) {
  Scenario s = scenes::scene(scenes::smooth_hills(20000.0), scenes::club(riders));
  s.tactics = TacticsSettings{};
  s.wind.forecast = {{0.0, 5.0, 4.0}, {1800.0, 8.0, 5.0}};
  s.ride.kind = kind;
  s.ride.start_abreast = riders > 12 ? 4 : 1;
  return s;
}

std::string hash_label(std::uint64_t hash) {
  char text[24];
  std::snprintf(text, sizeof text, "state %016llx", static_cast<unsigned long long>(hash));
  return text;
}

/// Steps of one ride that is well under way; the hash is that of the state at 60 s, the same on every run.
void ride_steps(benchmark::State& state, const Scenario& scenario) {
  const std::size_t riders = scenario.riders.size();
  std::optional<Ride> ride(scenario);
  while (ride->time_s() < 60.0) ride->step();
  RideSample sample;
  ride->sample(sample);
  state.SetLabel(hash_label(scenes::hash_of(sample)));
  for (auto _ : state) {
    ride->step();
    if (ride->end() == RideEnd::riding) continue;
    state.PauseTiming();
    ride.emplace(scenario);
    state.ResumeTiming();
  }
  state.counters["rider_steps"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * static_cast<double>(riders), benchmark::Counter::kIsRate);
}

Scenario asked(const benchmark::State& state, RideKind kind) {
  return mass_start(kind, static_cast<std::size_t>(state.range(0)));
}
void steady(benchmark::State& state) { ride_steps(state, asked(state, RideKind::steady)); }
void race(benchmark::State& state) { ride_steps(state, asked(state, RideKind::race)); }

// What wind costs: one that never changes, the same in gusts, and in gusts over the road's hills.
Scenario blown(const benchmark::State& state) {
  Scenario s = asked(state, RideKind::steady);
  s.wind.forecast = {{0.0, 8.0, 4.0}};
  return s;
}
void constant_wind(benchmark::State& state) { ride_steps(state, blown(state)); }
void gusty_wind(benchmark::State& state) {
  Scenario s = blown(state);
  s.wind.gusts = Gusts::on;
  ride_steps(state, s);
}
void gusty_wind_on_hills(benchmark::State& state) {
  Scenario s = blown(state);
  s.wind.gusts = Gusts::on;
  s.wind.hills_from_road = true;
  ride_steps(state, s);
}

void wakes_alone(benchmark::State& state) {
  const auto n = static_cast<std::size_t>(state.range(0));
  std::vector<double> x(n), y(n), area(n, 0.32), along(n, 9.0), cross(n, 2.0), turbulence(n, 0.1), factor(n), side(n);
  for (std::size_t k = 0; k < n; ++k) {
    x[k] = -2.2 * static_cast<double>(k / 2);
    y[k] = k % 2 ? 0.4 : -0.4;
  }
  const WakeLaw law;
  for (auto _ : state) {
    wake_factors(law, {x, y, area, along, cross, turbulence}, {factor, side});
    benchmark::DoNotOptimize(factor.data());
  }
  state.counters["riders"] =
      benchmark::Counter(static_cast<double>(state.iterations()) * static_cast<double>(n), benchmark::Counter::kIsRate);
}

void wind_alone(benchmark::State& state) {
  const Scenario s = mass_start(RideKind::steady, 1);
  const Wind wind(s.wind, s.road);
  const Eigen::Vector2d forecast = wind.forecast_enu_mps(100.0);
  double x_m = 0.0, sum = 0.0;
  for (auto _ : state) {
    sum += wind.at(x_m, forecast).along_mps;
    x_m = x_m < 19000.0 ? x_m + 0.7 : 0.0;
  }
  benchmark::DoNotOptimize(sum);
  state.SetItemsProcessed(state.iterations());
}

}  // namespace

BENCHMARK(steady)->Arg(1)->Arg(12)->Arg(200)->Arg(5000);
BENCHMARK(race)->Arg(200)->Arg(5000);
BENCHMARK(constant_wind)->Arg(200);
BENCHMARK(gusty_wind)->Arg(200);
BENCHMARK(gusty_wind_on_hills)->Arg(200);
BENCHMARK(wakes_alone)->Arg(1)->Arg(12)->Arg(200)->Arg(5000);
BENCHMARK(wind_alone);
BENCHMARK_MAIN();
