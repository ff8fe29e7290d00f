#include "riding/instructed.hpp"

#include <cmath>

#include "riding/line.hpp"
#include "riding/pass.hpp"
#include "riding/placing.hpp"

namespace leewheel::riding {

namespace {

/// The first rider behind who is not of the rider's own group.
RiderIndex next_group_behind(const Snapshot& now, RiderIndex i) {
  const std::int32_t own = now.group_of[i];
  RiderIndex last = i;  // of the rider's own group
  for (std::size_t place = now.rank_of[i] + 1; place < now.order.size(); ++place) {
    const RiderIndex j = now.order[place];
    const bool together = (own != no_group && now.group_of[j] == own) || now.gap_m(j, last) < now.settings.wheel_reach_m;
    if (!together) return j;
    last = j;
  }
  return nobody;
}

bool is_told_to(const View& v, Choice choice) { return v.now.is_instructed(v.rider, choice); }

bool has_carried_out(const View& v) {
  if (is_told_to(v, Choice::waits_behind)) {
    const RiderIndex behind = v.own.waits_for;
    return behind == nobody || !v.riders().riding[behind] || v.now.gap_m(behind, v.rider) < v.settings().come_up_m;
  }
  const bool near = v.wheel != nobody && v.gap_m() < v.settings().wheel_reach_m;
  return is_told_to(v, Choice::lets_go) && !near;
}

void leave_wheel(const View& v, Proposal& p) {
  const bool was_on_wheel = p.next.role == Role::following || p.next.role == Role::chasing;
  p.become(Role::alone, {Reason::own_pace});
  if (v.now.is_followed(v.rider) && p.next.eases) p.next.side = -v.now.passing_side();
  if (was_on_wheel) p.tell(EventKind::lets_go);
}

}  // namespace

void take_instruction(const Snapshot& now, RiderIndex i, Memory& memory) {
  int found = -1;
  for (std::size_t k = 0; k < now.instructions.size(); ++k) {
    const Instruction& one = now.instructions[k];
    if (one.rider == i && now.riders.x_m[i] >= one.from_m && now.riders.x_m[i] < one.to_m) found = static_cast<int>(k);
  }
  memory.keeps_off = memory.eases = false;
  if (found == memory.instruction) return;
  memory.instruction = found;
  memory.carried_out = false;
  const bool waits = found >= 0 && now.instructions[static_cast<std::size_t>(found)].choice == Choice::waits_behind;
  memory.waits_for = waits ? next_group_behind(now, i) : nobody;
}

bool ride_off_wheels(const View& v, Proposal& p) {
  const bool waits = is_told_to(v, Choice::waits_behind), lets_go = is_told_to(v, Choice::lets_go);
  if (!waits && !lets_go && !is_told_to(v, Choice::alone)) return false;
  p.next.carried_out = has_carried_out(v);
  if (p.next.carried_out) {
    if (p.next.eases_for_group) p.next.why = {Reason::own_pace};
    p.next.eases_for_group = false;
    return false;
  }
  p.next.keeps_off = true;
  // Alone: past riders who are slower, however little; out of the wake of riders who are not.
  const TacticsSettings& t = v.settings();
  const bool near = v.wheel != nobody && v.gap_m() < t.passing_room_m;
  p.next.eases = waits || lets_go || (near && !would_lead(v, 0.0));
  if (p.next.role != Role::alone) leave_wheel(v, p);
  if (waits && !p.next.eases_for_group) {
    const RiderIndex group = p.next.waits_for;
    p.next.eases_for_group = true;
    p.next.why = {Reason::waits_for_group, group, {v.now.gap_m(group, v.rider)}};
    p.tell(EventKind::waits, group);
  }
  if (p.next.side != 0)
    finish_passing(v, {}, p);
  else if (!p.next.eases && near)
    p.next.side = v.now.passing_side();
  return true;
}

bool go_to_the_back(const View& v, Proposal& p) {
  if (!is_told_to(v, Choice::sits_in) || v.own.role != Role::following) return false;
  const Riders& r = v.riders();
  const RiderIndex front = v.now.lines.front_of[v.rider];
  if (v.now.outlook[front].wheel_worthless) return false;  // no turns there
  bool others_behind = false;
  for_line(v.now, v.now.lines, front, [&](RiderIndex j) {
    // Settled on the wheel, not alongside and still tucking in.
    const bool behind = r.x_m[v.rider] - r.x_m[j] > bicycle_length_m &&
                        std::abs(r.y_m[v.rider] - r.y_m[j]) < v.settings().single_file_spread_m;
    others_behind = others_behind || (behind && v.role_of(j) == Role::following);
  });
  if (!others_behind) return false;
  p.become(Role::drifting_back, {Reason::own_pace});
  p.next.side = swing_side(v.now, v.rider);
  return true;
}

}  // namespace leewheel::riding
