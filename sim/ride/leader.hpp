#pragma once
/// Who leads the field: the question behind every "speed of the group".

#include <optional>

#include "ride/watch.hpp"

namespace leewheel {

/// The first on the road of the largest group; of groups as large the one whose first rider is further up the road, and the
/// first of the scenario where even that is equal. A rider alone counts as a group of one. Who has finished belongs to no
/// group. Riders who stand waiting belong to theirs but lead none. Nobody: all wait or have finished.
std::optional<std::size_t> leader_of(const RideView& view);

}  // namespace leewheel
