#pragma once
/// Riders set on a road by hand, for the phases of a step one at a time.

#include <algorithm>
#include <numeric>
#include <vector>

#include "model/advance.hpp"
#include "model/riders.hpp"
#include "model/track.hpp"
#include "support/scenes.hpp"

namespace leewheel::scenes {

/// Rider 0 is the first on the road, at 500 m and 10 m/s; the others follow `gap_m` behind one another, in still air, with
/// nothing wished and no one held.
class OnRoad {
 public:
  explicit OnRoad(std::size_t count, const Road& on = flat_road(1000.0), double gap_m = 0.5)
      : scenario(scene(on, std::vector<RiderSettings>(count, plain_rider("rider")))),
        track(scenario, Wind(scenario.wind, scenario.road)) {
    riders.resize(count);
    order.resize(count);
    std::iota(order.begin(), order.end(), 0u);
    for (RiderIndex i = 0; i < count; ++i) {
      riders.set(i, scenario.riders[i], scenario.gravity_mps2, scenario.tactics);
      riders.x_m[i] = riders.x_before_m[i] = 500.0 - i * (bicycle_length_m + gap_m);
      riders.v_mps[i] = 10.0;
      riders.y_m[i] = riders.y_target_m[i] = -1.5;
      riders.y_low_m[i] = -3.0;
      riders.y_high_m[i] = -0.2;
      riders.half_density[i] = 0.6125;
      riders.rolling_N[i] = 0.004 * riders.weight_N[i];
      riders.most_W[i] = 900.0;
      riders.elevation_m[i] = track.elevation_m(riders.x_m[i]);
    }
  }
  /// Wheel gap to the rider ahead; nobody else moves.
  OnRoad& gap_m(RiderIndex i, double gap) {
    riders.x_m[i] = riders.x_before_m[i] = riders.x_m[i - 1] - bicycle_length_m - gap;
    riders.elevation_m[i] = track.elevation_m(riders.x_m[i]);
    return *this;
  }

  Scenario scenario;
  Track track;
  Riders riders;
  std::vector<RiderIndex> order;
  StepTime time{0.1, 0, 0};

  double wish_mps2(RiderIndex i) { return wished_acceleration_mps2(riders, track, scenario.tactics, i, time); }
  void advance_step() {
    riders.past_mps.resize(time.reaction_steps * riders.count);
    advance(riders, riders, riders.ledgers, track, scenario.tactics, order, time);
  }
};

}  // namespace leewheel::scenes
