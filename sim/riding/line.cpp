#include "riding/line.hpp"

#include <algorithm>
#include <numeric>

#include "riding/formation.hpp"
#include "riding/outlook.hpp"
#include "riding/pace.hpp"
#include "riding/turns.hpp"

namespace leewheel::riding {

namespace {

/// A rider without a wheel leads; a rider on a wheel belongs to its line.
void join_line(Settling& s, RiderIndex i) {
  std::vector<RiderIndex>& front_of = s.lines.front_of;
  const Memory& own = s.next[i];
  if (own.wheel == nobody) {
    if (own.role != Role::drifting_back)
      front_of[i] = i;
    else if (front_of[i] != i)
      ++s.lines.size[front_of[i]];
    return;
  }
  if (own.role == Role::chasing) {  // not yet one of that line; riders on this wheel follow the chase
    front_of[i] = i;
    return;
  }
  const RiderIndex front = front_of[own.wheel];  // riders ahead are done
  front_of[i] = front;
  ++s.lines.size[front];
  if (s.next[front].role != Role::alone) return;
  s.become(front, Role::front, {Reason::turn_begins, nobody, {s.now.settings.turn_s}});
  s.next[front].skipped_turns = 0;
  s.next[front].turn_s = s.now.settings.turn_s;
}

/// Riders who sat in take turns again once they have the strength.
void take_turns_again(Settling& s) {
  const double equal = std::accumulate(s.shares.begin(), s.shares.end(), 0.0) / static_cast<double>(s.line.size());
  for (std::size_t k = 0; k < s.line.size(); ++k)
    if (s.next[s.line[k]].skipped_turns >= s.now.settings.skips_before_sitting_in &&
        s.shares[k] > s.now.settings.back_in_turns_share * equal)
      s.next[s.line[k]].skipped_turns = 0;
}

}  // namespace

void form_lines(Settling& s) {
  for (const RiderIndex i : s.now.order) s.lines.size[i] = 1;
  for (const RiderIndex i : s.now.order) join_line(s, i);
  for (const RiderIndex i : s.now.order) {
    if (s.next[i].role != Role::front) continue;
    const LineFormation& formation = formation_of(s.now, s.lines, i);
    if (s.lines.size[i] == 1)
      s.become(i, Role::alone, {Reason::own_pace});
    else if (s.next[i].role_since_s == s.now.time_s)
      s.next[i].turn_s = formation.first_turn_s(s.now, s.next[i].turn_s);
  }
}

void settle_line(Settling& s, RiderIndex front) {
  Memory& own = s.next[front];
  s.line.assign(1, front);
  for_line(s.now, s.lines, front, [&](RiderIndex j) {
    if (j != front) s.line.push_back(j);
  });
  if (own.keeps_off) {
    own.front_W = own_plan;
    return;
  }
  const Outlook& outlook = s.now.outlook[front];
  const bool turns_pay = !outlook.wheel_worthless || s.now.laws().spends;  // racing, the next is let by all the same
  if (!turns_pay) own.role_since_s += s.now.interval_s;
  const bool rotates = formation_of(s.now, s.lines, front).rotates() && has_room_to_swing_off(s.now, s.lines, front);
  const bool own_pace = outlook.climbs_freely || s.now.laws().own_pace;
  const FrontPower power = front_power(s, front, rotates, own_pace);
  own.front_W = own_pace ? own_plan : power.power_W;
  own.front_mps2 = power.accel_mps2;
  take_turns_again(s);
  if (s.now.laws().keeps_whole) ease_for_dropped(s, front);
  if (turns_pay && rotates) take_turns(s, front);
}

std::span<const NumberField<TacticsSettings>> line_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"longest_line_m", &T::longest_line_m, 10, 5000,
       "longest line: riders further behind its first rider do not belong to it (m)", ours},
      {"pace_share_together", &T::pace_share_together, 0, 1, "together: share of the group the pace must suit", ours},
      {"pace_share_steady", &T::pace_share_steady, 0, 1, "steady: share of the group the pace must suit", ours},
      {"dropped_pace_share", &T::dropped_pace_share, 0.1, 1,
       "together: while a rider is dropped, the first rides at this share of that rider's own speed", ours},
      {"easing_retold_s", &T::easing_retold_s, 0, 3600, "least time between two events about the first rider easing (s)",
       ours},
      {"front_effort", &T::front_effort, 1, 2, "power in front, at most this many times critical power", ours},
      {"front_spare_share", &T::front_spare_share, 0, 1, "a turn in front may cost this share of the W' above the reserve",
       ours},
      {"front_spare_s", &T::front_spare_s, 1, 600, "reckoned over the turn, and no less than this (s)", ours},
      {"front_ramp_Wps", &T::front_ramp_Wps, 1, 1000, "who takes the front over raises power no faster than this (W/s)",
       ours},
      {"getting_going_mps", &T::getting_going_mps, 0.5, 5,
       "powers in front are reckoned at no less than this speed, below which the front gives at least its own plan (m/s)",
       ours},
      {"turn_s", &T::turn_s, 3, 1800, "mean length of a turn in front (s)",
       "pulls from 10 s (weak) to 60 s (strong), second-hand"},
      {"least_round_s", &T::least_round_s, 0, 3600,
       "turns of few riders are longer, so that a round takes at least this long (s): each change of front costs", ours},
      {"least_turn_s", &T::least_turn_s, 1, 60, "no turn in front is shorter (s)", ours},
      {"least_share", &T::least_share, 0, 1,
       "a rider who could lead for less than this part of an equal share skips the turn", ours},
      {"skips_before_sitting_in", &T::skips_before_sitting_in, 1, 20,
       "a rider who has skipped this many turns in a row sits in", ours},
      {"back_in_turns_share", &T::back_in_turns_share, 0, 1,
       "a rider who sat in takes turns again from this part of an equal share", ours},
      {"least_shares", &T::least_shares, 0.01, 1, "shares of a line are divided by no less than this", ours},
      {"next_within_m", &T::next_within_m, 0.5, 50, "the front is given away to a rider this near behind (m)", ours},
      {"up_to_speed_mps", &T::up_to_speed_mps, 0, 5, "and no more than this slower than the front (m/s)", ours},
      {"own_pace_front_share", &T::own_pace_front_share, 0.5, 1.5,
       "free: the next takes the front who alone could ride this share of its speed", ours},
      {"drift_back_mps", &T::drift_back_mps, 0.1, 3, "how much slower a rider drifts back after a turn (m/s)", ours},
      {"clear_behind_m", &T::clear_behind_m, 0, 10,
       "a rider drifting back has cleared the front when this far behind it (m)", ours},
      {"clear_aside_m", &T::clear_aside_m, 0.5, 2, "riders this far apart sideways are not in each other's line (m)", ours},
      {"coming_back_m", &T::coming_back_m, 1, 50,
       "a rider who sits in opens a gap for a rider drifting back this close ahead (m)", ours},
      {"back_in_line_m", &T::back_in_line_m, -2, 5, "a rider drifting back moves in when this far behind the last wheel (m)",
       ours},
      {"longest_drift_s", &T::longest_drift_s, 10, 600,
       "longest time that a rider tries to get back in line after a turn (s)", ours},
      {"longest_way_back_m", &T::longest_way_back_m, 10, 5000, "longest distance looked ahead for the way back in line (m)",
       ours},
      {"moving_over_s", &T::moving_over_s, 0.5, 10,
       "time allowed for moving over from one line to the other, and as much for the way back in (s)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
