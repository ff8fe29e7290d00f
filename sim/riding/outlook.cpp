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

/// Critical power, more where it is steep, and the spare W' spread over the way to the finish.
double race_power_W(const Snapshot& now, RiderIndex i, const Outlook& outlook) {
  const TacticsSettings& t = now.settings;
  const double critical_W = now.riders.critical_W[i];
  const double climbing = std::clamp(now.road[i].slope_N * outlook.own_speed_mps / critical_W, -1.0, 1.0);
  const double spare_W = std::max(0.0, now.spare_J(i)) / std::max(t.race_last_s, now.road[i].to_finish_s);
  return critical_W * (1.0 + t.race_steeper * (climbing - 0.5)) + spare_W;
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
  outlook.plan_W =
      now.laws().spends && r.plans[i].empty() ? race_power_W(now, i, outlook) : planned_effort(r, i) * critical_W;
  const double planned_W = outlook.plan_W * (1.0 + t.effort_wobble * outlook.wobble);
  return planned_W > critical_W && r.wbal_J[i] < now.reserve_J(i) ? critical_W : planned_W;
}

/// What a rider gave below the plan may be asked of later, and what was above is spared.
void keep_debt(const Snapshot& now, RiderIndex i, Outlook& outlook) {
  const TacticsSettings& t = now.settings;
  const double given_J = now.riders.ledgers.pedal_J[i];
  const double mean_W = (given_J - outlook.given_J) / now.interval_s;
  outlook.given_J = given_J;
  const double most_J = t.debt_share * outlook.plan_W * t.debt_memory_s;
  if (now.memory[i].role != Role::waiting)
    outlook.debt_J = std::clamp(outlook.debt_J + (outlook.plan_W - mean_W) * now.interval_s, -most_J, most_J);
  outlook.line_W = outlook.plan_W + (now.laws().spends ? 0.0 : outlook.debt_J / t.debt_memory_s);
  if (now.spare_J(i) < 0.0) outlook.line_W = std::min(outlook.line_W, now.riders.critical_W[i]);
}

/// The mean drag factor behind others: of all the time at first, then of late.
void keep_shelter(const Snapshot& now, RiderIndex i, Outlook& outlook) {
  if (const Role role = now.memory[i].role; role != Role::following && role != Role::drifting_back) return;
  outlook.behind_s = std::min(now.settings.behind_memory_s, outlook.behind_s + now.interval_s);
  const double weight = std::min(1.0, now.interval_s / outlook.behind_s);
  outlook.behind_factor += (now.riders.drag_factor[i] - outlook.behind_factor) * weight;
}

/// W' above the reserve is spread over the time to where the road gets easier.
double hold_limit_W(const Snapshot& now, RiderIndex i, double planned_W) {
  const Riders& r = now.riders;
  const TacticsSettings& t = now.settings;
  const double to_easing_s = (now.road[i].easing_at_m - r.x_m[i]) / std::max(1.0, r.v_mps[i]);
  const double spare_J = now.spare_J(i);
  if (spare_J <= 0.0) return r.critical_W[i];
  return std::max(planned_W * t.hold_margin, r.critical_W[i] + spare_J / std::max(t.spend_horizon_s, to_easing_s));
}

}  // namespace

void assess(const Snapshot& now, RiderIndex i, std::uint64_t seed, Outlook& outlook) {
  const TacticsSettings& t = now.settings;
  outlook.planned_W = planned_power_W(now, i, seed, outlook);
  keep_debt(now, i, outlook);
  keep_shelter(now, i, outlook);
  outlook.hold_limit_W = hold_limit_W(now, i, outlook.planned_W);
  const Cost cost = cost_at(now, i);
  outlook.own_speed_mps = cost.speed_mps(outlook.planned_W, 1.0, outlook.own_speed_mps);
  const double fraction = cost.power_W(outlook.own_speed_mps, t.unknown_wheel_factor) / std::max(1.0, outlook.planned_W);
  // The grade of a real road is never still: hence the hysteresis.
  outlook.wheel_worthless = fraction > t.free_climb_fraction - (outlook.wheel_worthless ? t.free_climb_hysteresis : 0.0);
  // A free climb begins only where it lasts; otherwise the group would have to find together again at once.
  const double lasts_s = (now.road[i].easing_at_m - now.riders.x_m[i]) / std::max(1.0, now.riders.v_mps[i]);
  outlook.climbs_freely =
      now.laws().climbs_freely && outlook.wheel_worthless && (outlook.climbs_freely || lasts_s > t.free_climb_lasts_s);
  if (outlook.climbs_freely) outlook.hold_limit_W = std::min(outlook.hold_limit_W, outlook.planned_W * t.free_climb_margin);
}

double comfortable_mps2(const Snapshot& now, RiderIndex i) {
  return now.settings.comfort_acceleration_mps2 + std::max(0.0, -now.road[i].slope_N / now.riders.moving_mass_kg[i]);
}

double asked_by_wheel_W(const Snapshot& now, RiderIndex i, Role role, RiderIndex wheel) {
  const RiderIndex front = now.lines.front_of[wheel];
  const double slowing_mps2 = std::min(0.0, now.riders.accel_mps2[front]);
  return cost_at(now, i).power_W(now.riders.v_mps[wheel], now.wheel_factor(i, role), slowing_mps2);
}

Puller puller(const Snapshot& now, RiderIndex i, RiderIndex where, double speed_mps) {
  const Cost cost = cost_at(now, i, where);
  return {.cost = cost,
          .planned_W = now.outlook[i].line_W,
          .speed_mps = speed_mps,
          .front_N = cost.resistance_N(speed_mps, 1.0),
          .behind_N = cost.resistance_N(speed_mps, std::min(1.0, now.outlook[i].behind_factor)),
          .sits_in = now.is_instructed(i, Choice::sits_in)};
}

double pull_share(const Puller& p, double accel_mps2) {
  if (p.sits_in) return 0.0;
  constexpr double next_to_nothing_W = 1.0;
  const double front_W = p.cost.power_against_W(p.front_N, p.speed_mps, accel_mps2);
  const double behind_W = std::max(0.0, p.cost.power_against_W(p.behind_N, p.speed_mps, accel_mps2));
  return std::clamp((p.planned_W - behind_W) / std::max(next_to_nothing_W, front_W - behind_W), 0.0, 1.0);
}

std::span<const NumberField<TacticsSettings>> outlook_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"effort_wobble", &T::effort_wobble, 0, 0.3, "spread of a rider's power about the plan, as a share", ours},
      {"wobble_block_s", &T::wobble_block_s, 1, 600, "time over which a rider's power drifts about the plan (s)", ours},
      {"wprime_reserve", &T::wprime_reserve, 0, 0.9, "share of W' kept in reserve before the top", ours},
      {"race_reserve", &T::race_reserve, 0, 0.9, "race: share of W' that is left at the finish", ours},
      {"race_steeper", &T::race_steeper, 0, 1,
       "race: where all power goes into height a rider gives this share of critical power more than on the level", ours},
      {"race_last_s", &T::race_last_s, 1, 600, "race: shortest time over which the rest of W' is spread (s)", ours},
      {"race_sprint_effort", &T::race_sprint_effort, 1, 4,
       "race: once W' above the reserve lasts to the finish at this many times critical power, riders sprint past one "
       "another",
       ours},
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
      {"unknown_line_factor", &T::unknown_line_factor, 0.2, 1,
       "drag factor behind in a line, the way back included, before any has been ridden", ours},
      {"pace_margin", &T::pace_margin, 0.5, 1, "a shared pace needs this share of what the weakest rider will give", ours},
      {"slope_ahead_m", &T::slope_ahead_m, 1, 200, "a rider judges the slope over this length of road ahead (m)", ours},
      {"free_climb_lasts_s", &T::free_climb_lasts_s, 0, 3600,
       "a free climb begins only where the road stays so for this long (s)", ours},
      {"behind_memory_s", &T::behind_memory_s, 1, 600, "the shelter of the line is judged over about this time (s)", ours},
      {"unknown_line_s", &T::unknown_line_s, 1, 600, "and unknown_line_factor counts as if ridden for this long (s)", ours},
      {"debt_memory_s", &T::debt_memory_s, 10, 3600,
       "what a rider gave above or below the plan in company is made good over this long (s)", ours},
      {"debt_share", &T::debt_share, 0, 1, "and by at most this share of the plan", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
