#pragma once
/// One rider alone on the road on one day over one stretch: time over mean driving power (`WayRidden`), by
/// rides at scaled efforts.

#include <optional>
#include <vector>

#include "leewheel/weigh.hpp"

namespace leewheel {

/// The rider alone on that day, the weather such that the rider comes to the stretch at the hour of the ride in company.
Scenario solo_at_hour(const Scenario& day, std::size_t rider, const TimedStretch& stretch, double comes_at_s);

/// Efforts outside the stretch stay the rider's own. W' has no bottom here: the question is what these watts bring, not how
/// long they last. In a race without a plan the rider alone rides the stretch at an even effort.
class SoloCurve {
 public:
  /// @param solo  as `alone` gives it
  /// @param own_power_W  at the cranks, mean over the stretch, ridden alone
  SoloCurve(const Scenario& solo, const TimedStretch& stretch, double own_power_W);

  /// Rides until the curve is sure near that power, and near that time.
  void look_near_power(double power_W);
  void look_near_time(double time_s);

  /// Off one line through all rides, power against time by logarithms; nothing beyond what the rider can ride alone.
  std::optional<double> time_s(double power_W) const;
  std::optional<double> power_W(double time_s) const;

 private:
  struct Ridden {
    double effort, power, time;  ///< logarithms
  };
  using Of = double Ridden::*;
  void look_near(Of what, double wanted);
  bool ride_at(double effort);
  std::optional<double> read(Of given, double value, Of wanted) const;
  double effort_for(Of what, double wanted) const;

  Scenario solo_;
  TimedStretch stretch_;
  std::vector<Ridden> ridden_;  ///< power rising, time falling
};

}  // namespace leewheel
