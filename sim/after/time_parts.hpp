#pragma once
/// Where the time went: the rider is run again with each factor taken from the plan or from the ride, in all 32 combinations; the
/// part of a factor is the mean over the orders in which factors can be replaced (Shapley 1953, Contrib. Theory Games 2:307).

#include "after/fit.hpp"
#include "after/plan_ride.hpp"
#include "after/rerun.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

/// One rider as planned and as ridden.
struct BothRides {
  const RiderSettings* rider;
  PaceProfile planned, ridden;
  std::vector<double> ridden_factor;  ///< drag factor by cell, as learned
  WindChange wind;                    ///< learned, against the forecast
  RiderNumbers planned_numbers, ridden_numbers;
  double from_m, to_m;       ///< both known
  double scale_doubt = 0.0;  ///< of the power, where the fit of all numbers and that of the changed ones differ
};

struct TimeParted {
  AlongRoad along;
  TimeParts part_s{}, part_sd_s{};
};

/// @param fit, index  what the spreads of the parts come from; index of the rider in it
TimeParted part_time(const RideAir& air, const BothRides& rides, const Fit& fit, std::size_t index);

/// Large and sure enough to be told alone: 1 % of the planned time, and its own spread. The rest always is.
std::array<bool, factors> told_parts(const TimeParts& part_s, const TimeParts& sd_s, double planned_s);

}  // namespace leewheel
