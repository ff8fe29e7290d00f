#pragma once
/// The layout number of every document in JSON, which stands in it as `layout_version`: docs/schemas/NAME.schema.json describes it.
/// It grows when a key goes, is renamed or means something else, not when one is added.

namespace leewheel::json_layout {

inline constexpr int check = 1;
inline constexpr int club = 1;
inline constexpr int debrief = 1;
inline constexpr int evidence = 1;
inline constexpr int evidence_fit = 1;
inline constexpr int fields = 1;
inline constexpr int lineup = 1;
inline constexpr int lineup_into = 1;
inline constexpr int new_scenario = 1;
inline constexpr int notes = 1;
inline constexpr int pace = 1;
inline constexpr int road = 1;
inline constexpr int sheet = 1;
inline constexpr int shelter = 1;
inline constexpr int spread = 1;
inline constexpr int summary = 2;
inline constexpr int weigh = 1;
inline constexpr int wind = 1;

}  // namespace leewheel::json_layout
