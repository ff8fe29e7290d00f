/// Strength, its recovery and fading, by strength.hpp.

#include "evidence/closed_forms.hpp"
#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/integral_wbal.hpp"
#include "leewheel/strength.hpp"

namespace leewheel::evidence {
namespace {

Strength read_strength(YamlMap& given) {
  Strength strength;
  strength.critical_power_W = needed(given, "critical_power_W", {0.0, 2000.0, true});
  strength.w_prime_J = needed(given, "w_prime_J", {0.0, 1e6, true});
  strength.peak_power_W =
      optional(given, "peak_power_W", {strength.critical_power_W, 1e4, true}, 10.0 * strength.critical_power_W);
  return strength;
}

Work read_exhaustion(YamlMap& given) {
  const Strength strength = read_strength(given);
  const bool three = given["peak_power_W"].given();
  const std::vector<double> power_W =
      number_list(given.require("power_W", "numbers"), {strength.critical_power_W, 1e4, true});
  return [=](const WakeLaw&) -> Quantities {
    Quantity time{"time_s", {}};
    for (const double W : power_W)
      time.values.push_back(three ? exhaustion_three_parameter_s(strength, W) : exhaustion_two_parameter_s(strength, W));
    return {time};
  };
}

RecoveryLaw read_law(YamlMap& given) {
  RecoveryLaw law = RecoveryLaw::differential;
  given.require("law", "a law of recovery").choice(recovery_law_names, law);
  return law;
}

Work read_recovery_time(YamlMap& given) {
  const RecoveryLaw law = read_law(given);
  const std::vector<double> below_W = number_list(given.require("below_critical_power_W", "numbers"), {0.0, 2000.0, true});
  const double w_prime_J = optional(given, "w_prime_J", {0.0, 1e6, true}, 20000.0);
  return [=](const WakeLaw&) -> Quantities {
    Quantity tau{"time_constant_s", {}};
    for (const double W : below_W) tau.values.push_back(recovery_time_s(law, W, w_prime_J));
    return {tau};
  };
}

Work read_wbal(YamlMap& given) {
  const Strength strength = read_strength(given);
  const RecoveryLaw law = read_law(given);
  const double start_J = optional(given, "start_J", {-1e6, strength.w_prime_J}, strength.w_prime_J);
  std::vector<PowerPiece> pieces;
  long times = 1;
  for (const YamlValue& item : given.require("pieces", "a list of {duration_s, power_W}").items()) {
    YamlMap piece(item);
    pieces.push_back({needed(piece, "duration_s", positive), needed(piece, "power_W", {0.0, 1e4})});
  }
  given["times"].whole(1, 10000, times);
  const std::size_t once = pieces.size();
  for (long round = 1; round < times; ++round) pieces.insert(pieces.end(), pieces.begin(), pieces.begin() + once);
  return [=](const WakeLaw&) -> Quantities {
    Quantity left{"wbal_J", {}}, share{"wbal_share", {}};
    if (law == RecoveryLaw::integral) left.values = integral_wbal_J(strength, pieces, strength.w_prime_J - start_J);
    double wbal_J = start_J;
    if (law != RecoveryLaw::integral)
      for (const PowerPiece& piece : pieces)
        left.values.push_back(wbal_J = wbal_after_J(law, strength, wbal_J, piece.power_W, piece.duration_s));
    for (const double left_J : left.values) share.values.push_back(left_J / strength.w_prime_J);
    return {left, share};
  };
}

Work read_fatigue(YamlMap& given) {
  const Strength fresh = read_strength(given);
  const std::vector<double> heavy_min = number_list(given.require("heavy_min", "numbers"), {0.0, 1000.0});
  return [=](const WakeLaw&) -> Quantities {
    Quantity cp{"critical_power_W", {}}, w{"w_prime_J", {}};
    for (const double min : heavy_min) {
      const Strength left = strength_after_heavy_riding(fresh, 60.0 * min);
      cp.values.push_back(left.critical_power_W);
      w.values.push_back(left.w_prime_J);
    }
    return {cp, w};
  };
}

Work read_energy(YamlMap& given) {
  const double power_W = needed(given, "power_W", {0.0, 1e4}),
               efficiency = needed(given, "gross_efficiency_percent", {1.0, 100.0});
  return [=](const WakeLaw&) -> Quantities {
    return {{"energy_kcal_per_h", {energy_kcal(3600.0 * power_W, efficiency / 100.0)}}};
  };
}

}  // namespace

std::vector<Kind> strength_kinds() {
  return {{"exhaustion", "time to exhaustion; three-parameter form if peak_power_W is given", {"time_s"}, read_exhaustion},
          {"recovery_time", "time constant of a law of recovery", {"time_constant_s"}, read_recovery_time},
          {"wbal", "W' left after each piece of a series of powers", {"wbal_J", "wbal_share"}, read_wbal},
          {"fatigue", "strength after heavy riding without food", {"critical_power_W", "w_prime_J"}, read_fatigue},
          {"energy", "energy the body spends", {"energy_kcal_per_h"}, read_energy}};
}

}  // namespace leewheel::evidence
