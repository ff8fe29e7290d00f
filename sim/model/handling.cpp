#include "model/handling.hpp"

namespace leewheel {

std::span<const NumberField<TacticsSettings>> handling_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"gap_stiffness_1ps2", &T::gap_stiffness_1ps2, 0, 2, "gap law: acceleration per metre of gap error (1/s2)", ours},
      {"speed_damping_1ps", &T::speed_damping_1ps, 0, 5, "gap law: weight of the speed difference to the wheel ahead (1/s)",
       ours},
      {"front_damping_1ps", &T::front_damping_1ps, 0, 5, "gap law: weight of the speed difference to the first rider (1/s)",
       ours},
      {"room_used_m", &T::room_used_m, 0.5, 50,
       "gap law: a rider with this much room beyond the own gap does not slow with the wheel, with half of it half as much "
       "(m)",
       ours},
      {"headway_s", &T::headway_s, 0, 2, "gap law: extra gap for each m/s of speed (s)", ours},
      {"gap_skilled_m", &T::gap_skilled_m, 0.1, 5, "wheel gap of a rider with wheel_skill 1 (m)",
       "road races 0.3 to over 1 m (second-hand)"},
      {"gap_wary_m", &T::gap_wary_m, 0.1, 10, "wheel gap of a rider with wheel_skill 0 (m)",
       "clubs: a foot to two wheel lengths (club guides)"},
      {"comfort_acceleration_mps2", &T::comfort_acceleration_mps2, 0.05, 3, "largest acceleration in a group (m/s2)", ours},
      {"comfort_braking_mps2", &T::comfort_braking_mps2, 0.2, 5, "braking that a rider plans for (m/s2)", ours},
      {"hardest_braking_mps2", &T::hardest_braking_mps2, 1, 8, "largest braking that brakes and road allow (m/s2)", ours},
      {"cornering_mps2", &T::cornering_mps2, 0.5, 8, "sideways acceleration accepted in bends (m/s2)", ours},
      {"descent_speed_mps", &T::descent_speed_mps, 3, 35, "highest speed downhill (m/s)", ours},
      {"reaction_s", &T::reaction_s, 0, 2, "delay after which a rider sees the speed of the wheel ahead (s)", ours},
  };
  return fields;
}

}  // namespace leewheel
