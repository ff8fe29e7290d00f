#pragma once
/// Where a road without landmarks is parted, for everything that speaks of it piece by piece.

#include "leewheel/road.hpp"

namespace leewheel {

/// The road with landmarks "Kilometre 2", "Kilometre 4", ...: every 2 km, or every 5 km where it is longer than 15 km (assumed); the
/// last piece is longer than 600 m. A road that has landmarks stays as it is; those of waits, "km 6.5", do not count as such.
Road with_kilometres(const Road& road);

}  // namespace leewheel
