#pragma once
/// Riders placed on a road for the wake law: as a line, a bunch, an echelon, or one by one.

#include <vector>

#include "evidence/given.hpp"
#include "leewheel/wake.hpp"

namespace leewheel::evidence {

/// Riders in the order a row names them (front first in a line); the law wants them by distance, `factors_of` sees to that.
struct WakeSetup {
  std::vector<double> along_m, across_m, drag_area_m2;  ///< along: larger is further up the road
  std::vector<int> bunch_row;                           ///< of a bunch, from 1; empty otherwise
  double speed_mps = 10.0;
  GivenWind wind;
  double turbulence = 0.0;  ///< intensity of the outdoor wind, 0 in a tunnel

  std::size_t size() const { return along_m.size(); }
};

struct WakeFactors {
  std::vector<double> drag, side;  ///< in the order of the setup
};

WakeFactors factors_of(const WakeSetup& setup, const WakeLaw& law);

WakeSetup line_of(std::size_t riders, double gap_m, double drag_area_m2, double speed_mps, double turbulence);

/// Riders, speed, wind and turbulence of a row.
WakeSetup read_wake_setup(YamlMap& given);

}  // namespace leewheel::evidence
