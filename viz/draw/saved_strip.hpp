#pragma once
/// The saved strip under the profile: watts saved along the whole ride, over the power that riding alone asks.

#include "viz/draw/road_ground.hpp"

namespace leewheel::draw {

void draw_saved_strip(Canvas& c, const RoadScale& s, const Scene& scene);
/// The moment on it: a line at the chosen rider's place and what is saved there.
void draw_saved_now(Canvas& c, const RoadScale& s, const Scene& scene);

}  // namespace leewheel::draw
