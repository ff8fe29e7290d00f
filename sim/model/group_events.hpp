#pragma once
/// Events of groups, from the groups of one second and of the next.

#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/groups.hpp"

namespace leewheel {

/// Appends what happened: groups formed, split and merged, riders who joined, were dropped or pulled away.
/// @param before, now  the group of each rider
void add_group_events(std::span<const std::int32_t> before, std::span<const std::int32_t> now, double time_s,
                      std::span<const GroupRider> riders, const Groups::Cause& cause, std::vector<Event>& events);

}  // namespace leewheel
