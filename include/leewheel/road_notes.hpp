#pragma once
/// What a coach tells riders about a road before they ride up it: how hard on each stretch as a share of the average
/// effort, where a wheel pays, where strength comes back, when to judge the day, and what another wind would change. One
/// rider's plan (leewheel/pacing.hpp), ridden again by riders of the same build who are as strong as each wished time asks.

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/descent.hpp"
#include "leewheel/low_gear.hpp"
#include "leewheel/pacing.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/wind_outlook.hpp"

namespace leewheel {

/// A rider as strong as a wished time asks, under the plan.
struct NotesStrength {
  double wished_s = 0.0;
  double critical_power_W = 0.0, mean_power_W = 0.0;
  double time_s = 0.0;                        ///< as ridden, within `wished_within_s` of `wished_s`
  std::vector<double> arrive_s{}, power_W{};  ///< by stretch: at its end; mean on it
  std::vector<LowGearRamp> walks{};           ///< where this rider walks
  Coming way{};                               ///< place by time
};
inline constexpr double wished_within_s = 0.5;

struct NotesStretch {
  RoadStretch where;
  double grade = 0.0, steepest_grade = 0.0, steepest_at_m = 0.0;  ///< steepest over 100 m, or the whole stretch if shorter
  double effort_share = 1.0;                                      ///< of the mean power of the whole road
  double headwind_mps = 0.0, crosswind_mps = 0.0;  ///< at the rider, means; > 0 against the rider; without sign
  double open_share = 0.0;                         ///< of its length: open on both sides
  double speed_mps = 0.0;
  double wheel_saves_W = 0.0, wheel_saves_percent = 0.0;  ///< a wheel at `wheel_gap_m`, at the same speed, off descents
  double falls_from_m = 0.0, falls_m = 0.0;               ///< the longest descent in it; 0 m: none
  double wbal_share = 1.0;                                ///< of W' left at its end
  double left_s = 0.0;                                    ///< of riding from its end to the finish
  double felt_C = 0.0;                                    ///< at its end (leewheel/heat.hpp)
  bool descent() const { return is_descent(grade, speed_mps); }
};

struct NotesWind {
  enum class Kind : std::uint8_t { none, half_more, turned_round } kind;
  double later_s = 0.0;          ///< than with the wind as forecast, at the same powers
  std::size_t best_stretch = 0;  ///< where a wheel saves most then
  double wheel_saves_W = 0.0;    ///< there
};

/// Critical powers between which a wished time is solved.
inline constexpr double least_critical_power_W = 40.0, most_critical_power_W = 600.0;

struct RoadNotes {
  bool found = false;
  std::string why_not{};                              ///< no plan is possible, or empty
  double not_possible_s = 0.0;                        ///< > 0: the wished time that is not possible ...
  double possible_from_s = 0.0, possible_to_s = 0.0;  ///< ... and those that are; to: 0 without an end
  double mass_kg = 0.0, drag_area_m2 = 0.0;           ///< of the rider, with bicycle and kit; on the hoods
  double wheel_gap_m = 0.0;
  std::string quickest{};                  ///< of the scenario's riders, alone at critical power
  double quickest_s = 0.0;                 ///< 0: none gets to the finish
  std::vector<NotesStrength> strengths{};  ///< in the order of the wished times
  std::size_t middle = 0;                  ///< the strength of whom `stretches`, `pacing` and `winds` speak
  std::vector<NotesStretch> stretches{};
  Pacing pacing{};
  std::vector<NotesWind> winds{};
};

/// Times to wish for where none are given: those of the quickest, the middle and the slowest rider alone, to five minutes.
std::vector<double> usual_times_s(const Scenario& scenario);

/// The rider is built like the one of the scenario who is in the middle alone. Gusts are left out.
/// @param times_s  one or more, rising or not; each asks for a critical power within the bounds above, else `not_possible_s` is set
/// @param go_on    called by one thread with the share of the work done; false stops: then `found` is false
RoadNotes road_notes(const Scenario& scenario, const std::vector<double>& times_s,
                     const std::function<bool(double)>& go_on = {});

}  // namespace leewheel
