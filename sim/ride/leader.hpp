#pragma once
/// Who leads the field: the question behind every "speed of the group".

#include <optional>

#include "ride/watch.hpp"

namespace leewheel {

/// The first on the road of the largest group. Riders who stand waiting count in their group but lead none; who has finished
/// belongs to no group; a rider alone is a group of one. Of groups as large the one whose leader is further up the road, and
/// side by side the first of the scenario. Nobody leads when all wait or have finished.
std::optional<std::size_t> leader_of(const RideView& view);

}  // namespace leewheel
