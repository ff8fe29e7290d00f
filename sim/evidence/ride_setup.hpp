#pragma once
/// Rides for rows of evidence, with the settings that a scenario has when it names none. What a row gives are circumstances:
/// riders, road, air, wind.

#include <vector>

#include "io/yaml_reader.hpp"
#include "leewheel/motion.hpp"
#include "leewheel/scenario.hpp"

namespace leewheel::evidence {

/// Riders alike in all but strength, on one grade, in the air and wind of `load`.
struct RideSetup {
  RoadLoad load;
  double length_m = 0.0;
  double w_prime_J = RiderSettings{}.w_prime_J;
  double target_effort = RiderSettings{}.target_effort;
  double wheel_skill = RiderSettings{}.wheel_skill;
};

/// A load, `length_m`, and what else a rider may have.
RideSetup read_ride_setup(YamlMap& given, double shortest_m);

/// One rider for each plan (W), from the front; together.
Scenario ride_of(const RideSetup& setup, const std::vector<double>& plan_W);

}  // namespace leewheel::evidence
