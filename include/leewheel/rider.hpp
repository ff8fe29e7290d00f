#pragma once
/// A rider as described in a scenario.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "leewheel/field.hpp"
#include "leewheel/strength.hpp"

namespace leewheel {

/// Values that stand in a rider's description; ranges, meaning and sources in `rider_fields()`.
struct RiderSettings {
  std::string name;  ///< unique in a ride
  double body_mass_kg = 72.0;
  double kit_mass_kg = 3.0;
  double bike_mass_kg = 8.0;
  double critical_power_W = 250.0;
  double w_prime_J = 20000.0;
  double peak_power_W = 900.0;
  double drag_area_hoods_m2 = 0.34;
  double drag_area_drops_m2 = 0.31;
  double drag_area_upright_m2 = 0.37;
  double wheel_drag_area_m2 = 0.0044;
  double wheel_inertia_kgm2 = 0.14;  ///< both wheels
  double wheel_radius_m = 0.311;
  double rolling_multiplier = 1.0;
  double drivetrain_efficiency = 0.976;
  double wheel_skill = 0.6;      ///< 0 cautious, 1 very skilled at riding close
  double target_effort = 0.85;   ///< effort without a plan: share of critical power
  double pedal_force_N = 450.0;  ///< largest mean tangential force at the pedals
  double crank_length_m = 0.1725;
  double lowest_development_m = 2.2;  ///< metres per turn of the cranks in the lowest gear
  double critical_power_spread =
      0.0;                      ///< one s.d. of what is known of critical power, as a share; the day's form comes on top
  double w_prime_spread = 0.0;  ///< the same of W'

  double total_mass_kg() const { return body_mass_kg + kit_mass_kg + bike_mass_kg; }
  Strength strength() const { return {critical_power_W, w_prime_J, peak_power_W}; }
};

std::span<const NumberField<RiderSettings>> rider_fields();

/// What a rider's strength was given as.
enum class StrengthSource : std::uint8_t {
  critical_power,
  power_60min,
  power_20min,
  climb,
  as_strong_as,
  archetype,
  assumed
};

/// What a rider's strength rests on. It moves no rider: the numbers made of it, and their spread, stand in `RiderSettings`.
struct StrengthBasis {
  StrengthSource power = StrengthSource::critical_power;
  bool per_kg = false;           ///< given as watts per kilogram of body
  double held_W = 0.0;           ///< the power given; of a climb the one found for it
  double climb_m = 0.0;          ///< of a climb: its length along the road,
  double climb_grade = 0.0;      ///< its grade,
  double climb_s = 0.0;          ///< and the time taken
  std::string like{};            ///< as strong as whom, or which archetype
  bool w_prime_assumed = false;  ///< W' was not given
};

/// One step of a rider's own plan, valid from `from_m` on.
struct PlanStep {
  double from_m = 0.0;
  double effort = 0.85;  ///< share of critical power, of what is left of it where the ride has fatigue
};

}  // namespace leewheel
