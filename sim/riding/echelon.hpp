#pragma once
/// Echelons: where the wake passes, the gutter, second echelons.

#include "riding/rules.hpp"

namespace leewheel::riding {

/// Where the wake of the wheel passes rider `i`, across the road (m).
double wake_line_m(const Snapshot& now, RiderIndex i, RiderIndex wheel);
/// How far from the line's first rider the others may spread, by the lane and the riders allowed abreast.
Lane echelon_room(const Snapshot& now, RiderIndex i, RiderIndex front);

/// No room for the wake's offset, little shelter, and riders enough to begin another echelon.
Answer in_gutter(const View& view);
void start_second_echelon(const View& view, const Answer& answer, Proposal& proposal);

/// The wind that made a second echelon still blows: its first rider takes no wheel of the echelon ahead.
Answer leads_second_echelon(const View& view);
void keep_echelon(const View& view, const Answer& answer, Proposal& proposal);

/// Pace (m/s) with which a second echelon leaves the one ahead the room to rotate; 0: nobody is near ahead.
double pace_behind_echelon_mps(const Snapshot& now, const Lines& lines, RiderIndex i);

std::span<const NumberField<TacticsSettings>> echelon_fields();

}  // namespace leewheel::riding
