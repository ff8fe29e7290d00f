#pragma once
/// What a coach tells riders about a road before they ride up it: how hard on each stretch as a share of the average
/// effort, where a wheel pays, where strength comes back, when to judge the day, and what another wind would change. One
/// rider's plan (leewheel/pacing.hpp), ridden again by riders of the same build who are as strong as each wished time asks.

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/pacing.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// A rider as strong as a wished time asks, under the plan.
struct NotesStrength {
  double wished_s = 0.0;
  double critical_power_W = 0.0, mean_power_W = 0.0;
  double time_s = 0.0;                        ///< as ridden, within `wished_within_s` of `wished_s`
  std::vector<double> arrive_s{}, power_W{};  ///< by stretch: at its end; mean on it
};
inline constexpr double wished_within_s = 0.5;

struct NotesStretch {
  RoadStretch where;
  double grade = 0.0, steepest_grade = 0.0, steepest_at_m = 0.0;  ///< steepest over 100 m, or the whole stretch if shorter
  double effort_share = 1.0;                                      ///< of the mean power of the whole road
  double headwind_mps = 0.0, crosswind_mps = 0.0;  ///< at the rider, means; > 0 against the rider; without sign
  double open_share = 0.0;                         ///< of its length: open on both sides
  double speed_mps = 0.0;
  double wheel_saves_W = 0.0, wheel_saves_percent = 0.0;  ///< a wheel at `wheel_gap_m`, at the same speed
  double wbal_share = 1.0;                                ///< of W' left at its end
  double left_s = 0.0;                                    ///< of riding from its end to the finish
};

struct NotesWind {
  enum class Kind : std::uint8_t { none, half_more, turned_round } kind;
  double later_s = 0.0;          ///< than with the wind as forecast, at the same powers
  std::size_t best_stretch = 0;  ///< where a wheel saves most then
  double wheel_saves_W = 0.0;    ///< there
};

struct RoadNotes {
  bool found = false;
  std::string why_not{};
  double mass_kg = 0.0, drag_area_m2 = 0.0;  ///< of the rider, with bicycle and kit; on the hoods
  double wheel_gap_m = 0.0;
  std::vector<NotesStrength> strengths{};  ///< in the order of the wished times
  std::size_t middle = 0;                  ///< the strength of whom `stretches`, `pacing` and `winds` speak
  std::vector<NotesStretch> stretches{};
  Pacing pacing{};
  std::vector<NotesWind> winds{};
};

/// Times to wish for where none are given: those of the quickest, the middle and the slowest rider alone, to five minutes.
std::vector<double> usual_times_s(const Scenario& scenario);

/// The rider is built like the one of the scenario who is in the middle alone. Gusts are left out.
/// @param times_s  one or more, rising or not; each asks for a critical power from 40 to 600 W, else `why_not`
/// @param go_on    called by one thread with the share of the work done; false stops: then `found` is false
RoadNotes road_notes(const Scenario& scenario, const std::vector<double>& times_s,
                     const std::function<bool(double)>& go_on = {});

}  // namespace leewheel
