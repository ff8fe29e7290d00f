#pragma once
/// The power of the first of a line. The front never brakes for the group and is given no speed: on a road that rolls nobody
/// rides steadily, and speed gained in a dip pays for the next rise.

#include "riding/line.hpp"

namespace leewheel::riding {

/// Power (W) of the first of a line at the present speed, and the acceleration that it gives.
struct FrontPower {
  double power_W, accel_mps2;
};

/// The greatest power whose turns the line can keep up: the shares (`pull_share`) at that speed and acceleration make at
/// least one; steady and with equals this is "the mean over places of the power is the plan". No more than the front may
/// give, and than the wanted share of the line can follow. Where nobody can come by, the front's own plan.
FrontPower front_power(Settling& settling, RiderIndex front, bool rotates, bool own_pace);

/// Most that a rider gives in front (W): a share of critical power, and no more W' than can be spared.
double front_cap_W(const Snapshot& now, RiderIndex front, double turn_s);

/// Nobody is dropped: while someone is behind, the front gives no more than lets that rider come up.
void ease_for_dropped(Settling& settling, RiderIndex front);

}  // namespace leewheel::riding
