#include "riding/command.hpp"

#include <algorithm>

#include "riding/echelon.hpp"
#include "riding/formation.hpp"
#include "riding/outlook.hpp"
#include "riding/placing.hpp"

namespace leewheel::riding {

double promptly_mps(const Snapshot& now, RiderIndex i, double wish_mps) {
  constexpr double least_mps = 1.0;
  return std::max(least_mps, wish_mps + std::min(0.0, wish_mps - now.riders.v_mps[i]));
}

namespace {

/// Power (W) by role, strength apart.
double most_by_role_W(const Settling& s, RiderIndex i, double limit_W) {
  const TacticsSettings& t = s.now.settings;
  const double critical_W = s.now.riders.critical_W[i], hold_W = s.now.outlook[i].hold_limit_W;
  switch (s.next[i].role) {
    // A few seconds' surge to stay on costs little; what the wheel costs for long is judged apart.
    case Role::drifting_back:
    case Role::following: return s.now.spare_J(i) > 0.0 ? std::max(hold_W, t.surge * critical_W) : hold_W;
    case Role::chasing: return s.now.spare_J(i) > 0.0 ? std::max(hold_W, critical_W * t.chase_effort) : hold_W;
    case Role::waiting: return 0.0;
    default: return limit_W;
  }
}

double pace_mps(const Settling& s, RiderIndex i) {
  const Memory& own = s.next[i];
  if (own.role != Role::drifting_back) return 0.0;
  return formation_of(s.now, s.lines, s.lines.front_of[i]).going_back_mps(s, i);
}

/// Power (W) that is slower than the next rider behind.
double lets_come_W(const Settling& s, RiderIndex i) {
  const RiderIndex behind = s.now.next_behind(i);
  if (behind == nobody) return s.now.riders.power_limit_W(i);
  return std::max(0.0, cost_at(s.now, i).power_W(s.now.settings.wait_effort * s.now.riders.v_mps[behind], 1.0));
}

}  // namespace

Command command_for(const Settling& s, RiderIndex i) {
  const Memory& own = s.next[i];
  const double limit_W = s.now.riders.power_limit_W(i);
  Command command{};
  command.free_W = std::min(s.now.outlook[i].planned_W, limit_W);
  if (own.eases || own.eases_for_group) command.free_W *= s.now.settings.wait_effort;
  if (own.eases_for_group && s.now.laws().keeps_whole) command.free_W = std::min(command.free_W, lets_come_W(s, i));
  if (own.role == Role::waiting) command.free_W = 0.0;
  if (own.role == Role::front && own.front_W != own_plan) command.free_W = std::min(own.front_W, limit_W);
  command.most_W = std::min(limit_W, most_by_role_W(s, i, limit_W));
  command.pace_mps = pace_mps(s, i);
  command.most_mps2 = comfortable_mps2(s.now, i);
  const bool leads_echelon = s.now.time_s < own.no_follow_until_s && (own.role == Role::front || own.role == Role::alone);
  if (const double behind_mps = leads_echelon ? pace_behind_echelon_mps(s.now, s.lines, i) : 0.0; behind_mps > 0.0)
    command.pace_mps = command.pace_mps > 0.0 ? std::min(command.pace_mps, behind_mps) : behind_mps;
  place_sideways(s, i, command);
  return command;
}

}  // namespace leewheel::riding
