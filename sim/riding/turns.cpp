#include "riding/turns.hpp"

#include <algorithm>
#include <numeric>

#include "riding/formation.hpp"
#include "riding/outlook.hpp"
#include "riding/pace.hpp"
#include "riding/placing.hpp"
#include "riding/rules.hpp"

namespace leewheel::riding {

double way_back_m(const Snapshot& now, const Lines& lines, RiderIndex front) {
  const TacticsSettings& t = now.settings;
  const Riders& r = now.riders;
  const double line_m = lines.size[front] * (bicycle_length_m + r.own_gap_m[front] + t.headway_s * r.v_mps[front]);
  const double receding_mps = formation_of(now, lines, front).receding_mps(now, front);
  return std::min(t.longest_way_back_m, r.v_mps[front] * (2.0 * t.moving_over_s + line_m / receding_mps));
}

bool has_room_to_swing_off(const Snapshot& now, const Lines& lines, RiderIndex front) {
  return now.road[front].two_abreast_for_m > way_back_m(now, lines, front);
}

namespace {

/// Somebody who came off the front is still beside its new first rider.
bool is_someone_beside(const Settling& s, RiderIndex front) {
  const double room_m = formation_of(s.now, s.lines, front).clear_room_m(s.now.settings);
  bool found = false;
  for_line(s.now, s.lines, front, [&](RiderIndex j) {
    found = found || (s.next[j].role == Role::drifting_back && s.now.riders.x_m[j] > s.now.riders.x_m[front] - room_m);
  });
  return found;
}

/// The turn has lasted, or the front's W' is down to the reserve.
bool is_turn_over(const Settling& s, RiderIndex front) {
  const Memory& own = s.next[front];
  const bool spent = s.now.spare_J(front) < 0.0 && own.turn_s > s.now.settings.least_turn_s;
  return s.now.is_instructed(front, Choice::sits_in) || s.now.time_s - own.role_since_s >= own.turn_s || spent;
}

/// Share of the time in front that a rider of the line can spend there.
double share_of(const Settling& s, RiderIndex i) {
  return s.shares[static_cast<std::size_t>(std::find(s.line.begin(), s.line.end(), i) - s.line.begin())];
}
double all_shares(const Settling& s) { return std::accumulate(s.shares.begin(), s.shares.end(), 0.0); }

/// The front is handed over only where somebody else can pull at all, and where the pace does not fall by it.
bool can_hand_over(const Settling& s, RiderIndex front, RiderIndex next) {
  const bool too_slow = s.now.laws().own_pace &&
                        s.now.outlook[next].own_speed_mps < s.now.settings.own_pace_front_share * s.now.riders.v_mps[front];
  // Who rides by the plan, faster than turns of this line could keep up, would only come by again from the back.
  const double own_share = share_of(s, front), enough = s.now.settings.pace_margin;
  const bool outrides = s.now.goes_own_way() && own_share > enough && all_shares(s) - own_share < enough;
  if (too_slow || outrides) return false;
  double others = 0.0;
  for (const RiderIndex i : s.file) others += i == front ? 0.0 : share_of(s, i);
  return others > 0.0;
}

/// The next leads for a share of the round as long as strength allows.
void give_front(Settling& s, RiderIndex front, RiderIndex next) {
  const TacticsSettings& t = s.now.settings;
  const LineFormation& formation = formation_of(s.now, s.lines, front);
  const double riders = static_cast<double>(s.line.size());
  const double share = share_of(s, next) / std::max(t.least_shares, all_shares(s));
  const double round_s = std::max(t.least_round_s, t.turn_s * riders);
  const bool willing = s.now.is_instructed(next, Choice::takes_turns);
  const double turn_s = formation.turn_s(t, share * round_s, willing ? t.turn_s : t.least_turn_s);
  const bool sits_in = share * riders < t.least_share && formation.turns_by_strength() && !willing;
  const double front_W = s.next[front].front_W, front_mps2 = s.next[front].front_mps2;
  s.become(next, Role::front, {sits_in ? Reason::cannot_pull : Reason::turn_begins, front, {turn_s}});
  Memory& own = s.next[next];
  own.role_since_s = s.now.time_s;
  own.turn_s = turn_s;
  own.takes_over = true;
  own.front_W = front_W;
  own.front_mps2 = front_mps2;
  own.wheel = nobody;
  s.lines.size[next] = s.lines.size[front];
  for (const RiderIndex i : s.line) s.lines.front_of[i] = next;
  own.skipped_turns = sits_in ? own.skipped_turns + 1 : 0;
  // The first turn that a rider lets pass is told as skipped; the one with which sitting in begins is told as that.
  if (own.skipped_turns == 0)
    s.tell(EventKind::takes_turn, next, front);
  else if (own.skipped_turns >= t.skips_before_sitting_in && own.skipped_turns - 1 < t.skips_before_sitting_in)
    s.tell(EventKind::sits_in, next, front);
  else if (own.skipped_turns == 1)
    s.tell(EventKind::skips_turn, next, front);
}

}  // namespace

void take_turns(Settling& s, RiderIndex front) {
  const TacticsSettings& t = s.now.settings;
  const Riders& r = s.now.riders;
  Memory& own = s.next[front];
  s.file.clear();
  for (const RiderIndex i : s.line)
    if (i == front || s.next[i].role == Role::following) s.file.push_back(i);
  if (s.file.size() < 2 || s.now.gap_m(s.file[1], front) > t.next_within_m) return;
  const double end_m = std::min(r.stop_at_m[front], s.now.road_length_m);
  if (r.x_m[front] + way_back_m(s.now, s.lines, front) > end_m) return;  // the ride or the stretch is soon over
  if (is_someone_beside(s, front)) return;                               // two side by side would block the line
  const RiderIndex next = s.file[1];
  if (r.v_mps[next] < r.v_mps[front] - t.up_to_speed_mps) return;  // else the pace would fall with every turn
  if (!is_turn_over(s, front)) return;
  if (!can_hand_over(s, front, next)) return;
  const double pulled_s = s.now.time_s - own.role_since_s;
  const bool spent = pulled_s < own.turn_s;
  s.become(front, Role::drifting_back, {spent ? Reason::reserve_reached : Reason::turn_over, next, {pulled_s}});
  own.side = swing_side(s.now, front);
  if (own.skipped_turns == 0) s.tell(EventKind::ends_turn, front, next);
  give_front(s, front, next);
}

void drift_back(const View& v, Proposal& p) {
  const TacticsSettings& t = v.settings();
  const RiderIndex front = v.now.lines.front_of[v.rider];
  RiderIndex last = nobody;
  for_line(v.now, v.now.lines, front, [&](RiderIndex j) {
    if (v.now.sits_in(j, v.now.memory[j])) return;  // leaves room ahead for a rider who comes back from the front
    const Role role = v.role_of(j);
    if (role == Role::following || role == Role::front) last = j;
  });
  const double patience_s = formation_of(v.now, v.now.lines, front).patience_s(t, v.now.lines.size[front]);
  // Where nobody goes ahead a rider beside the line does not give up: alone, he or she would ride away from it.
  const bool gives_up = !v.now.laws().keeps_whole && v.now.time_s - v.own.role_since_s > patience_s;
  if (last == nobody || gives_up) return p.become(Role::alone, {Reason::own_pace});
  if (v.now.gap_m(v.rider, last) < t.back_in_line_m) return;
  p.become(Role::following, {Reason::on_wheel, last});
  p.next.wheel = last;
}

}  // namespace leewheel::riding
