/// Days of the ensemble, ridden.

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

#include <atomic>
#include <exception>
#include <mutex>

#include "leewheel/chance.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/ride_facts.hpp"
#include "plan/group_tally.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {
constexpr double look_every_s = 10.0;  // how often a run looks at who is with whom
}

std::uint64_t day_seed(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  return mix64(mix64(seed) ^ number ^ scenario.ride.seed);
}

Scenario drawn_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  Scenario day = on_day(scenario, draw_day(scenario, seed, number));
  day.ride.seed = day_seed(scenario, seed, number);
  return day;
}

RunOutcome ride_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  const Scenario day = drawn_day(scenario, seed, number);
  GroupTally groups(scenario.road);
  Ride ride(day, {.notes_debts = false, .notes_laws = false});
  const RideResult result = watch(ride, {look_every_s}, groups);
  RunOutcome run;
  for (const RiderResult& rider : result.riders)
    run.riders.push_back({rider.finished, rider.finish_time_s, rider.wbal_end_J, rider.ledger.saved_J, 0, -1.0});
  for (const Event& event : result.events) {
    if (!comes_off(event)) continue;
    RiderOutcome& rider = run.riders[event.riders.front()];
    if (rider.drops++ == 0) rider.dropped_at_m = event.distance_m;
  }
  groups.into(run);
  run.done = true;
  return run;
}

bool ride_days(const Scenario& asked, std::uint64_t seed, const std::vector<std::size_t>& numbers,
               const std::function<bool(std::size_t, RunOutcome&&)>& take,
               const std::function<RunOutcome(const Scenario&, std::uint64_t, std::uint64_t)>& ride) {
  const Scenario scenario = surveyed(asked);
  std::size_t taken = 0;
  std::atomic<bool> go_on = true;
  std::mutex one_at_a_time;
  tbb::parallel_for(
      std::size_t{0}, numbers.size(),
      [&](std::size_t k) {
        if (!go_on) return;
        RunOutcome run;
        try {
          run = ride(scenario, seed, numbers[k]);
        } catch (const std::exception& error) {
          run = {};
          run.failed = error.what();
        }
        const std::lock_guard lock(one_at_a_time);
        ++taken;
        if (!take(numbers[k], std::move(run))) go_on = false;
      },
      tbb::simple_partitioner{});
  return taken == numbers.size();
}

}  // namespace leewheel
