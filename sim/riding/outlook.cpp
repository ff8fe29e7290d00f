#include "riding/outlook.hpp"

#include <algorithm>

#include "leewheel/chance.hpp"

namespace leewheel::riding {

namespace {

/// Target effort of the rider's own plan here, as a share of critical power.
double planned_effort(const Riders& r, RiderIndex i) {
  double effort = r.settings[i].target_effort;
  for (const PlanStep& step : r.plans[i])
    if (r.x_m[i] >= step.from_m) effort = step.effort;
  return effort;
}

double planned_power_W(const Snapshot& now, RiderIndex i, std::uint64_t seed, Outlook& outlook) {
  const Riders& r = now.riders;
  const TacticsSettings& t = now.settings;
  const auto block = static_cast<std::uint64_t>(now.time_s / t.wobble_block_s);
  if (block != outlook.wobble_block) {
    outlook.wobble_block = block;
    outlook.wobble = chance_normal(seed, r.name_hash[i], block, Purpose::effort);
  }
  const double critical_W = r.critical_W[i];
  const double planned_W = planned_effort(r, i) * critical_W * (1.0 + t.effort_wobble * outlook.wobble);
  return planned_W > critical_W && r.wbal_J[i] < now.reserve_J(i) ? critical_W : planned_W;
}

/// W' above the reserve is spread over the time to where the road gets easier.
double hold_limit_W(const Snapshot& now, RiderIndex i, double planned_W) {
  const Riders& r = now.riders;
  const TacticsSettings& t = now.settings;
  const double to_easing_s = (now.road[i].easing_at_m - r.x_m[i]) / std::max(1.0, r.v_mps[i]);
  const double spare_J = std::max(0.0, now.spare_J(i));
  return std::max(planned_W * t.hold_margin, r.critical_W[i] + spare_J / std::max(t.spend_horizon_s, to_easing_s));
}

}  // namespace

void assess(const Snapshot& now, RiderIndex i, std::uint64_t seed, Outlook& outlook) {
  const TacticsSettings& t = now.settings;
  outlook.planned_W = planned_power_W(now, i, seed, outlook);
  outlook.hold_limit_W = hold_limit_W(now, i, outlook.planned_W);
  const Cost cost = cost_at(now, i);
  outlook.own_speed_mps = cost.speed_mps(outlook.planned_W, 1.0, outlook.own_speed_mps);
  const double fraction = cost.power_W(outlook.own_speed_mps, t.unknown_wheel_factor) / std::max(1.0, outlook.planned_W);
  // The grade of a real road is never still: hence the hysteresis.
  outlook.wheel_worthless = fraction > t.free_climb_fraction - (outlook.wheel_worthless ? t.free_climb_hysteresis : 0.0);
  outlook.climbs_freely = now.kind == RideKind::steady && outlook.wheel_worthless;
  if (outlook.climbs_freely) outlook.hold_limit_W = outlook.planned_W * t.free_climb_margin;
  outlook.hold_speed_mps =
      cost.speed_mps(t.pace_margin * outlook.hold_limit_W, now.wheel_factor(i, now.memory[i].role), outlook.hold_speed_mps);
}

double asked_by_wheel_W(const Snapshot& now, RiderIndex i, Role role, RiderIndex wheel) {
  const double pace_mps = now.memory[now.lines.front_of[wheel]].line_pace_mps, wheel_mps = now.riders.v_mps[wheel];
  const double speed_mps = pace_mps > 0.0 ? std::min(pace_mps, wheel_mps) : wheel_mps;
  return cost_at(now, i).power_W(speed_mps, now.wheel_factor(i, role));
}

Puller puller(const Snapshot& now, RiderIndex i, Role role) {
  return {cost_at(now, i), now.outlook[i].planned_W, std::min(now.wheel_factor(i, role), now.settings.pull_factor),
          now.is_instructed(i, Choice::sits_in)};
}

double pull_share(const Puller& p, double speed_mps) {
  if (p.sits_in) return 0.0;
  constexpr double next_to_nothing_W = 1.0;
  const double front_W = p.cost.power_W(speed_mps, 1.0), behind_W = p.cost.power_W(speed_mps, p.behind_factor);
  if (front_W - behind_W < next_to_nothing_W) return p.planned_W >= front_W ? 1.0 : 0.0;
  return std::clamp((p.planned_W - behind_W) / (front_W - behind_W), 0.0, 1.0);
}

std::span<const NumberField<TacticsSettings>> outlook_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"effort_wobble", &T::effort_wobble, 0, 0.3, "spread of a rider's power about the plan, as a share", ours},
      {"wobble_block_s", &T::wobble_block_s, 1, 600, "time over which a rider's power drifts about the plan (s)", ours},
      {"wprime_reserve", &T::wprime_reserve, 0, 0.9, "share of W' kept in reserve before the top", ours},
      {"spend_horizon_s", &T::spend_horizon_s, 20, 7200, "W' above the reserve is spread over at least this long (s)", ours},
      {"hold_margin", &T::hold_margin, 1, 2, "a wheel may cost up to this many times the rider's own target power", ours},
      {"free_climb_margin", &T::free_climb_margin, 1, 2, "the same where everyone climbs freely", ours},
      {"free_climb_fraction", &T::free_climb_fraction, 0, 1.01,
       "where following costs this share of leading nobody takes turns but in a race, and in a steady ride everyone climbs "
       "freely",
       ours},
      {"free_climb_hysteresis", &T::free_climb_hysteresis, 0, 0.1, "free climbing ends when the share is lower by this much",
       ours},
      {"unknown_wheel_factor", &T::unknown_wheel_factor, 0.2, 1,
       "drag factor that a rider expects behind a wheel not yet taken: two in line (docs/model.md)", ours},
      {"pace_margin", &T::pace_margin, 0.5, 1, "a shared pace needs this share of what the weakest rider will give", ours},
      {"slope_ahead_m", &T::slope_ahead_m, 1, 200, "a rider judges the slope over this length of road ahead (m)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
