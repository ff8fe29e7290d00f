#pragma once
/// A track as a device with a barometer records it, of a winding road that is nowhere.

#include "leewheel/road.hpp"

namespace leewheel {

/// Up by hairpins for 3.5 km, over a rolling back, down by bends for 2 km and up once more: made of invented stretches, a point about every
/// 13 m, places wandering by 1.5 m, elevations by 0.8 m and in steps of 0.2 m; read as any track is.
Road winding_track_road();

}  // namespace leewheel
