/// So many steps, or so many days, and nothing else between two marks: what `valgrind --tool=callgrind
/// --toggle-collect='counted*'` counts is the same on every run. Prints the hash of the state at its start, as the benchmark does.
///   leewheel_counted NAME RIDERS STEPS      leewheel_counted days RIDERS DAYS

#include <cstdio>
#include <cstdlib>
#include <exception>
#include <string>

#include "leewheel/ensemble.hpp"
#include "ride_cases.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

[[gnu::noinline]] void counted_steps(Ride& ride, long steps) {
  for (long k = 0; k < steps; ++k) ride.step();
}

/// @return rider-steps ridden
[[gnu::noinline]] double counted_days(const Scenario& scenario, long days) {
  double seconds = 0.0;
  for (long k = 0; k < days; ++k)
    for (const RiderOutcome& rider : ride_day(scenario, 1, static_cast<std::uint64_t>(k)).riders) seconds += rider.time_s;
  return seconds / scenario.ride.step_s;
}

int main(int count, char** arguments) try {
  if (count != 4) {
    std::fputs("leewheel_counted CASE RIDERS STEPS\n", stderr);
    return 2;
  }
  const std::string name = arguments[1];
  const auto riders = static_cast<std::size_t>(std::atol(arguments[2]));
  const long counted = std::atol(arguments[3]);
  if (name == "days") {
    std::printf("rider_steps %.0f\n", counted_days(bench::day_case(riders), counted));
    return 0;
  }
  Ride ride(bench::ride_case(name, riders));
  while (ride.time_s() < bench::under_way_s) ride.step();
  RideSample sample;
  ride.sample(sample);
  std::printf("state %016llx\n", static_cast<unsigned long long>(scenes::hash_of(sample)));
  counted_steps(ride, counted);
  std::printf("rider_steps %.0f\n", static_cast<double>(counted) * static_cast<double>(riders));
  return 0;
} catch (const std::exception& fault) {
  std::fprintf(stderr, "%s\n", fault.what());
  return 2;
}
