#pragma once
/// The speed of a line of equals that share the front evenly, from the power equation and the wake alone. It knows no rule of
/// riding: each is as long in every place, the gaps are exact, nobody drifts back, nothing is lost in a change of the front.

#include <vector>

#include "leewheel/motion.hpp"
#include "leewheel/scenario.hpp"

namespace leewheel::evidence {

/// Equals in single file on a road of one grade, the wind straight along it.
struct EvenLine {
  WakeLaw law;
  RoadLoad load;            ///< of one rider, `drag_factor` and `wind_along_mps` included
  double plan_W = 212.5;    ///< mean over the places
  double cap_W = 1e9;       ///< most in front
  double gap_m = 0.66;      ///< wheel gap at rest
  double headway_s = 0.0;   ///< and for each m/s more
  double turbulence = 0.0;  ///< intensity of the wind at a rider
};

struct LineSpeed {
  double speed_mps;
  std::vector<double> power_W;  ///< by place, the front first
};

/// Powers by place at a speed.
std::vector<double> powers_W(const EvenLine& line, std::size_t riders, double speed_mps);

/// The speed at which the mean over the places is the plan, or the front at its cap if that is slower.
LineSpeed even_line_speed(const EvenLine& line, std::size_t riders);

/// Speed of the line over that of one rider alone at the plan, less 1.
double even_line_gain(const EvenLine& line, std::size_t riders);

/// The line of a scenario whose riders are equal and whose road has one grade and one kind of land, half-way along it.
EvenLine even_line(const Scenario& scenario);

}  // namespace leewheel::evidence
