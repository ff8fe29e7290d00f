#include "riding/wait.hpp"

namespace leewheel::riding {

RiderIndex group_behind(const View& v) {
  const TacticsSettings& t = v.settings();
  const Snapshot& now = v.now;
  const RiderIndex i = v.rider, next = now.next_behind(i);
  if (next == nobody) return nobody;
  const RiderIndex front = now.lines.front_of[next];
  const bool lone = now.lines.size[front] < 2 && !now.laws().keeps_whole;
  if (front == i || lone || now.riders.squad[front] != now.riders.squad[i]) return nobody;
  if (now.laws().keeps_whole) return now.gap_m(next, i) > t.group_apart_m ? next : nobody;  // nobody is left behind
  const double gap_m = now.gap_m(front, i);
  const bool worth = now.riders.v_mps[front] > t.wait_speed_share * v.outlook().own_speed_mps;
  const double reach_m = v.own.eases_for_group ? t.waiting_reach * t.chase_reach_m : t.chase_reach_m;
  return gap_m > t.group_apart_m && gap_m < reach_m && worth ? front : nobody;
}

namespace {
bool may_wait(const View& v) { return v.own.role == Role::alone && v.own.side == 0; }
RiderIndex eased_for(const View& v) { return !v.now.laws().waits || v.outlook().climbs_freely ? nobody : group_behind(v); }
}  // namespace

Answer group_comes(const View& v) {
  const TacticsSettings& t = v.settings();
  const bool ready = may_wait(v) && !v.own.eases_for_group && v.now.lines.size[v.rider] == 1 &&
                     v.now.time_s > v.own.no_wait_until_s &&
                     v.now.time_s - v.own.role_since_s > t.wait_after_dwells * t.dwell_s;
  const RiderIndex front = ready ? eased_for(v) : nobody;
  if (front == nobody) return {};
  return {true, {Reason::waits_for_group, front, {v.now.gap_m(front, v.rider)}}};
}

Answer group_is_gone(const View& v) {
  return {may_wait(v) && v.own.eases_for_group && eased_for(v) == nobody, {Reason::own_pace}};
}

void ease_for_group(const View&, const Answer& answer, Proposal& p) {
  p.next.eases_for_group = true;
  p.next.why = answer.because;
  p.tell(EventKind::waits, answer.because.other);
}

void ride_on(const View& v, const Answer& answer, Proposal& p) {
  p.next.eases_for_group = false;
  p.next.why = answer.because;
  p.next.no_wait_until_s = v.now.time_s + v.settings().chase_pause_s;
}

std::span<const NumberField<TacticsSettings>> wait_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"wait_effort", &T::wait_effort, 0.2, 1,
       "effort while easing for the group behind, as a share of the rider's own target", ours},
      {"group_apart_m", &T::group_apart_m, 0.5, 50, "a group closer than this has arrived (m)", ours},
      {"wait_speed_share", &T::wait_speed_share, 0, 2,
       "a rider eases only for a group that rides at least this share of the rider's own speed", ours},
      {"wait_after_dwells", &T::wait_after_dwells, 0, 20,
       "a rider eases only after riding alone for this many times dwell_s", ours},
      {"waiting_reach", &T::waiting_reach, 1, 5,
       "a rider keeps easing for a group up to this many times chase_reach_m behind", ours},
      {"come_up_m", &T::come_up_m, 1, 50, "for a rider instructed to wait, a group this close behind has arrived (m)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
