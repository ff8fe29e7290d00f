#pragma once
/// How strong a rider is, from what clubs know: critical power, the power of an hour or of twenty minutes, in watts or watts per
/// kilogram, a climb ridden, or another rider as strong.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "io/yaml_reader.hpp"
#include "leewheel/rider.hpp"

namespace leewheel {

using Archetypes = std::map<std::string, RiderSettings>;

/// A rider as read, before those who are as strong as others are known.
struct ReadRider {
  RiderSettings settings;
  StrengthBasis basis;
  std::vector<YamlValue> as_strong_as;  ///< the value, or nothing
  bool w_prime_given = false;
};

/// One standard deviation of critical power as a share of it, by what it was given as (assumed, but where the source is named).
inline constexpr double power_of_a_time_spread = 0.06;  ///< Karsten et al. 2021: s.d. 13 W of 256 W, and a bias of 4 %
inline constexpr double climb_spread = 0.08;            ///< wind, weight and tyres of that day, and whether all was given
inline constexpr double as_strong_as_spread = 0.05;     ///< beside that of the other rider
inline constexpr double per_kg_spread = 0.02;           ///< beside that of the power: rounding, and the mass on that day
inline constexpr double unknown_power_spread = 0.20;
inline constexpr double unknown_w_prime_spread = 0.25;  ///< groups of alike riders have 18 % (Clark et al. 2019)

/// Reads the numbers of a rider into `rider`, which holds what is known already: an archetype, or the rider of a club file.
void read_strength(YamlMap& map, ReadRider& rider);

/// Gives those who are as strong as others their strength, with the same critical power and W' per kilogram of rider, kit and
/// bicycle. Unknown names and rings of names become faults.
void settle_as_strong_as(std::vector<ReadRider>& riders);

}  // namespace leewheel
