#pragma once
/// The rides of the benchmark, by name.

#include <cstddef>
#include <string_view>

#include "leewheel/ride.hpp"

namespace leewheel::bench {

/// Hills, trees, everything on; from 13 riders on they start four abreast. By `name`:
/// `steady`, `race`        the kind of ride, in a turning wind
/// `mixed`                 `steady`, in an order on the road that has nothing to do with the order of the names
/// `constant_wind`         one wind that never changes
/// `gusty_wind`            the same in gusts
/// `gusty_wind_on_hills`   and over the road's hills
/// Throws on any other name.
Scenario ride_case(std::string_view name, std::size_t riders);

/// What the days of an ensemble ride: hills that speed the wind up, at the step of many rides, surveyed once.
Scenario day_case(std::size_t riders);

/// A ride that is well under way.
inline constexpr double under_way_s = 60.0;

}  // namespace leewheel::bench
