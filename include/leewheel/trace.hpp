#pragma once
/// The recorded ride: one sample a second by default, every column a T x N table of float32 in the file.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "leewheel/groups.hpp"

namespace leewheel {

/// All riders at one moment, in the order of the scenario. A column is a vector of one float a rider.
struct RideSample {
  double time_s = 0.0;
  std::vector<float> distance_m, lateral_m, speed_mps, power_W, alone_power_W, drag_factor, side_force_N, wbal_J, group_id,
      role, wheel_of, gap_m, wind_along_mps, wind_cross_mps, drag_area_m2, saved_J, pedal_J, gravity_W, air_W, rolling_W,
      kinetic_W, heart_rate_share;
};

/// A column described once: the dataset's name in the file, unit, and meaning.
struct SampleColumn {
  const char* name;
  std::vector<float> RideSample::*values;
  const char* unit;
  const char* meaning;
};
std::span<const SampleColumn> sample_columns();

}  // namespace leewheel
