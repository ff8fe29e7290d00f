#pragma once
/// Where across the road riders want to be, and with what gap.

#include "riding/line.hpp"

namespace leewheel::riding {

/// To which side a rider swings off: into the wind if it comes from a side, else away from the road's edge.
int swing_side(const Snapshot& now, RiderIndex i);

/// Where the advancing line passes rider `i`, across the road (m).
double line_abeam_m(const Settling& settling, RiderIndex i);

/// The place of a line's first (m): with room beside to swing off; in a crosswind to windward, so that the others fit in
/// the shelter.
double front_line_m(const Snapshot& now, RiderIndex i);

/// Behind a wheel a rider sits where its wake passes; beside the line after a turn; else on the lane's middle. Sets the
/// place, the gap, and who is asked to let by.
void place_sideways(const Settling& settling, RiderIndex i, Command& command);

}  // namespace leewheel::riding
