#pragma once
/// What a rider will give here, and what a wheel is worth.

#include "riding/snapshot.hpp"

namespace leewheel::riding {

/// Brings the outlook of one rider up to date. Speeds go on from the last second's.
void assess(const Snapshot& now, RiderIndex i, std::uint64_t seed, Outlook& outlook);

/// Power (W) that a wheel asks of a rider in that role: at the pace its line means to ride, when the line is just slowing
/// down to that.
double asked_by_wheel_W(const Snapshot& now, RiderIndex i, Role role, RiderIndex wheel);

/// What decides how much of the time a rider can spend in front at a speed.
struct Puller {
  Cost cost;
  double planned_W, speed_mps;
  double front_N, behind_N;  ///< against the rider in front, and behind a wheel
  bool sits_in;              ///< as instructed
};
Puller puller(const Snapshot& now, RiderIndex i, RiderIndex where, double speed_mps);

/// Share of the time in front: (planned - F)/(L - F), L in front and F behind a wheel.
double pull_share(const Puller& puller, double accel_mps2);
std::span<const NumberField<TacticsSettings>> outlook_fields();

/// Acceleration (m/s2) that a rider accepts in a group; what a descent gives is not held back, or the wheel ahead would be
/// lost over a crest.
double comfortable_mps2(const Snapshot& now, RiderIndex i);

}  // namespace leewheel::riding
