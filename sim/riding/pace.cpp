#include "riding/pace.hpp"

#include <algorithm>
#include <cmath>

#include "riding/outlook.hpp"
#include "riding/rung.hpp"

namespace leewheel::riding {

namespace {

/// At rest a power would give any acceleration, so the speed reckoned with has a least value.
double speed_for_power(const Snapshot& now, RiderIndex front) {
  return std::max(now.settings.getting_going_mps, now.riders.v_mps[front]);
}

/// Acceleration (m/s2) with which a rider of the line can follow: for long, with the road where the front is, and for a
/// moment, with the road where the rider is. Who gave too much of late is spared turns, and holds the line below the plan only
/// as far as all of it gave too much.
double follows_mps2(const Settling& s, RiderIndex i, RiderIndex front, double v, double line_share) {
  const TacticsSettings& t = s.now.settings;
  const Outlook& outlook = s.now.outlook[i];
  const double may_W = s.now.spare_J(i) < 0.0 ? 0.0 : std::min(1.0, line_share) * outlook.plan_W;
  const double long_W = std::max(t.pace_margin * t.hold_margin * outlook.line_W, may_W);
  const double moment_W = std::max(outlook.hold_limit_W, t.surge * s.now.riders.critical_W[i]);
  const double long_mps2 = cost_at(s.now, i, front).accel_mps2(long_W, v, outlook.behind_factor);
  const double moment_mps2 =
      cost_at(s.now, i).accel_mps2(t.pace_margin * moment_W, v, s.now.wheel_factor(i, s.next[i].role));
  return std::min({long_mps2, moment_mps2, comfortable_mps2(s.now, i)});
}

/// What the riders of a line may be asked now, as a share of their plans.
double line_share(const Settling& s) {
  double line_W = 0.0, plan_W = 0.0;
  for (const RiderIndex i : s.line) line_W += s.now.outlook[i].line_W, plan_W += s.now.outlook[i].plan_W;
  return plan_W > 0.0 ? line_W / plan_W : 1.0;
}

/// Acceleration that suits the wanted share of the line.
double suits_mps2(Settling& s, RiderIndex front, double v) {
  const TacticsSettings& t = s.now.settings;
  if (!s.now.laws().shares_pace()) return comfortable_mps2(s.now, front);
  s.speeds_mps.clear();
  const double may_share = line_share(s);
  for (const RiderIndex i : s.line)
    if (i != front) s.speeds_mps.push_back(follows_mps2(s, i, front, v, may_share));
  if (s.speeds_mps.empty()) return comfortable_mps2(s.now, front);
  std::sort(s.speeds_mps.begin(), s.speeds_mps.end());
  const double share = t.*s.now.laws().pace_share;
  return s
      .speeds_mps[static_cast<std::size_t>(std::floor((1.0 - share) * (static_cast<double>(s.speeds_mps.size()) - 1.0)))];
}

constexpr int halvings = 10;  // of the powers in front: to a thousandth

/// The power at a rung between 0 and `high_W`, as halving comes to it.
double power_at_W(int rung, double high_W) {
  double low_W = 0.0;
  if (rung == 1 << halvings) return high_W;
  for (int bit = halvings - 1; bit >= 0; --bit) {
    const double middle_W = 0.5 * (low_W + high_W);
    (rung >> bit & 1 ? low_W : high_W) = middle_W;
  }
  return low_W;
}

/// The greatest power of the front up to `high_W` whose turns the line can keep up; looked for from the last answer.
double turns_W(Settling& s, const Cost& front, double v, double high_W, int& rung) {
  const auto shares_at = [&](double power_W) {
    const double accel_mps2 = front.accel_mps2(power_W, v, 1.0);
    double sum = 0.0;
    for (const Puller& one : s.pullers) sum += pull_share(one, accel_mps2);
    return sum;
  };
  if (shares_at(high_W) >= 1.0) return high_W;
  rung = last_rung_at_one(1 << halvings, rung, [&](int at) { return shares_at(power_at_W(at, high_W)); });
  return power_at_W(rung, high_W);
}

/// A new front takes the wind over gradually.
double taken_over_W(Settling& s, RiderIndex front, double power_W) {
  Memory& own = s.next[front];
  const double most_W = s.now.riders.power_W[front] + s.now.settings.front_ramp_Wps * s.now.interval_s;
  own.takes_over = own.takes_over && power_W > most_W;
  return own.takes_over ? most_W : power_W;
}

}  // namespace

double front_cap_W(const Snapshot& now, RiderIndex front, double turn_s) {
  const TacticsSettings& t = now.settings;
  const double critical_W = now.riders.critical_W[front];
  const double spare_W = t.front_spare_share * std::max(0.0, now.spare_J(front)) / std::max(t.front_spare_s, turn_s);
  return std::max(now.outlook[front].line_W, std::min(t.front_effort * critical_W, critical_W + spare_W));
}

FrontPower front_power(Settling& s, RiderIndex front, bool rotates, bool own_pace) {
  const TacticsSettings& t = s.now.settings;
  const double v = speed_for_power(s.now, front);
  const Cost cost = cost_at(s.now, front);
  s.pullers.clear();
  for (const RiderIndex i : s.line) s.pullers.push_back(puller(s.now, i, front, v));
  double power_W = s.now.outlook[front].line_W;
  if (rotates) power_W = turns_W(s, cost, v, front_cap_W(s.now, front, s.next[front].turn_s), s.next[front].turns_rung);
  // Below a crest the road that counts is still the one under the wheels, there and for those behind.
  Cost held = cost;
  held.slope_N = std::max(cost.slope_N, s.now.road[front].here_N);
  power_W = std::min(power_W, std::max(0.0, held.power_W(v, 1.0, suits_mps2(s, front, v))));
  if (s.now.riders.v_mps[front] < t.getting_going_mps) power_W = std::max(power_W, s.now.outlook[front].plan_W);
  if (s.now.goes_own_way()) power_W = std::max(power_W, std::min(s.now.outlook[front].plan_W, s.now.outlook[front].line_W));
  power_W = taken_over_W(s, front, power_W);
  if (own_pace) power_W = s.now.outlook[front].planned_W;
  const double accel_mps2 = cost.accel_mps2(power_W, v, 1.0);
  s.shares.clear();
  for (const Puller& one : s.pullers) s.shares.push_back(pull_share(one, accel_mps2));
  return {power_W, accel_mps2};
}

namespace {
/// Riders of a second echelon are not counted as dropped.
bool is_echelon(const Settling& s, RiderIndex j, RiderIndex front) {
  return s.now.time_s < s.next[s.lines.front_of[j]].no_follow_until_s &&
         s.now.gap_m(j, front) < s.now.settings.chase_reach_m;
}
}  // namespace

void ease_for_dropped(Settling& s, RiderIndex front) {
  const TacticsSettings& t = s.now.settings;
  Memory& own = s.next[front];
  const double v = speed_for_power(s.now, front);
  RiderIndex behind = nobody;
  for (std::size_t place = s.now.rank_of[s.line.back()] + 1; place < s.now.order.size(); ++place) {
    const RiderIndex j = s.now.order[place];
    if (s.lines.front_of[j] == front || is_echelon(s, j, front)) continue;
    const double bearable_mps2 = cost_at(s.now, j, front).accel_mps2(t.dropped_pace_share * s.now.outlook[j].plan_W, v, 1.0);
    if (bearable_mps2 >= own.front_mps2) continue;
    own.front_mps2 = bearable_mps2;
    behind = j;
  }
  if (behind != nobody) own.front_W = std::max(0.0, cost_at(s.now, front).power_W(v, 1.0, own.front_mps2));
  if (behind != nobody && !own.keeps_whole) {
    own.keeps_whole = true;
    own.why = {Reason::keeps_group_whole, behind};
    if (s.now.time_s - s.eased_at_s > t.easing_retold_s) s.tell(EventKind::eases, front, behind);
    s.eased_at_s = s.now.time_s;
  } else if (behind == nobody && own.keeps_whole) {
    own.keeps_whole = false;
    own.why = {Reason::turn_begins, nobody, {own.turn_s}};
  }
}

}  // namespace leewheel::riding
