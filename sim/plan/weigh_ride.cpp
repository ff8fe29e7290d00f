#include "plan/weigh_ride.hpp"

#include <algorithm>
#include <cmath>

#include "ride/watch.hpp"

namespace leewheel {

namespace {

/// Seconds of one rider on the stretch, by what the rider does.
struct Doing {
  double behind_s = 0.0, chased_s = 0.0, chased_J = 0.0, waited_s = 0.0;
};

bool regroups_at(const Scenario& scenario, double distance_m) {
  return std::any_of(scenario.ride.regroup_at_m.begin(), scenario.ride.regroup_at_m.end(),
                     [&](double at_m) { return std::abs(at_m - distance_m) < 1.0; });
}

void note_doing(const RideView& view, const TimedStretch& stretch, std::vector<Doing>& doing) {
  if (!view.whole_interval) return;
  for (std::size_t i = 0; i < view.riders(); ++i) {
    if (view.distance_m(i) < stretch.from_m || view.distance_m(i) >= stretch.to_m) continue;
    const Role role = view.role(i);
    doing[i].behind_s += role == Role::following || role == Role::drifting_back;
    doing[i].waited_s += role == Role::waiting;
    doing[i].chased_s += role == Role::chasing;
    if (role == Role::chasing) doing[i].chased_J += static_cast<double>(view.now.power_W[i]);
  }
}

/// The start and the finish are timed by every ride; other places are where they are asked for.
const Passage* passage_at(const RiderResult& rider, double distance_m, double length_m) {
  static const Passage start{};
  if (distance_m <= 0.0) return &start;
  if (distance_m >= length_m) return rider.finished ? &rider.landmarks.back() : nullptr;
  for (const Passage& at : rider.timing)
    if (at.distance_m == distance_m) return &at;
  return nullptr;
}

WayRidden ridden_by(const RiderResult& rider, const RiderSettings& settings, const Doing& doing, const TimedStretch& stretch,
                    double length_m) {
  WayRidden ridden;
  const Passage* const from = passage_at(rider, stretch.from_m, length_m);
  const Passage* const to = passage_at(rider, stretch.to_m, length_m);
  if (from) ridden.comes_at_s = from->time_s;
  if (rider.finished) ridden.finish_time_s = rider.finish_time_s;
  if (!from || !to) return ridden;
  ridden.reached = true;
  ridden.time_s = to->time_s - from->time_s - doing.waited_s;
  ridden.power_W = (to->pedal_J - from->pedal_J) / ridden.time_s;
  ridden.behind_s = doing.behind_s;
  ridden.chased_s = doing.chased_s;
  ridden.chased_J = doing.chased_J;
  ridden.wbal_share = to->wbal_J / settings.w_prime_J;
  return ridden;
}

}  // namespace

TimedStretch timed_stretch(const Scenario& scenario, double from_m, double to_m) {
  // Riders stand within 25 m before a regroup point, ease some way before it and are at speed again about 100 m behind it.
  constexpr double before_regroup_m = 60.0, behind_regroup_m = 100.0;
  return {from_m + (regroups_at(scenario, from_m) ? behind_regroup_m : 0.0),
          to_m - (regroups_at(scenario, to_m) ? before_regroup_m : 0.0)};
}

std::vector<WayRidden> ride_stretch(const Scenario& scenario, const TimedStretch& stretch, RideUntil until) {
  const double length_m = scenario.road.length_m();
  RideOptions options{.notes_debts = false};
  for (const double at_m : {stretch.from_m, stretch.to_m})
    if (at_m > 0.0 && at_m < length_m) options.timing_points_m.push_back(at_m);
  std::vector<Doing> doing(scenario.riders.size());
  Ride ride(scenario, options);
  WatchSettings settings{1.0};
  if (until == RideUntil::stretch_end)
    settings.go_on = [&](const Ride& now) { return now.first_distance_m() < stretch.to_m; };
  const RideResult result = watch(ride, settings, [&](const RideView& view) { note_doing(view, stretch, doing); });
  std::vector<WayRidden> ridden;
  for (std::size_t i = 0; i < result.riders.size(); ++i)
    ridden.push_back(ridden_by(result.riders[i], scenario.riders[i], doing[i], stretch, length_m));
  return ridden;
}

}  // namespace leewheel
