#include "fuzz/ridden.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "fuzz/fuzz.hpp"

using namespace leewheel;

namespace fuzz {

namespace {

/// What must hold at every step.
class Watch {
 public:
  explicit Watch(const Scenario& scenario) : s_(scenario) {}

  void look(const RideSample& now) {
    for (std::size_t i = 0; i < s_.riders.size(); ++i) {
      check_rider(now, i);
      for (std::size_t j = i + 1; j < s_.riders.size(); ++j) check_pair(now, i, j);
    }
    last_ = now;
  }

 private:
  [[noreturn]] void fail(const std::string& what, const RideSample& now, std::size_t rider) const {
    wrong(what + ": " + s_.riders[rider].name + " at " + std::to_string(now.time_s) + " s");
  }
  void check_rider(const RideSample& now, std::size_t i) const {
    for (const SampleColumn& column : sample_columns())
      if (!std::isfinite((now.*column.values)[i])) fail(std::string(column.name) + " is a number", now, i);
    if (now.wbal_J[i] < 0.0f || now.wbal_J[i] > static_cast<float>(s_.riders[i].w_prime_J)) fail("W' in bounds", now, i);
    if (now.speed_mps[i] < 0.0f || now.power_W[i] < 0.0f) fail("speed and power are not below zero", now, i);
    if (!(now.drag_factor[i] > 0.0f)) fail("the drag factor is above zero", now, i);
    if (!last_.role.empty() && now.distance_m[i] < last_.distance_m[i] - 1e-3f) fail("nobody rolls back", now, i);
  }
  bool riding(const RideSample& sample, std::size_t i) const { return sample.role[i] != static_cast<float>(Role::finished); }
  void check_pair(const RideSample& now, std::size_t i, std::size_t j) const {
    if (last_.role.empty() || !riding(now, i) || !riding(now, j)) return;
    if (std::abs(now.lateral_m[i] - now.lateral_m[j]) >= 0.4f || std::abs(last_.lateral_m[i] - last_.lateral_m[j]) >= 0.4f)
      return;
    const double apart_m = static_cast<double>(now.distance_m[i]) - now.distance_m[j];
    if (std::abs(apart_m) - bicycle_length_m < -0.01) fail("nobody is through a wheel", now, i);
    if (apart_m * (static_cast<double>(last_.distance_m[i]) - last_.distance_m[j]) <= 0.0)
      fail("nobody goes through a rider", now, i);
  }
  const Scenario& s_;
  RideSample last_;
};

void check_books(const Scenario& scenario, const RideResult& result) {
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& rider = result.riders[i];
    if (!(rider.ledger.error() <= 1e-6))
      wrong("the energy books close to 1e-6: " + scenario.riders[i].name + " " + std::to_string(rider.ledger.error()));
    for (const double value :
         {rider.finish_time_s, rider.distance_m, rider.mean_power_W, rider.wbal_end_J, rider.wbal_least_J, rider.given_J,
          rider.received_J, rider.ledger.saved_J, rider.largest_side_force_N})
      if (!std::isfinite(value)) wrong("results are numbers: " + rider.name);
    for (const double value : rider.wbal_end_by_law_J)
      if (!std::isfinite(value)) wrong("W' by every law is a number: " + rider.name);
  }
  for (const Event& event : result.events)
    for (const double value : event.because.values)
      if (!std::isfinite(value) || !std::isfinite(event.time_s)) wrong("events are made of numbers");
}

Ridden ridden(const Scenario& scenario, double time_s, bool watched) {
  Ridden all;
  Ride ride(scenario);
  Watch watch(scenario);
  RideSample now;
  const auto every = static_cast<std::uint64_t>(std::max(1.0, std::round(1.0 / ride.step_s())));
  while (ride.end() == RideEnd::riding && ride.time_s() < time_s) {
    ride.step();
    const bool second = ride.tick() % every == 0;
    if (!watched && !second) continue;
    ride.sample(now);
    if (watched) watch.look(now);
    if (second) all.samples.push_back(now);
  }
  all.result = ride.result();
  if (watched) check_books(scenario, all.result);
  return all;
}

}  // namespace

Ridden ride_watched(const Scenario& scenario, double time_s) { return ridden(scenario, time_s, true); }
Ridden ride_unwatched(const Scenario& scenario, double time_s) { return ridden(scenario, time_s, false); }

void check_everyone_told(const Scenario& scenario, const Ridden& ridden) {
  if (ridden.samples.size() < 60) return;  // it ended before, which the result tells
  const RideSample &now = ridden.samples.back(), &before = ridden.samples[ridden.samples.size() - 30];
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    const auto role = static_cast<Role>(static_cast<int>(now.role[i]));
    if (role == Role::finished || role == Role::waiting || now.distance_m[i] > before.distance_m[i] + 0.1f) continue;
    const bool told = std::any_of(ridden.result.events.begin(), ridden.result.events.end(), [i](const Event& event) {
      return std::find(event.riders.begin(), event.riders.end(), i) != event.riders.end();
    });
    if (!told) wrong("who stands is told why: " + scenario.riders[i].name);
  }
}

void check_same(const Ridden& ridden, const Ridden& other, const std::vector<std::size_t>& from) {
  if (ridden.samples.size() != other.samples.size()) wrong("the same ride ends at the same time");
  for (std::size_t t = 0; t < ridden.samples.size(); ++t)
    for (const SampleColumn& column : sample_columns())
      for (std::size_t k = 0; k < from.size(); ++k) {
        const float here = (ridden.samples[t].*column.values)[from[k]];
        float there = (other.samples[t].*column.values)[k];
        if (column.values == &RideSample::wheel_of && there >= 0.0f)
          there = static_cast<float>(from[static_cast<std::size_t>(there)]);
        if (here != there) wrong(std::string("the same ride with riders in another order, ") + column.name);
      }
  const std::vector<Event>&events = ridden.result.events, &others = other.result.events;
  if (events.size() != others.size()) wrong("the same events with riders in another order");
  for (std::size_t k = 0; k < events.size(); ++k)
    if (events[k].kind != others[k].kind || events[k].time_s != others[k].time_s ||
        events[k].because.reason != others[k].because.reason || events[k].because.values != others[k].because.values)
      wrong("the same events with riders in another order");
}

}  // namespace fuzz
