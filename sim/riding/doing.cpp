#include "riding/doing.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::riding {

Because doing(const Riders& r, const TacticsSettings& t, const Memory& memory, const Outlook& outlook, RiderIndex i) {
  const RiderIndex wheel = r.wheel_of[i];
  if (r.stop_at_m[i] - r.x_m[i] < t.waiting_room_m) return {Reason::at_regroup_point};
  if (outlook.climbs_freely && memory.role != Role::waiting) return {Reason::climbs_freely, nobody, {outlook.own_speed_mps}};
  if (r.wbal_J[i] < t.nothing_left_share * r.settings[i].w_prime_J && r.power_W[i] > t.at_the_limit_share * r.critical_W[i])
    return {Reason::nothing_left, nobody, {r.power_W[i]}};
  if (wheel != nobody && memory.asked_W < 1.0) return {Reason::on_wheel, wheel};
  if (wheel != nobody)
    return {Reason::behind_wheel, wheel, {std::max(0.0, r.gap_m(i, wheel)), memory.asked_W, outlook.hold_limit_W}};
  // The only reader of a reason, and it decides nothing: while the wheel's cost is the last that was told, that is told again.
  if (memory.let_go_of != nobody && memory.why.reason != Reason::wheel_too_costly) {
    const bool near = std::abs(r.x_m[memory.let_go_of] - r.x_m[i]) < t.passing_room_m;
    return {near ? Reason::back_with : Reason::let_wheel_go, memory.let_go_of};
  }
  if (memory.role == Role::drifting_back) return {Reason::comes_back};
  if (memory.role == Role::front) return {Reason::leads, nobody, {r.v_mps[i]}};
  return memory.why;
}

std::span<const NumberField<TacticsSettings>> doing_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"nothing_left_share", &T::nothing_left_share, 0, 1, "events say that a rider has nothing left below this share of W'",
       ours},
      {"at_the_limit_share", &T::at_the_limit_share, 0, 2, "and when the power is above this share of critical power", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
