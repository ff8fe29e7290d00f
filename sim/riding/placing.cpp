#include "riding/placing.hpp"

#include <algorithm>
#include <cmath>

#include "riding/echelon.hpp"
#include "riding/formation.hpp"
#include "riding/pass.hpp"

namespace leewheel::riding {

namespace {

double middle_m(const Snapshot& now, RiderIndex i) {
  const double half_m = 0.5 * now.road[i].width_m;
  return (now.keep_right ? -0.5 : 0.5) * half_m;
}

/// A rider of the line is drifting back just ahead: a rider who sits in opens the gap in time.
bool is_someone_coming_back(const Settling& s, RiderIndex i) {
  bool found = false;
  for_line(s.now, s.lines, s.lines.front_of[i], [&](RiderIndex j) {
    const double ahead_m = s.now.riders.x_m[j] - s.now.riders.x_m[i];
    found = found || (s.next[j].role == Role::drifting_back && ahead_m > 0.0 && ahead_m < s.now.settings.coming_back_m);
  });
  return found;
}

void place_on_wheel(const Settling& s, RiderIndex i, RiderIndex wheel, Command& command) {
  const Riders& r = s.now.riders;
  const TacticsSettings& t = s.now.settings;
  const Lane room = echelon_room(s.now, i, s.lines.front_of[i]);
  const double wish_m = wake_line_m(s.now, i, wheel);
  command.y_target_m = std::clamp(wish_m, std::min(room.low_m, room.high_m), std::max(room.low_m, room.high_m));
  // No room for the whole offset: half a wheel beside, as far as the wake asks and only where clear of the other.
  const double aside_m = std::abs(r.y_m[i] - r.y_m[wheel]), asked_m = std::abs(wish_m - r.y_m[wheel]);
  if (aside_m > t.clear_aside_m && asked_m > aside_m)
    command.wish_gap_m =
        std::max(t.least_half_wheel_m, (bicycle_length_m + r.own_gap_m[i]) * aside_m / asked_m) - bicycle_length_m;
}

double edge_m(const Snapshot& now, RiderIndex i) {
  const Lane lane = now.road[i].lane;
  return now.keep_right ? lane.low_m : lane.high_m;
}

}  // namespace

int swing_side(const Snapshot& now, RiderIndex i) {
  const double cross_mps = now.riders.wind_cross_mps[i];
  if (std::abs(cross_mps) > now.settings.line_cross_mps) return cross_mps > 0.0 ? -1 : +1;
  return now.keep_right ? +1 : -1;
}

double front_line_m(const Snapshot& now, RiderIndex i) {
  const Lane lane = now.road[i].lane;
  const double swing_off_m = now.settings.swing_off_m;
  if (now.in_crosswind(i)) return now.riders.wind_cross_mps[i] > 0.0 ? lane.low_m + swing_off_m : lane.high_m - swing_off_m;
  return swing_side(now, i) > 0 ? std::min(middle_m(now, i), lane.high_m - swing_off_m)
                                : std::max(middle_m(now, i), lane.low_m + swing_off_m);
}

double line_abeam_m(const Settling& s, RiderIndex i) {
  const Riders& r = s.now.riders;
  const RiderIndex front = s.lines.front_of[i];
  RiderIndex ahead = front;
  double y_m = r.x_m[i] >= r.x_m[front] ? front_line_m(s.now, front) : r.y_m[front];
  bool found = r.x_m[i] >= r.x_m[front];
  for_line(s.now, s.lines, front, [&](RiderIndex j) {
    if (found || s.next[j].role != Role::following) return;
    const double way_m = r.x_m[ahead] - r.x_m[j];
    found = r.x_m[j] <= r.x_m[i];
    y_m = found && way_m > 0.0 ? r.y_m[j] + (r.x_m[i] - r.x_m[j]) / way_m * (r.y_m[ahead] - r.y_m[j]) : r.y_m[j];
    ahead = j;
  });
  return y_m;
}

void place_sideways(const Settling& s, RiderIndex i, Command& command) {
  const Memory& own = s.next[i];
  const Riders& r = s.now.riders;
  const double half_m = 0.5 * s.now.road[i].width_m;
  double& y_m = command.y_target_m;
  y_m = middle_m(s.now, i);
  if (own.side != 0) y_m = passing_line_m(s.now, i, own, middle_m(s.now, i));
  if (own.role == Role::drifting_back) y_m = formation_of(s.now, s.lines, s.lines.front_of[i]).beside_line_m(s, i);
  if (own.role == Role::waiting) y_m = (s.now.keep_right ? -1.0 : 1.0) * (half_m - s.now.settings.waiting_from_edge_m);
  command.wish_gap_m = r.own_gap_m[i];
  if (s.now.sits_in(i, own) && is_someone_coming_back(s, i)) command.wish_gap_m += bicycle_length_m + r.own_gap_m[i];
  if (own.wheel != nobody)
    place_on_wheel(s, i, own.wheel, command);
  else if (own.role == Role::front && (formation_of(s.now, s.lines, i).keeps_room_beside() || s.now.in_crosswind(i)))
    y_m = front_line_m(s.now, i);
  if (s.now.time_s < s.now.memory[i].falls_back_until_s)
    command.wish_gap_m = std::max(command.wish_gap_m, r.own_gap_m[i]) + bicycle_length_m;
  if (s.now.time_s < s.now.memory[i].lets_by_until_s && own.side == 0) y_m = edge_m(s.now, i);
  const Lane lane = s.now.road[i].lane;  // where the road narrows soon, that of then
  if (lane.low_m < lane.high_m && own.role != Role::waiting) y_m = std::clamp(y_m, lane.low_m, lane.high_m);
}

}  // namespace leewheel::riding
