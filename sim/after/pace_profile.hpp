#pragma once
/// One rider's ride by place, so that it can be ridden again with something changed: power, drag factor and standing, from a plan's
/// ride or from a recording.

#include <span>
#include <vector>

#include "after/company.hpp"
#include "after/match.hpp"
#include "leewheel/scenario.hpp"

namespace leewheel {

inline constexpr double cell_length_m = 20.0;

/// Second by second, of a ride that was simulated or recorded.
struct RiddenSeconds {
  std::span<const double> distance_m, speed_mps, power_W;  ///< power NaN where unknown
  std::span<const float> drag_factor;
  std::vector<Stand> stands;  ///< a start later than the others is a stand at its place
};

struct PaceProfile {
  double start_m = 0.0, start_mps = 3.0, start_s = 0.0;  ///< start_s: when the rider sets off
  double end_m = 0.0;
  std::vector<double> power_W;      ///< by cell, mean over the time ridden in it
  std::vector<bool> measured;       ///< by cell: power was recorded in it or close by
  std::vector<double> drag_factor;  ///< by cell
  std::vector<double> limit_mps;    ///< by cell: where the rider freewheeled, the speed kept by braking; else none
  std::vector<Stand> stands;        ///< by distance; their times are those of the ride
  std::vector<double> arrival_s;    ///< by edge of cells (one more than cells); NaN where the rider never was
};

PaceProfile profile_of(const RiddenSeconds& ridden, double length_m);

/// Where no power was recorded the effort is taken as planned, brakes with it. Returns the share of the way that has power.
double take_effort_of_plan(const PaceProfile& plan, double from_m, double to_m, PaceProfile& profile);

/// Riders wait in a file, before a landmark and behind it: a stand near one counts as on the way to it, planned or ridden.
void stand_before_landmarks(const Road& road, PaceProfile& profile);

}  // namespace leewheel
