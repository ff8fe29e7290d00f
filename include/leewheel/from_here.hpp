#pragma once
/// A ride that is under way, planned again from where everyone is.

#include <string>
#include <vector>

#include "leewheel/lineup.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

struct RiderNow {
  std::string rider;
  double at_m = 0.0;
  double wbal_share = 1.0;  ///< of W' left
  bool cracked = false;     ///< rides with `cracked_share` of critical power from now on
};
inline constexpr double cracked_share = 0.75;  // of critical power (assumed)

struct RideNow {
  double time_s = 0.0;  ///< after the start
  std::vector<RiderNow> riders;
};

/// The same ride with nothing behind the last rider: distances count from there, times from now, the wind and the clock go on.
/// Landmarks, regroup points and stops that the first rider has passed are left out, and riders who are not named.
struct FromHere {
  Scenario scenario;
  double cut_m;    ///< where its road begins, on the whole road
  double first_m;  ///< where the first rider is, on the whole road
};
/// The same scenario with its start that much later: wind and clock stay where they are. Below 0: earlier.
Scenario starting_later(Scenario scenario, double by_s);

/// Asserts that each rider is one of the scenario's, once, and before the finish by more than `spacing_m`.
FromHere from_here(const Scenario& scenario, const RideNow& now);

/// A plan found for the rest, with places on the whole road. The first stretch, "here", is told from the first rider on: it is that
/// rider's speed and power that it holds.
Lineup on_whole_road(Lineup lineup, const FromHere& rest, const Road& road);
/// A scenario with such a plan in it, with its places on the whole road, as a file takes it beside the state.
Scenario on_whole_road(Scenario planned, const FromHere& rest, const Road& road);

}  // namespace leewheel
