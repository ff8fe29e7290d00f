#pragma once
/// The best powers on given sections. A sweep over the sections finds the quickest steps of power for the W' at hand
/// (dynamic programming); exchanges of one step between two sections, each judged by a real ride, do the rest.

#include <vector>

#include "leewheel/pacing.hpp"

namespace leewheel {

inline constexpr double wbal_level_J = 20.0;  ///< W' in the sweep is rounded down to multiples of this
inline constexpr double empty_share = 0.01;   ///< of W': a rider with less is called empty (assumed)

/// Time and work in each section at each step of power, from one ride a step. With fatigue a ride's efforts are shares of the
/// critical power left, so that work falls as it would.
struct SectionCosts {
  std::vector<double> power_W;                      ///< by step, rising
  std::vector<std::vector<double>> time_s, work_J;  ///< [section][step]; infinite where that power does not reach the top
};

/// What a plan must keep to.
struct PacingBounds {
  std::vector<Strength> strength;  ///< by section; fades where the ride has fatigue
  RecoveryLaw law;
  double reserve_J;
  double calm_s, calm_W;         ///< no harder than calm_W in sections begun before calm_s ...
  std::vector<double> begins_s;  ///< ... by the even ride's times
};

struct Course {
  Scenario solo;
  std::vector<double> cuts;
  SectionCosts costs;
  PacingBounds bounds;
};

/// Never quite nothing: a rider without W' rides at critical power whatever the plan says.
double reserve_J(const Strength& fresh, const PacingSettings& settings);

Course course_of(const Scenario& solo, const std::vector<double>& cuts, double even_W, const PacingSettings& settings);

/// Steps of power by section from `first` on, quickest with W' from `start_J`; empty if there is no way. W' is counted in
/// levels and rounded down, so that more is never believed in than there is.
std::vector<std::size_t> fastest_steps(const SectionCosts& costs, const PacingBounds& bounds, std::size_t first,
                                       double start_J);

/// The best powers of all sections: those of `begun` as they are, the others for W' as it stands there. Empty if there is no
/// way.
std::vector<double> best_powers_from(const Course& course, const std::vector<double>& begun, double start_J);

}  // namespace leewheel
