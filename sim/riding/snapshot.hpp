#pragma once
/// Everyone at the start of the second. Rules read this, and never write.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/motion.hpp"
#include "leewheel/scenario.hpp"
#include "riding/decision.hpp"
#include "riding/kind.hpp"

namespace leewheel::riding {

/// The road where a rider is.
struct RoadHere {
  Lane lane;
  bool closed;              ///< to traffic
  float two_abreast_for_m;  ///< room for two side by side this far ahead
  double width_m;
  int abreast;         ///< riders allowed side by side
  double easing_at_m;  ///< where the road next gets clearly easier
  double slope_N;      ///< weight along the road, over the next `slope_ahead_m`
  double here_N;       ///< weight along the road, under the wheels
  double to_finish_s;  ///< alone at critical power in calm air; 0 in kinds that do not spend W'
};

/// What a rider can give here and what a wheel is worth; worked out anew each second, before anyone decides.
struct Outlook {
  double plan_W = 0.0;           ///< target power of the plan
  double line_W = 0.0;           ///< the same with what was given too much or too little of late: what a line may ask
  double behind_factor = 1.0;    ///< mean drag factor of late while not in front, the way back in line included
  double behind_s = 0.0;         ///< time that this mean is of, up to `behind_memory_s`
  double debt_J = 0.0;           ///< work below the plan, alone or in company, bounded
  double given_J = 0.0;          ///< work at the cranks when that was last brought up to date
  double planned_W = 0.0;        ///< target power of the plan, with the rider's own wobble
  double own_speed_mps = 3.0;    ///< steady speed alone at planned_W
  double hold_limit_W = 0.0;     ///< what the rider will give to hold a wheel
  bool wheel_worthless = false;  ///< following costs next to as much as leading here
  bool climbs_freely = false;    ///< everyone rides at his or her own pace
  double wobble = 0.0;           ///< of the effort, drawn anew every wobble block
  std::uint64_t wobble_block = UINT64_MAX;
};

struct Snapshot {
  double time_s = 0.0, interval_s = 1.0;
  RideKind kind = RideKind::steady;
  Formation formation = Formation::turns;
  bool keep_right = true;
  double road_length_m = 0.0;
  std::span<const PlannedStop> waiting_places;
  std::span<const Instruction> instructions;  ///< imposed choices; `rider` is the index here
  const Riders& riders;
  const TacticsSettings& settings;
  std::span<const RiderIndex> order;    ///< riding, from the front
  std::span<const RiderIndex> rank_of;  ///< place in `order`
  std::span<const std::int32_t> group_of;
  std::span<const RoadHere> road;    ///< by rider
  std::span<const Outlook> outlook;  ///< by rider
  std::span<const Memory> memory;    ///< by rider
  const Lines& lines;

  const KindLaws& laws() const { return laws_of(kind); }
  /// Nobody rides below his or her own plan for others; not where the pace is set to suit everyone.
  bool goes_own_way() const { return laws().own_way && !(laws().shares_pace() && settings.*laws().pace_share >= 1.0); }
  double gap_m(RiderIndex behind, RiderIndex ahead) const { return riders.gap_m(behind, ahead); }
  double reserve_J(RiderIndex i) const {
    return (laws().spends ? settings.race_reserve : settings.wprime_reserve) * riders.settings[i].w_prime_J;
  }
  double spare_J(RiderIndex i) const { return riders.wbal_J[i] - reserve_J(i); }
  RiderIndex next_behind(RiderIndex i) const { return rank_of[i] + 1 < order.size() ? order[rank_of[i] + 1] : nobody; }
  /// Someone sits on the rider's wheel.
  bool is_followed(RiderIndex i) const {
    const RiderIndex next = next_behind(i);
    return next != nobody && gap_m(next, i) < settings.followed_within_m;
  }
  int passing_side() const { return keep_right ? +1 : -1; }
  bool in_crosswind(RiderIndex i) const { return std::abs(riders.wind_cross_mps[i]) > settings.echelon_cross_mps; }
  bool is_instructed(RiderIndex i, Choice choice) const {
    const Memory& m = memory[i];
    return m.instruction >= 0 && !m.carried_out && instructions[static_cast<std::size_t>(m.instruction)].choice == choice;
  }
  /// Takes no turns: by instruction, or for want of strength after `skips_before_sitting_in` turns let pass.
  bool sits_in(RiderIndex i, const Memory& as_of) const {
    return is_instructed(i, Choice::sits_in) || as_of.skipped_turns >= settings.skips_before_sitting_in;
  }
  /// Drag factor a rider has, or would have once on the wheel: a gap that opens for a moment does not change the judgement.
  double wheel_factor(RiderIndex i, Role role) const {
    return role == Role::following ? std::min(riders.drag_factor[i], settings.unknown_wheel_factor)
                                   : settings.unknown_wheel_factor;
  }
};

/// Crank power (W) that holds a steady speed at the place of one rider, and the speed that a power holds.
struct Cost {
  double half_density, area_m2, wheel_area_m2, wind_along_mps, cross2, rolling_N, slope_N, efficiency, mass_kg;

  /// Force (N) against a rider at a steady speed.
  double resistance_N(double v, double drag_factor) const {
    const double along = v - wind_along_mps;
    const double air_N = half_density * (area_m2 * drag_factor + wheel_area_m2) * along * std::sqrt(along * along + cross2);
    return air_N + rolling_N + bearing_force_N(v) + slope_N;
  }
  /// Power (W) at the cranks against that force, with an acceleration.
  double power_against_W(double force_N, double v, double accel_mps2) const {
    const double wheel_W = (force_N + mass_kg * accel_mps2) * v;
    return wheel_W > 0.0 ? wheel_W / efficiency : wheel_W;
  }
  double power_W(double v, double drag_factor, double accel_mps2 = 0.0) const {
    return power_against_W(resistance_N(v, drag_factor), v, accel_mps2);
  }
  /// Acceleration (m/s2) that a power gives.
  double accel_mps2(double power_W, double v, double drag_factor) const {
    return (efficiency * power_W / v - resistance_N(v, drag_factor)) / mass_kg;
  }
  /// One step of Newton from the last answer: a second changes road and wind little, and the next second goes on.
  double speed_mps(double power_W, double drag_factor, double last_mps) const;
};
Cost cost_at(const Snapshot& now, RiderIndex i);
/// The same where another rider is: that one's slope and wind.
Cost cost_at(const Snapshot& now, RiderIndex i, RiderIndex where);

}  // namespace leewheel::riding
