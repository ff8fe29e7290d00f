/// Days of the ensemble, ridden.

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

#include <atomic>
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

Scenario drawn_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  Scenario day = on_day(scenario, draw_day(scenario, seed, number));
  day.ride.seed = mix64(mix64(seed) ^ number ^ scenario.ride.seed);
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

bool ride_days(const Scenario& asked, std::uint64_t seed, std::vector<RunOutcome>& runs,
               const std::function<bool(std::size_t done)>& after_each) {
  const Scenario scenario = surveyed(asked);
  std::vector<std::size_t> to_do;
  for (std::size_t n = 0; n < runs.size(); ++n)
    if (!runs[n].done) to_do.push_back(n);
  std::size_t done = runs.size() - to_do.size();
  std::atomic<bool> go_on = true;
  std::mutex one_at_a_time;
  tbb::parallel_for(
      std::size_t{0}, to_do.size(),
      [&](std::size_t k) {
        if (!go_on) return;
        RunOutcome run = ride_day(scenario, seed, to_do[k]);
        const std::lock_guard lock(one_at_a_time);
        runs[to_do[k]] = std::move(run);
        if (!after_each(++done)) go_on = false;
      },
      tbb::simple_partitioner{});
  return done == runs.size();
}

}  // namespace leewheel
