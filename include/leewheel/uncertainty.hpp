#pragma once
/// Uncertain inputs of a ride: their names, the standard deviation of each, and random draws of them.

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "leewheel/field.hpp"

namespace leewheel {

struct Scenario;

/// One standard deviation of each input about the scenario's value; 0 takes an input as known. Meaning and source of each
/// in `uncertainty_fields()`. Degrees, because that is how the key is typed.
struct Uncertainty {
  double wind_speed_mps = 1.5;
  double wind_direction_deg = 20.0;
  double wake_scale = 0.15;
  double halving_turbulence_factor = 1.5;
  double rolling_share = 0.10;
  double drag_area_share = 0.04;
  double critical_power_share = 0.03;
  double w_prime_share = 0.12;
  double mass_kg = 1.0;
};

std::span<const NumberField<Uncertainty>> uncertainty_fields();

/// The inputs in the order of `Uncertainty`: the first `shared_inputs` hold for everyone on the road that day, the others
/// are each rider's own.
enum class Input : std::uint8_t {
  wind_speed,
  wind_direction,
  wake_scale,
  halving_turbulence,
  rolling,
  drag_area,
  critical_power,
  w_prime,
  mass
};
inline constexpr std::size_t shared_inputs = 5, own_inputs = 4, all_inputs = shared_inputs + own_inputs;
inline constexpr std::array<std::string_view, all_inputs> input_names{"forecast wind speed",
                                                                      "forecast wind direction",
                                                                      "what wakes save",
                                                                      "length of wakes in turbulence",
                                                                      "rolling resistance",
                                                                      "own drag area",
                                                                      "own critical power",
                                                                      "own W'",
                                                                      "own mass"};

/// One day: standard normal numbers, independent of one another, cut off at 3.
struct Draw {
  std::array<double, shared_inputs> shared{};
  std::vector<std::array<double, own_inputs>> own;  ///< by rider, in the order of the scenario
};

/// Day `number` of a seed, counter-based: the same in any order of calls; a rider's day depends on the name.
Draw draw_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number);

/// The scenario as it would be on that day. Wind: speed moved by so many m/s (never below 0) with its gusts, direction
/// turned; coefficients scaled by 1 + share z, the length of wakes in turbulence by factor^z; drag area in all postures.
Scenario on_day(const Scenario& scenario, const Draw& draw);

}  // namespace leewheel
