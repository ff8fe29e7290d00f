#pragma once
/// Turns in front: when the front is given away, and to whom for how long.

#include "riding/line.hpp"
#include "riding/rules.hpp"

namespace leewheel::riding {

/// Road (m) on which a rider who swings off now gets back in line.
double way_back_m(const Snapshot& now, const Lines& lines, RiderIndex front);
/// Room for two side by side, by the rules and the width of the road, from here until a rider who swings off now is back.
bool has_room_to_swing_off(const Snapshot& now, const Lines& lines, RiderIndex front);

/// The front comes off when the turn is over or the strength is, and the next takes it for as long as strength allows.
void take_turns(Settling& settling, RiderIndex front);

/// After a turn: beside the line until its last wheel has gone by.
void drift_back(const View& view, Proposal& proposal);

}  // namespace leewheel::riding
