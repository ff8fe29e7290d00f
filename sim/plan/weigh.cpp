#include "leewheel/weigh.hpp"

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

#include <atomic>
#include <mutex>

#include "leewheel/ensemble.hpp"
#include "plan/weigh_judge.hpp"
#include "plan/weigh_reason.hpp"
#include "plan/weigh_ride.hpp"
#include "plan/weigh_solo.hpp"

namespace leewheel {

namespace {

/// The first day is the scenario as it stands, the others are drawn.
Scenario day_of(const Scenario& scenario, const WeighSettings& settings, std::size_t number) {
  return number == 0 ? scenario : drawn_day(scenario, settings.seed, number);
}

/// What the same mean power, and the same time, would be alone; without both there is nothing to compare.
void lay_beside(const SoloCurve& curve, WayRidden& ridden) {
  if (!ridden.reached) return;
  const std::optional<double> time_s = curve.time_s(ridden.driving_W()), power_W = curve.power_W(ridden.time_s);
  ridden.reached = time_s && power_W;
  ridden.alone_time_s = time_s.value_or(0.0);
  ridden.alone_power_W = power_W.value_or(0.0) - ridden.slowing_W;
}

/// All ways of one rider on one day of which the ride as planned is known.
WaysOfDay ride_ways(const Scenario& day, const WeighSettings& settings, const TimedStretch& stretch, std::size_t rider,
                    const WayRidden& planned) {
  WaysOfDay ways;
  ways[as_planned] = planned;
  for (std::size_t way = 1; way < ways_to_ride; ++way) {
    if (way == by_oneself) continue;
    Scenario told = day;
    told.instructions.push_back(
        {static_cast<std::uint32_t>(rider), settings.from_m, settings.to_m, static_cast<Choice>(way - 1)});
    ways[way] = ride_stretch(told, stretch, {settings.to_finish, rider})[rider];
  }
  const Scenario solo = solo_at_hour(day, rider, stretch, planned.comes_at_s);
  WayRidden& by_self = ways[by_oneself] = ride_stretch(solo, stretch, {settings.to_finish})[0];
  if (!by_self.reached) return ways;
  SoloCurve curve(solo, stretch, by_self.power_W);
  for (const WayRidden& one : ways) {
    if (!one.reached || one.driving_W() <= 0.0) continue;
    curve.look_near_power(one.driving_W());
    curve.look_near_time(one.time_s);
  }
  for (WayRidden& one : ways) lay_beside(curve, one);
  by_self.alone_time_s = by_self.time_s;  // nobody is sooner than alone by being alone
  by_self.alone_power_W = by_self.power_W;
  return ways;
}

/// Runs the tasks on the threads the caller allows. Each counts as done when it is; after a stop no further one begins.
class Tasks {
 public:
  explicit Tasks(const std::function<bool(std::size_t done)>& after_each) : after_each_(after_each) {}

  template <class Task>
  void run(std::size_t count, const Task& task) {
    tbb::parallel_for(
        std::size_t{0}, count,
        [&](std::size_t k) {
          if (!go_on_) return;
          task(k);
          const std::lock_guard lock(one_at_a_time_);
          if (!after_each_(++done_)) go_on_ = false;
        },
        tbb::simple_partitioner{});
  }

 private:
  const std::function<bool(std::size_t done)>& after_each_;
  std::atomic<bool> go_on_ = true;
  std::mutex one_at_a_time_;
  std::size_t done_ = 0;
};

}  // namespace

std::size_t steps_of_weighing(const WeighSettings& settings) { return settings.runs * (1 + settings.riders.size()); }

std::vector<Weighing> weigh(const Scenario& asked_scenario, const WeighSettings& settings,
                            const std::function<bool(std::size_t done)>& after_each) {
  const Scenario scenario = surveyed(asked_scenario);
  const std::size_t asked = settings.riders.size();
  std::vector<std::vector<WayRidden>> planned(settings.runs);  // by day and rider: one ride for all who are asked for
  std::vector<std::vector<WaysOfDay>> ridden(asked, std::vector<WaysOfDay>(settings.runs));
  std::vector<std::vector<char>> is_done(asked, std::vector<char>(settings.runs, 0));
  const TimedStretch stretch = timed_stretch(scenario, settings.from_m, settings.to_m);
  Tasks tasks(after_each);
  tasks.run(settings.runs, [&](std::size_t number) {
    planned[number] = ride_stretch(day_of(scenario, settings, number), stretch, {settings.to_finish});
  });
  tasks.run(settings.runs * asked, [&](std::size_t k) {
    const std::size_t number = k / asked, who = k % asked, rider = settings.riders[who];
    ridden[who][number] = ride_ways(day_of(scenario, settings, number), settings, stretch, rider, planned[number][rider]);
    is_done[who][number] = 1;
  });
  std::vector<Weighing> answers;
  for (std::size_t who = 0; who < asked; ++who) {
    std::vector<WaysOfDay> days;
    for (std::size_t n = 0; n < settings.runs; ++n)
      if (is_done[who][n]) days.push_back(ridden[who][n]);
    answers.push_back(judged(days));
    const std::size_t rider = answers.back().rider = settings.riders[who];
    if (is_done[who][0])
      answers.back().reason = reason_of(solo_at_hour(scenario, rider, stretch, planned[0][rider].comes_at_s), stretch);
  }
  return answers;
}

}  // namespace leewheel
