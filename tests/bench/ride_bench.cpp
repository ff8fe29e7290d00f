/// Speed, and a hash of the state beside it so that a faster wrong answer is seen. Never part of the test run.
/// The target `bench_row` runs it and appends to results.csv, see README.md.

#include <benchmark/benchmark.h>

#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/ensemble.hpp"
#include "ride_cases.hpp"
#include "support/scenes.hpp"
#include "yardstick.hpp"

using namespace leewheel;

namespace {

std::string hash_label(std::uint64_t hash) {
  char text[24];
  std::snprintf(text, sizeof text, "state %016llx", static_cast<unsigned long long>(hash));
  return text;
}

/// Steps of one ride that is well under way; the hash is that of the state at 60 s, the same on every run.
void ride_steps(benchmark::State& state, const Scenario& scenario) {
  const std::size_t riders = scenario.riders.size();
  std::optional<Ride> ride(scenario);
  while (ride->time_s() < bench::under_way_s) ride->step();
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

template <const char* name>
void ride(benchmark::State& state) {
  ride_steps(state, bench::ride_case(name, static_cast<std::size_t>(state.range(0))));
}

/// Days of an ensemble, drawn, prepared and ridden to the end.
void days(benchmark::State& state) {
  const Scenario scenario = bench::day_case(static_cast<std::size_t>(state.range(0)));
  std::uint64_t day = 0;
  double rider_steps = 0.0;
  for (auto _ : state)
    for (const RiderOutcome& rider : ride_day(scenario, 1, day++).riders) rider_steps += rider.time_s / scenario.ride.step_s;
  state.counters["rider_steps"] = benchmark::Counter(rider_steps, benchmark::Counter::kIsRate);
}

void yardstick(benchmark::State& state) {
  bench::Yardstick riders(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) riders.step();
  benchmark::DoNotOptimize(riders.sum());
  state.counters["rider_steps"] =
      benchmark::Counter(static_cast<double>(state.iterations() * state.range(0)), benchmark::Counter::kIsRate);
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
  const Scenario s = bench::ride_case("steady", 1);
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

// One word for the program's own words and for those of `results.csv`: "steady/12".
#define LEEWHEEL_RIDE(name)             \
  constexpr char name##_case[] = #name; \
  BENCHMARK(ride<name##_case>)->Name(#name)
LEEWHEEL_RIDE(steady)->Arg(1)->Arg(12)->Arg(200)->Arg(5000);
LEEWHEEL_RIDE(race)->Arg(200)->Arg(5000);
LEEWHEEL_RIDE(mixed)->Arg(5000);
LEEWHEEL_RIDE(constant_wind)->Arg(200);
LEEWHEEL_RIDE(gusty_wind)->Arg(200);
LEEWHEEL_RIDE(gusty_wind_on_hills)->Arg(200);
BENCHMARK(days)->Arg(12);
BENCHMARK(yardstick)->Arg(12)->Arg(200)->Arg(5000);
BENCHMARK(wakes_alone)->Arg(1)->Arg(12)->Arg(200)->Arg(5000);
BENCHMARK(wind_alone);
BENCHMARK_MAIN();
