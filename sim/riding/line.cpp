#include "riding/line.hpp"

#include <algorithm>

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
void take_turns_again(Settling& s, RiderIndex front) {
  const double speed_mps =
      std::max(s.next[front].line_pace_mps, s.now.settings.least_pace_share * s.now.riders.v_mps[front]);
  for (const RiderIndex i : s.line)
    if (s.next[i].skipped_turns > 1 && pull_share(s.now, i, s.next[i].role, speed_mps) > s.now.settings.back_in_turns_share)
      s.next[i].skipped_turns = 0;
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
    own.line_pace_mps = 0.0;
    return;
  }
  const Outlook& outlook = s.now.outlook[front];
  const bool turns_pay =
      !outlook.wheel_worthless || s.now.kind == RideKind::race;  // racing, the next is let by all the same
  if (!turns_pay) own.role_since_s = s.now.time_s;
  take_turns_again(s, front);
  const bool rotates = formation_of(s.now, s.lines, front).rotates() && has_room_to_swing_off(s.now, s.lines, front);
  const bool own_pace = s.now.kind == RideKind::race || outlook.climbs_freely;
  own.line_pace_mps = own_pace ? 0.0 : shared_pace_mps(s, front, rotates);
  if (s.now.kind == RideKind::together) ease_for_dropped(s, front);
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
      {"least_pace_share", &T::least_pace_share, 0.1, 1, "lowest shared pace tried, as a share of the fastest rider's",
       ours},
      {"pull_factor", &T::pull_factor, 0.2, 1, "highest drag factor behind a wheel used to share out turns", ours},
      {"dropped_pace_share", &T::dropped_pace_share, 0.1, 1,
       "together: while a rider is dropped, the first rides at this share of that rider's own speed", ours},
      {"easing_retold_s", &T::easing_retold_s, 0, 3600, "least time between two events about the first rider easing (s)",
       ours},
      {"front_effort", &T::front_effort, 1, 2, "largest power in front, as a multiple of the rider's own target", ours},
      {"turn_s", &T::turn_s, 3, 1800, "mean length of a turn in front (s)",
       "pulls from 10 s (weak) to 60 s (strong), second-hand"},
      {"least_turn_s", &T::least_turn_s, 1, 60, "shortest turn in front (s)", ours},
      {"least_share", &T::least_share, 0, 0.5, "a rider who could lead for less than this share of the time skips the turn",
       ours},
      {"back_in_turns_share", &T::back_in_turns_share, 0, 1,
       "a rider who sat in takes turns again from this share of the time in front", ours},
      {"least_shares", &T::least_shares, 0.01, 1, "least sum by which the shares of a line are divided", ours},
      {"next_within_m", &T::next_within_m, 0.5, 50, "a rider can take over the front when this close behind (m)", ours},
      {"up_to_speed_mps", &T::up_to_speed_mps, 0, 5, "and no more than this much slower than the first rider (m/s)", ours},
      {"race_front_share", &T::race_front_share, 0.5, 1.5,
       "race: the next rider takes the front if he or she alone could ride this share of its speed", ours},
      {"drift_back_mps", &T::drift_back_mps, 0.1, 3, "how much slower a rider drifts back after a turn (m/s)", ours},
      {"drift_pace_share", &T::drift_pace_share, 0.1, 1,
       "that speed is measured from at least this share of the line's pace", ours},
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
      {"moving_over_s", &T::moving_over_s, 0.5, 10, "time allowed for moving over from one line to the other (s)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
