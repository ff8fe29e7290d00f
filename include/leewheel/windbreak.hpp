#pragma once
/// Windbreaks beside the road (rows of trees, walls, cuttings): the share of the wind behind them.

#include <array>
#include <cstdint>
#include <string_view>

namespace leewheel {

enum class ShelterKind : std::uint8_t { conifer_row, deciduous_row, wall, cutting };
inline constexpr std::array<std::string_view, 4> windbreak_kind_names{"conifer_row", "deciduous_row", "wall", "cutting"};

enum class ShelterSide : std::uint8_t { left, right, both };
inline constexpr std::array<std::string_view, 3> windbreak_side_names{"left", "right", "both"};

/// A windbreak along the road.
struct Windbreak {
  double from_m = 0.0, to_m = 0.0;  ///< along the road
  ShelterSide side = ShelterSide::both;
  ShelterKind kind = ShelterKind::conifer_row;
  double height_m = 5.0;    ///< of its top above the road, > 0
  double distance_m = 5.0;  ///< from the middle of the road, >= 0
  bool operator==(const Windbreak&) const = default;
};

/// Wind behind a windbreak over the open wind, at a distance of `heights` of it (0 to 1). Brandle & Finch 1991, How
/// windbreaks work, from memory: the shape is theirs, a value may be off by ten percent of the open wind. Linear between
/// the distances of the table; nearer than 5 heights the value at 5 is kept; open again at 40 (both assumed).
double shelter_share(ShelterKind kind, double heights);

/// The same at a place on the road. The wind's path is followed upwind to the windbreak, which counts as straight: a
/// wind along the road never crosses it, an oblique wind crosses it further away; past its ends there is no effect.
/// @param at_m           place along the road
/// @param across_to_left component of the wind's direction of travel towards the left of the road, -1 to 1
/// @param along          component along the road, -1 to 1
double shelter_share(const Windbreak& shelter, double at_m, double along, double across_to_left);

}  // namespace leewheel
