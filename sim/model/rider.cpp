#include "leewheel/rider.hpp"

namespace leewheel {

std::span<const NumberField<RiderSettings>> rider_fields() {
  using R = RiderSettings;
  static constexpr const char* field_cda =
      "Merkes, Menaspa & Abbiss 2019, IJSPP 14:733 (11 riders, seated: 0.363, s.d. 0.071); default assumed";
  static constexpr const char* martin = "Martin et al. 1998, J Appl Biomech 14:276";
  static constexpr NumberField<R> fields[] = {
      {"body_mass_kg", &R::body_mass_kg, 0.0, 250.0, "the rider undressed", "assumed", true},
      {"kit_mass_kg", &R::kit_mass_kg, 0.0, 50.0, "clothing, shoes, helmet, bottles, luggage", "assumed"},
      {"bike_mass_kg", &R::bike_mass_kg, 0.0, 100.0, "the bicycle", "assumed", true},
      {"critical_power_W", &R::critical_power_W, 0.0, 700.0, "highest power that can be held without using up W'",
       "Clark et al. 2019, J Appl Physiol 127:726 (16 riders: 260, s.d. 37); default assumed", true},
      {"w_prime_J", &R::w_prime_J, 0.0, 100000.0, "work above critical power until exhaustion",
       "Clark et al. 2019, J Appl Physiol 127:726 (16 riders: 17.9 kJ, s.d. 3.3 kJ); default assumed", true},
      {"peak_power_W", &R::peak_power_W, 0.0, 3000.0, "highest power over a few seconds; above critical power", "assumed",
       true},
      {"drag_area_hoods_m2", &R::drag_area_hoods_m2, 0.05, 1.5, "CdA with hands on the hoods, alone, without wheels' drag",
       field_cda},
      {"drag_area_drops_m2", &R::drag_area_drops_m2, 0.05, 1.5, "CdA with hands on the drops",
       "Grappe et al. 1997, Ergonomics 40:1299 (drops 8 % below upright); default assumed"},
      {"drag_area_upright_m2", &R::drag_area_upright_m2, 0.05, 1.5, "CdA sitting up, hands on the tops",
       "Grappe et al. 1997, Ergonomics 40:1299 (upright 8 % above drops); default assumed"},
      {"wheel_drag_area_m2", &R::wheel_drag_area_m2, 0.0, 0.05, "drag area of turning the wheels in the air", martin},
      {"wheel_inertia_kgm2", &R::wheel_inertia_kgm2, 0.0, 1.0, "moment of inertia of both wheels", martin},
      {"wheel_radius_m", &R::wheel_radius_m, 0.1, 0.5, "rolling radius of a wheel", martin},
      {"rolling_multiplier", &R::rolling_multiplier, 0.2, 5.0, "factor of this rider's tyres on the road's Crr", "assumed"},
      {"drivetrain_efficiency", &R::drivetrain_efficiency, 0.5, 1.0, "power at the wheel over power at the cranks", martin},
      {"wheel_skill", &R::wheel_skill, 0.0, 1.0, "0 cautious, 1 very skilled at riding close", "assumed"},
      {"target_effort", &R::target_effort, 0.0, 3.0, "effort without a plan: share of critical power", "assumed", true},
      {"pedal_force_N", &R::pedal_force_N, 0.0, 3000.0, "largest mean tangential force at the pedals", "assumed", true},
      {"crank_length_m", &R::crank_length_m, 0.1, 0.25, "length of a crank", "common practice, no source"},
      {"lowest_development_m", &R::lowest_development_m, 0.5, 10.0, "metres per turn of the cranks in the lowest gear",
       "common practice, no source"},
      {"critical_power_spread", &R::critical_power_spread, 0.0, 0.5,
       "how well critical power is known: one standard deviation as a share of it; the day's form comes on top", "assumed"},
      {"w_prime_spread", &R::w_prime_spread, 0.0, 0.5, "how well W' is known: one standard deviation as a share of it",
       "assumed"},
  };
  return fields;
}

}  // namespace leewheel
