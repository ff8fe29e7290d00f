#pragma once
/// Against a second ride: the time gained and the work spared along the road, below the saved strip.

#include "viz/draw/road_ground.hpp"

namespace leewheel::draw {

std::string gained_heading(const GhostScene& ghost);  ///< what the two lines are
/// Time as a line, work as dashes, each on a scale of its own with one zero.
void draw_gained_strip(Canvas& c, const RoadScale& s, const Scene& scene);
/// The moment on it: a line at the chosen rider's place with what is gained there, and what was gained in the end.
void draw_gained_now(Canvas& c, const RoadScale& s, const Scene& scene);

}  // namespace leewheel::draw
