#pragma once
/// The best powers of given instructions. Rides in which sections are ridden otherwise than now give what it does to time and
/// work; a sweep over the instructions finds the quickest powers by these tables (dynamic programming); what it finds is
/// ridden, and kept if it is quicker and keeps the limits.

#include <vector>

#include "plan/pacing_ride.hpp"
#include "plan/pacing_sections.hpp"

namespace leewheel {

inline constexpr double wbal_level_J = 20.0;  ///< the sweep tells levels of W' apart by this
inline constexpr double empty_share = 0.01;   ///< of W': a rider with less is called empty (assumed)

/// What a section costs at each of the powers tried there, with what that changes in the sections after it. Sections of a
/// lever are tried at the same powers.
struct SectionCosts {
  std::vector<std::vector<double>> power_W, time_s, work_J;  ///< [section][choice]; infinite where the ride does not get on
};

/// What a plan must keep to.
struct PacingBounds {
  std::vector<Strength> strength;  ///< by section; fades where the ride has fatigue
  RecoveryLaw law;
  std::vector<double> floor_J;          ///< least W' at each section's end
  std::vector<double> least_W, most_W;  ///< by lever
};

struct Course {
  Scenario solo;
  Layout layout;
  double even_W, reserve_J, early_J;
  std::vector<bool> held;  ///< by section: the road falls, and bends or the speed limit leave less to pedal than even power
  PacingBounds bounds;
};

/// Never quite nothing: a rider without W' rides at critical power whatever the plan says.
double reserve_J(const Strength& fresh, const PacingSettings& settings);

/// @param reserve_J  kept to the top; in `solo`'s still legs
Course course_of(const Scenario& solo, const Layout& layout, double even_W, double reserve_J,
                 const PacingSettings& settings);

/// The choice of each section's power from the tables, quickest with W' from `start_J`; empty if there is no way.
std::vector<std::size_t> fastest_choices(const Layout& layout, const SectionCosts& costs, const PacingBounds& bounds,
                                         double start_J);

/// Powers by section, ridden: within the bounds, W' above its floors; no slower than even power in whole steps, which is what
/// is left where nothing varied is quicker.
struct RiddenPlan {
  std::vector<double> powers_W;  ///< by section
  PacedRide ride;
};
RiddenPlan best_plan(const Course& course, const PacingSettings& settings);
/// Even power in whole steps of `step_W`, less where a bound asks for it.
RiddenPlan even_plan(const Course& course, double step_W);

/// The same from a plan that may break the reserve, by small steps.
RiddenPlan refined(const Course& course, RiddenPlan plan, double first_step_W, const PacingSettings& settings);

/// Finished, every power held, W' above its floors at the sections' ends and above the reserve everywhere.
bool keeps_limits(const Course& course, const RiddenPlan& plan);

/// Makes one instruction of neighbours that differ little, where the plan stays nearly as quick.
void join_instructions(Course& course, RiddenPlan& plan, double even_s, const PacingSettings& settings);

/// Powers of `from` on changed alike by whole watts, the most that keeps `reserve_J` on `day`; where the plan rolls and where
/// the rider is held they stay. Between `least_W` and `most_W` of change.
double most_change_W(const Course& course, const Scenario& day, const std::vector<double>& powers_W, std::size_t from,
                     double least_W, double most_W);
std::vector<double> changed_from(const Course& course, const std::vector<double>& powers_W, std::size_t from,
                                 double change_W);

}  // namespace leewheel
