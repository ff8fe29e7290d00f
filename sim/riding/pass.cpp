#include "riding/pass.hpp"

#include <algorithm>

namespace leewheel::riding {

namespace {

/// A steady ride whose pace suits everyone (`pace_share_steady` 1) lets riders past only where everyone climbs freely.
bool own_way(const View& v) { return v.now.goes_own_way() || v.now.outlook[v.now.lines.front_of[v.wheel]].climbs_freely; }
}  // namespace

bool would_lead(const View& v, double faster_mps) {
  const RiderIndex front = v.now.lines.front_of[v.wheel];
  const bool felt = v.riders().x_m[front] - v.riders().x_m[v.rider] < v.settings().front_felt_m;
  const double accel_mps2 = felt ? v.riders().accel_mps2[front] : 0.0;
  return cost_at(v.now, v.rider).power_W(v.riders().v_mps[v.wheel] + faster_mps, 1.0, accel_mps2) < v.outlook().planned_W;
}

namespace {

/// How much faster than the wheel is worth a pass, and how much is too much to sit there (m/s).
double margin_mps(const View& v) {
  const TacticsSettings& t = v.settings();
  return std::min(t.passing_margin_mps, t.passing_margin_share * v.riders().v_mps[v.wheel]);
}
double far_margin_mps(const View& v) { return v.settings().far_faster_share * v.riders().v_mps[v.wheel]; }

bool far_faster(const View& v) { return would_lead(v, far_margin_mps(v)); }

/// How much of the gap to the wheel goes in a look ahead.
double closing_m(const View& v) {
  const auto& v_mps = v.riders().v_mps;
  return v.settings().closing_look_s * std::max(0.0, v_mps[v.rider] - v_mps[v.wheel]);
}

Answer past_wheel(const View& v, double faster_mps) {
  const TacticsSettings& t = v.settings();
  const bool wants = own_way(v) && !v.now.is_instructed(v.rider, Choice::sits_in) &&
                     v.gap_m() < t.passing_share * t.wheel_reach_m && would_lead(v, faster_mps);
  const double wheel_mps = v.riders().v_mps[v.wheel];  // where the line slows, more than a steady own speed
  return {wants, {Reason::faster_alone, v.wheel, {std::max(v.outlook().own_speed_mps, wheel_mps + faster_mps), wheel_mps}}};
}

}  // namespace

Answer far_faster_alone(const View& v) { return past_wheel(v, far_margin_mps(v)); }
Answer faster_alone(const View& v) { return past_wheel(v, margin_mps(v)); }

Answer wheel_far_too_slow(const View& v) {
  return {own_way(v) && v.gap_m() < v.settings().passing_room_m + closing_m(v) && far_faster(v)};
}

Answer wheel_too_slow(const View& v) {
  if (!own_way(v) || !would_lead(v, margin_mps(v))) return {};
  return {v.gap_m() < v.settings().passing_room_m, {}, nobody, true};
}

Answer sprints(const View& v) {
  if (!v.now.laws().spends || v.now.is_instructed(v.rider, Choice::sits_in)) return {};
  const double over_W = (v.settings().race_sprint_effort - 1.0) * v.riders().critical_W[v.rider];
  const double spare_J = v.now.spare_J(v.rider);
  if (v.now.road[v.rider].to_finish_s * over_W >= spare_J) return {};
  const bool held_up = v.wheel != nobody && v.gap_m() < v.settings().passing_room_m && would_lead(v, 0.0);
  return {held_up, {Reason::sprints, v.wheel, {spare_J}}, nobody, true};
}

void sprint_past(const View& v, const Answer& answer, Proposal& p) {
  p.become(Role::alone, answer.because);
  p.next.side = v.now.passing_side();
}

Answer cannot_come_by(const View& v) {
  const RiderIndex slow = v.riders().blocker[v.rider];
  return {v.own.side == v.now.passing_side() && slow != nobody && v.now.gap_m(v.rider, slow) < v.settings().stuck_within_m};
}

void give_up_passing(const View&, const Answer&, Proposal& p) {
  p.next.side = 0;
  p.next.since_s[static_cast<std::size_t>(Clock::stuck)] = stopped;
}

Answer is_beside(const View& v) { return {v.own.side != 0, {}, nobody, v.own.side != 0}; }

void go_past_wheel(const View& v, const Answer& answer, Proposal& p) {
  p.become(Role::alone, answer.because);
  p.next.side = v.now.passing_side();
  p.tell(EventKind::goes_alone, v.wheel);
}

void go_aside(const View& v, const Answer&, Proposal& p) {
  p.next.side = v.now.passing_side();
  p.next.since_s[static_cast<std::size_t>(Clock::faster)] = stopped;
}

void finish_passing(const View& v, const Answer&, Proposal& p) {
  const Riders& r = v.riders();
  // Who is about to be passed as well is no wheel to move in behind.
  const auto room_m = [&] { return v.settings().passed_clear_m + (own_way(v) && far_faster(v) ? closing_m(v) : 0.0); };
  const bool clear = v.wheel == nobody || v.gap_m() > room_m();
  const RiderIndex behind = v.now.next_behind(v.rider);
  // Who is behind on the same line is passed, or does not want to come by; waiting for that room would hold both.
  const bool passing = p.next.side == v.now.passing_side();
  const bool let_by = !passing && v.now.time_s - p.next.role_since_s > v.settings().lets_by_s;
  const bool moved_in =
      (passing || let_by) && behind != nobody && std::abs(r.y_m[v.rider] - r.y_m[behind]) < v.settings().moved_in_m;
  const bool beside =
      behind != nobody && !moved_in && r.x_m[v.rider] - r.x_m[behind] < bicycle_length_m + v.settings().passed_room_m;
  const bool slower = passing && v.wheel != nobody && !would_lead(v, 0.0);
  if ((clear && !beside) || slower) p.next.side = 0;
}

namespace {

bool fits(const Snapshot& now, RiderIndex i, double y_m) {
  const Lane lane = now.road[i].lane;
  const double tolerance_m = now.settings.lane_tolerance_m;
  return y_m > lane.low_m - tolerance_m && y_m < lane.high_m + tolerance_m;
}

/// Who rides alongside between a rider and a place across the road, or nobody.
RiderIndex stands_in_it(const Snapshot& now, RiderIndex i, double y_m) {
  const Riders& r = now.riders;
  const double way_m = y_m - r.y_m[i];
  const auto stands = [&](RiderIndex j) {
    const double aside_m = (r.y_m[j] - r.y_m[i]) * (way_m < 0.0 ? -1.0 : 1.0);
    return aside_m >= 0.0 && aside_m < std::abs(way_m) + beside_m;
  };
  for (std::size_t place = now.rank_of[i]; place-- > 0 && r.x_m[now.order[place]] - r.x_m[i] < bicycle_length_m;)
    if (stands(now.order[place])) return now.order[place];
  for (std::size_t place = now.rank_of[i] + 1;
       place < now.order.size() && r.x_m[i] - r.x_m[now.order[place]] < bicycle_length_m; ++place)
    if (stands(now.order[place])) return now.order[place];
  return nobody;
}

/// Where the passing side of another rider is.
double usual_line_m(const Snapshot& now, const Memory& own, RiderIndex slow) {
  return now.riders.y_m[slow] + own.side * now.settings.swing_off_m;
}

/// The rider in the way of a pass, or nobody.
RiderIndex in_the_way(const Snapshot& now, RiderIndex i, const Memory& own) {
  const RiderIndex slow = now.riders.blocker[i];
  const bool near = slow != nobody && now.gap_m(i, slow) <= now.settings.passing_room_m;
  return near && own.side == now.passing_side() ? slow : nobody;
}

}  // namespace

RiderIndex asked_to_let_by(const Snapshot& now, RiderIndex i, const Memory& own) {
  const RiderIndex slow = in_the_way(now, i, own);
  if (slow == nobody) return nobody;
  const double usual_m = usual_line_m(now, own, slow);
  return fits(now, i, usual_m) && stands_in_it(now, i, usual_m) == nobody ? nobody : slow;
}

RiderIndex asked_to_fall_back(const Snapshot& now, RiderIndex i, const Memory& own) {
  const RiderIndex slow = in_the_way(now, i, own);
  if (slow == nobody) return nobody;
  const RiderIndex beside = stands_in_it(now, i, usual_line_m(now, own, slow));
  const bool behind = beside != nobody && now.rank_of[beside] > now.rank_of[i];
  return behind && now.memory[beside].wheel != nobody ? beside : nobody;
}

RiderIndex shares_wheel(const Snapshot& now, RiderIndex i, std::span<const Memory> next) {
  if (now.rank_of[i] == 0 || next[i].wheel == nobody) return nobody;
  const RiderIndex beside = now.order[now.rank_of[i] - 1];
  const bool level = now.riders.x_m[beside] - now.riders.x_m[i] < now.settings.wheel_ahead_m;
  return level && next[beside].wheel == next[i].wheel ? beside : nobody;
}

void settle_letting_by(const Snapshot& now, std::span<Memory> next) {
  const double until_s = now.time_s + now.settings.lets_by_s;
  for (const RiderIndex i : now.order) {
    if (const RiderIndex slow = asked_to_let_by(now, i, next[i]); slow != nobody) next[slow].lets_by_until_s = until_s;
    if (const RiderIndex beside = asked_to_fall_back(now, i, next[i]); beside != nobody)
      next[beside].falls_back_until_s = until_s;
    if (shares_wheel(now, i, next) != nobody) next[i].falls_back_until_s = until_s;
  }
}

double passing_line_m(const Snapshot& now, RiderIndex i, const Memory& own, double middle_m) {
  const TacticsSettings& t = now.settings;
  if (own.side != now.passing_side()) return middle_m + own.side * t.swing_off_m;  // to the edge, to let others by
  const RiderIndex slow = in_the_way(now, i, own);
  if (slow == nobody) return now.riders.y_m[i];  // clear road: keep the line
  const Lane lane = now.road[i].lane;
  const double usual_m = usual_line_m(now, own, slow), other_m = now.riders.y_m[slow] - own.side * t.swing_off_m;
  if (fits(now, i, usual_m)) return usual_m;
  return fits(now, i, other_m) ? other_m : std::clamp(usual_m, lane.low_m, lane.high_m);
}

std::span<const NumberField<TacticsSettings>> pass_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"swing_off_m", &T::swing_off_m, 0.6, 2, "how far to the side a rider swings off or passes (m)", ours},
      {"passing_margin_mps", &T::passing_margin_mps, 0.05, 3,
       "a rider passes when he or she could ride this much faster (m/s)", ours},
      {"passing_margin_share", &T::passing_margin_share, 0.005, 0.3,
       "or by this share of the speed of the wheel ahead, where that is less", ours},
      {"front_felt_m", &T::front_felt_m, 0, 5000,
       "and could also speed up like the first of the line, if that is less far ahead than this: a long line surges and "
       "slows (m)",
       ours},
      {"passing_dwell_s", &T::passing_dwell_s, 0, 300, "and has been held up for this long (s)", ours},
      {"far_faster_share", &T::far_faster_share, 0.02, 1,
       "who could ride faster than the wheel ahead by this share of its speed", ours},
      {"far_faster_dwell_s", &T::far_faster_dwell_s, 0, 300, "passes after this long (s)", ours},
      {"closing_look_s", &T::closing_look_s, 0, 30,
       "moves out before the gap closes in this time, and stays out for a next one that close (s)", ours},
      {"stuck_within_m", &T::stuck_within_m, 0, 5,
       "who is held up while passing, this near behind a rider, for passing_dwell_s goes back and begins anew (m)", ours},
      {"passing_share", &T::passing_share, 0, 1, "a rider on a wheel moves out to pass within this share of wheel_reach_m",
       ours},
      {"passing_room_m", &T::passing_room_m, 1, 50, "a rider without a wheel moves out to pass from this far behind (m)",
       ours},
      {"passed_clear_m", &T::passed_clear_m, 0.5, 50, "a pass is complete when the next rider ahead is this far away (m)",
       ours},
      {"passed_room_m", &T::passed_room_m, 0, 20, "and the passed rider is this far behind (m)", ours},
      {"moved_in_m", &T::moved_in_m, 0, 1, "and a rider behind who is this near across the road is passed at once (m)",
       ours},
      {"lets_by_s", &T::lets_by_s, 0, 60, "a slower rider keeps to the edge for this long to let others pass (s)", ours},
      {"lane_look_s", &T::lane_look_s, 0, 30, "riders keep to the lane as it will be this far ahead in time (s)", ours},
      {"lane_tolerance_m", &T::lane_tolerance_m, 0, 0.5,
       "a place up to this far outside the lane still counts as inside (m)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
