#pragma once
/// One rider alone, riding a plan of powers: what every part of the pacing planner rides.

#include <functional>
#include <vector>

#include "leewheel/pacing.hpp"

namespace leewheel {

/// A rider alone, following powers on sections; with work and time at each of the cuts, the start included.
struct PacedRide {
  double time_s, wbal_least_J;
  std::vector<double> passed_s, pedal_J, wbal_J;
  bool finished;
  std::size_t reached;  ///< cuts passed, the start not counted; later ones hold the values of the ride's end
};

/// The rider alone in the mean wind, doing exactly as planned.
Scenario rehearsal(const Scenario& scenario, std::size_t rider);

/// The same on a day of another critical power.
Scenario with_strength(const Scenario& solo, double critical_share);

/// Powers on the sections between `cuts_m` as a plan; neighbours ridden alike are one step.
std::vector<PlanStep> steps_of(const std::vector<double>& cuts_m, const std::vector<double>& powers_W,
                               double critical_power_W);

/// Rides the plan, timed at the cuts, which go from 0 to the road's length. `solo` is a scenario of one rider.
PacedRide ride_timed(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W);

/// The lowest W' (J), a mean of eight rides with legs as unsteady as `effort_wobble`.
double unsteady_least_J(const Scenario& solo, double effort_wobble, const std::vector<double>& cuts_m,
                        const std::vector<double>& powers_W);

/// The hardest constant power that keeps the reserve, by `exact_W`; 0 if none does.
double even_power_W(const Scenario& solo, double reserve_J, double exact_W);

/// Where on the road `holds(time_s, wbal_J)` is first true under a plan, looked at once a second; < 0: nowhere.
double first_place_m(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W,
                     const std::function<bool(double time_s, double wbal_J)>& holds);

/// Finished, W' above the reserve, and every power really held: none was more than W' allowed at the section's end.
bool keeps_reserve(const PacedRide& ride, const std::vector<double>& powers_W, const Strength& strength, double reserve_J);

}  // namespace leewheel
