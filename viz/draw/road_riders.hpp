#pragma once
/// Who is where on the road: a bead a group with its number and size, and a magnifier where groups are too near each other.

#include "viz/draw/road_ground.hpp"
#include "viz/view/groups_apart.hpp"

namespace leewheel::draw {

/// Where a magnifier stands highest over the road and on none of those places; nothing where there is no room.
std::optional<view::Rect> magnifier_place(const RoadScale& s, const Road& road, float u,
                                          const std::vector<view::Rect>& kept_free);
/// Labels lie on none of the places `taken`.
void draw_beads(Canvas& c, const RoadScale& s, const Scene& scene, const std::vector<view::Rect>& taken, Hits& hits);

}  // namespace leewheel::draw
