#include "plan/weigh_ride.hpp"

#include <algorithm>
#include <cmath>

#include "ride/watch.hpp"

namespace leewheel {

namespace {

/// One rider on the stretch: seconds by what the rider does, and the speeds at its two ends.
struct Doing {
  double behind_s = 0.0, chased_s = 0.0, chased_J = 0.0, waited_s = 0.0;
  double came_mps = 0.0, left_mps = 0.0;
  double last_m = -1.0, last_mps = 0.0;  ///< at the look before
};

bool waits_at(const Scenario& scenario, double distance_m) {
  const std::vector<PlannedStop> places = waiting_places(scenario.ride);
  return std::any_of(places.begin(), places.end(),
                     [&](const PlannedStop& place) { return std::abs(place.at_m - distance_m) < 1.0; });
}

void note_speeds(double distance_m, double speed_mps, const TimedStretch& stretch, Doing& doing) {
  const auto at_mark = [&](double mark_m) {
    if (doing.last_m < 0.0) return speed_mps;
    return std::lerp(doing.last_mps, speed_mps, (mark_m - doing.last_m) / (distance_m - doing.last_m));
  };
  if (doing.last_m < stretch.from_m && distance_m >= stretch.from_m) doing.came_mps = at_mark(stretch.from_m);
  if (doing.last_m < stretch.to_m) doing.left_mps = distance_m > stretch.to_m ? at_mark(stretch.to_m) : speed_mps;
  doing.last_m = distance_m;
  doing.last_mps = speed_mps;
}

void note_doing(const RideView& view, double look_s, const TimedStretch& stretch, std::vector<Doing>& doing) {
  for (std::size_t i = 0; i < view.riders(); ++i) {
    const Role role = view.role(i);
    if (role == Role::finished) continue;
    note_speeds(view.distance_m(i), static_cast<double>(view.now.speed_mps[i]), stretch, doing[i]);
    if (!view.whole_interval || view.distance_m(i) < stretch.from_m || view.distance_m(i) >= stretch.to_m) continue;
    if (role == Role::following || role == Role::drifting_back) doing[i].behind_s += look_s;
    if (role == Role::waiting) doing[i].waited_s += look_s;
    if (role != Role::chasing) continue;
    doing[i].chased_s += look_s;
    doing[i].chased_J += look_s * static_cast<double>(view.now.power_W[i]);
  }
}

/// Work at the cranks that makes the speed of the rider, wheels turning.
double work_of_speed_J(const RiderSettings& r, double speed_mps) {
  const double moving_kg = r.total_mass_kg() + r.wheel_inertia_kgm2 / (r.wheel_radius_m * r.wheel_radius_m);
  return 0.5 * moving_kg * speed_mps * speed_mps / r.drivetrain_efficiency;
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
  ridden.slowing_W = (work_of_speed_J(settings, doing.came_mps) - work_of_speed_J(settings, doing.left_mps)) / ridden.time_s;
  ridden.behind_s = doing.behind_s;
  ridden.chased_s = doing.chased_s;
  ridden.chased_J = doing.chased_J;
  ridden.wbal_share = to->wbal_J / settings.w_prime_J;
  return ridden;
}

}  // namespace

TimedStretch timed_stretch(const Scenario& scenario, double from_m, double to_m) {
  // Riders stand within 25 m before a regroup point and brake before that.
  constexpr double before_regroup_m = 60.0, behind_regroup_m = 5.0;
  return {std::max(from_m + (waits_at(scenario, from_m) ? behind_regroup_m : 0.0), Ride(scenario).first_distance_m()),
          to_m - (waits_at(scenario, to_m) ? before_regroup_m : 0.0)};
}

std::vector<WayRidden> ride_stretch(const Scenario& scenario, const TimedStretch& stretch, const RideUntil& until) {
  constexpr double look_s = 0.2;  // a speed changes within a second where the road gets steep
  const double length_m = scenario.road.length_m();
  RideOptions options{.notes_debts = false, .notes_laws = false};
  for (const double at_m : {stretch.from_m, stretch.to_m})
    if (at_m > 0.0 && at_m < length_m) options.timing_points_m.push_back(at_m);
  std::vector<Doing> doing(scenario.riders.size());
  const auto is_past = [&](const Doing& one) { return one.last_m >= stretch.to_m; };
  const auto go_on = [&](const Ride&) {
    if (until.finish) return true;
    return !(until.past_by ? is_past(doing[*until.past_by]) : std::all_of(doing.begin(), doing.end(), is_past));
  };
  Ride ride(scenario, options);
  const RideResult result =
      watch(ride, {look_s, go_on}, [&](const RideView& view) { note_doing(view, look_s, stretch, doing); });
  std::vector<WayRidden> ridden;
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    ridden.push_back(ridden_by(result.riders[i], scenario.riders[i], doing[i], stretch, length_m));
    if (!until.finish) ridden.back().finish_time_s = 0.0;
  }
  return ridden;
}

}  // namespace leewheel
