#pragma once
/// The part of a scenario that describes the wind: words a rider uses, a forecast in the file or as CSV, stations, gusts,
/// belts and hills. The form is told in docs/wind.md.

#include "io/clock_time.hpp"
#include "io/road_section.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

/// Reads the section; `road` is the one the wind blows over, `named` gives its places; `start` its times of day. Adds faults to
/// the file's.
void read_wind(const YamlValue& value, const NamedRoad& named, const Road& road, const StartTime& start, WindSettings& wind);

}  // namespace leewheel
