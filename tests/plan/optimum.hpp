#pragma once
/// An optimiser of one rider's power that shares nothing with the planner: a point mass of its own and dynamic programming
/// over speed and W', backward from the top. For riders of one posture without wheel inertia (scenes::plain_rider).

#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel::optimum {

/// A stretch ridden at one power, or by a rule in two: one where the road rises or is flat, one where it falls.
struct Piece {
  double from_m, to_m;
  double least_W, most_W;
  bool by_rule;    ///< then the power downhill is between 0 and most_W
  double floor_J;  ///< least W' at its end
};

struct Powers {
  double rising_W, falling_W;
};

/// The road falls in the 10 m from there on (as the planner understands it: by more than 1 %).
bool falls(const Road& road, double from_m);

/// Quickest powers by piece, W' never below its floors. The wind is that of `passed_s`, times at every 10 m.
std::vector<Powers> quickest_W(const Scenario& solo, const std::vector<Piece>& pieces, const std::vector<double>& passed_s);

}  // namespace leewheel::optimum
