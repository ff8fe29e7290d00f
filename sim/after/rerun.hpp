#pragma once
/// One rider along the road again, with power, standing, wind, company and numbers given by place.

#include <array>
#include <span>
#include <vector>

#include "after/pace_profile.hpp"
#include "after/ride_air.hpp"

namespace leewheel {

/// Numbers of the rider and the road, as shares of those in the scenario.
struct RiderNumbers {
  double drag_area = 1.0;
  double mass_kg = 0.0;  ///< in all
  std::array<double, surface_names.size()> rolling{1.0, 1.0, 1.0, 1.0};
};

/// What may be replaced, each from the plan or from the ride.
struct RerunParts {
  const PaceProfile* effort;               ///< power, and speeds kept by braking
  const PaceProfile* waits;                ///< stands
  const std::vector<double>* drag_factor;  ///< by cell
  const WindChange* wind;
  const RiderNumbers* numbers;
  double power_share = 1.0;  ///< of the effort's power
};

/// Time at every edge of cells between two places, counted from setting off at the first; 0 before it.
std::vector<double> rerun_s(const RideAir& air, const RiderSettings& rider, const RerunParts& parts, double from_m,
                            double to_m, double start_s);

}  // namespace leewheel
