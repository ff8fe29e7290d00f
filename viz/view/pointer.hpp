#pragma once
/// What the pointer tells about a place of the road.

#include <optional>
#include <string>

#include "viz/view/replay.hpp"
#include "viz/view/text.hpp"

namespace leewheel::view {

/// "6.20 km: 7.5 % up, wind 14 km/h against, Cato saves 88 of 231 W". Without a rider the mean of all.
std::string profile_words(const Replay& replay, std::optional<std::uint32_t> rider, double distance_m, Units units);

}  // namespace leewheel::view
