/// The plan of a ride report on other days.

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <mutex>

#include "leewheel/ride_report.hpp"
#include "plan/ride_report_observers.hpp"

namespace leewheel {

namespace {

constexpr std::size_t least_days_for_range = 5;  // and half of the days (assumed)

struct Day {
  RideResult ride;
  RideFacts facts;
  std::vector<double> w_prime_J;
};

Day ride_day(const Scenario& scenario, std::uint64_t number, const std::function<bool()>& go_on) {
  const Scenario other = on_day(scenario, draw_day(scenario, scenario.ride.seed, number));
  Ride ride(other, {.notes_debts = false, .notes_laws = false});
  Day day;
  day.ride = watch_with(ride, {1.0, [&](const Ride&) { return !go_on || go_on(); }}, {});
  day.facts = facts_of(other, day.ride);
  for (const RiderSettings& rider : other.riders) day.w_prime_J.push_back(rider.w_prime_J);
  return day;
}

template <class Holds>
double share_of(const std::vector<Day>& days, Holds holds) {
  return static_cast<double>(std::count_if(days.begin(), days.end(), holds)) / static_cast<double>(days.size());
}

/// Of what the days tell; nothing when too few of them do.
template <class Value>
std::optional<Middle80> range_of(const std::vector<Day>& days, Value value) {
  std::vector<double> values;
  for (const Day& day : days)
    if (const std::optional<double> v = value(day)) values.push_back(*v);
  if (values.size() < least_days_for_range || 2 * values.size() < days.size()) return std::nullopt;
  return middle_80(values);
}

bool was_dropped(const RideResult& ride, std::size_t rider) {
  return std::any_of(ride.events.begin(), ride.events.end(),
                     [&](const Event& e) { return comes_off(e) && e.riders.front() == rider; });
}

void add_stretch(RiderReport& rider, std::size_t i, std::size_t k, const std::vector<Day>& days) {
  const auto if_there = [&](auto value) {
    return range_of(days, [&](const Day& day) -> std::optional<double> {
      const std::vector<StretchRidden>& ridden = day.facts.riders[i].stretches;
      if (k >= ridden.size()) return std::nullopt;
      return value(day, ridden[k]);
    });
  };
  rider.arrives_s.push_back(if_there([](const Day&, const StretchRidden& s) { return s.arrive_s; }));
  rider.wbal_share.push_back(
      if_there([&](const Day& day, const StretchRidden& s) { return std::max(0.0, s.wbal_go_on_J) / day.w_prime_J[i]; }));
  rider.power_W.push_back(if_there([&](const Day&, const StretchRidden& s) { return s.power_W(); }));
}

void add_rider(RiderReport& rider, std::size_t i, std::size_t stretches, const std::vector<Day>& days) {
  rider.home_share = share_of(days, [&](const Day& day) { return day.ride.riders[i].finished; });
  rider.dropped_share = share_of(days, [&](const Day& day) { return was_dropped(day.ride, i); });
  const auto if_home = [&](auto value) {
    return range_of(days, [&](const Day& day) -> std::optional<double> {
      if (!day.ride.riders[i].finished) return std::nullopt;
      return value(day);
    });
  };
  rider.work_J = if_home([&](const Day& day) { return day.ride.riders[i].ledger.pedal_J; });
  rider.wbal_least_share =
      if_home([&](const Day& day) { return std::max(0.0, day.ride.riders[i].wbal_least_J) / day.w_prime_J[i]; });
  rider.mean_power_W = if_home([&](const Day& day) { return day.ride.riders[i].mean_power_W; });
  for (std::size_t k = 0; k < stretches; ++k) add_stretch(rider, i, k, days);
}

bool all_home(const Day& day) { return day.ride.end == RideEnd::all_finished; }

std::optional<Middle80> last_home(const std::vector<Day>& days) {
  return range_of(days, [](const Day& day) { return all_home(day) ? std::optional(day.ride.time_s) : std::nullopt; });
}

/// Fewer when `go_on` says so; every day has its own place, so the number of threads changes nothing but the time.
std::vector<Day> ride_days(const Scenario& asked, std::size_t count, const std::function<bool()>& go_on,
                           const std::function<void(std::size_t done)>& after_each) {
  const Scenario scenario = surveyed(asked);
  std::vector<Day> days(count);
  std::size_t done = 0;
  std::mutex progress_mutex;
  tbb::parallel_for(std::size_t{0}, count, [&](std::size_t n) {
    if (go_on && !go_on()) return;
    days[n] = ride_day(scenario, n + 1, go_on);
    const std::lock_guard lock(progress_mutex);
    ++done;
    if (after_each) after_each(done);
  });
  if (done < count || (go_on && !go_on())) days.clear();
  return days;
}

}  // namespace

std::size_t days_at_hand(const Scenario& scenario, double time_s) {
  constexpr double rider_steps = 4e6, most = 20.0;
  const double a_day = std::max(1.0, static_cast<double>(scenario.riders.size()) * time_s / scenario.ride.step_s);
  const auto days = static_cast<std::size_t>(std::min(most, rider_steps / a_day));
  return days < least_days_for_range ? 0 : days;
}

FinishRanges finish_ranges(const Scenario& scenario, std::size_t count, const std::function<bool()>& go_on) {
  const std::vector<Day> days = ride_days(scenario, count, go_on, {});
  FinishRanges ranges{days.size()};
  if (days.empty()) return ranges;
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    ranges.finish_s.push_back(range_of(days, [&](const Day& day) {
      const RiderResult& rider = day.ride.riders[i];
      return rider.finished ? std::optional(rider.finish_time_s) : std::nullopt;
    }));
  ranges.last_home_s = last_home(days);
  return ranges;
}

void add_days(RideReport& report, const Scenario& scenario, std::size_t count, const std::function<bool()>& go_on,
              const std::function<void(std::size_t done)>& after_each) {
  const std::vector<Day> days = ride_days(scenario, count, go_on, after_each);
  if (days.size() < count) return;
  report.days = count;
  if (count == 0) return;
  for (std::size_t i = 0; i < report.riders.size(); ++i) add_rider(report.riders[i], i, report.stretches.size(), days);
  report.all_home_share = share_of(days, all_home);
  report.last_home_s = last_home(days);
}

}  // namespace leewheel
