#pragma once
/// Events of a ride and their reasons. An event holds numbers only, in SI; its sentence
/// stands in one table outside the core (sim/words/phrases.cpp).

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace leewheel {

inline constexpr std::int32_t no_group = -1;           ///< a rider alone
inline constexpr std::uint32_t no_rider = UINT32_MAX;  ///< nobody

enum class EventKind : std::uint8_t {
  // groups
  formed,
  joined,
  dropped,
  pulled_away,
  split,
  merged,
  finished,
  // decisions
  follows,
  lets_go,
  chases,
  waits,
  sits_in,
  takes_turn,
  ends_turn,
  skips_turn,
  eases,
  goes_alone,
  regrouped,
  caution,
  leaves
};
inline constexpr std::array<std::string_view, 20> event_names{
    "formed",     "joined",  "dropped",    "pulled_away", "split",   "merged",     "finished",
    "follows",    "lets_go", "chases",     "waits",       "sits_in", "takes_turn", "ends_turn",
    "skips_turn", "eases",   "goes_alone", "regrouped",   "caution", "leaves"};

/// Why something happened. The stable name and the meaning of the values stand in `reason_rows`.
enum class Reason : std::uint8_t {
  // why a rider changes what he or she does
  at_start,
  own_pace,
  on_wheel,
  wheel_too_costly,
  faster_alone,
  sprints,
  turn_over,
  reserve_reached,
  turn_begins,
  cannot_pull,
  gap_opened,
  can_reach,
  wheel_within_reach,
  waits_for_last,
  all_together,
  waited_enough,
  keeps_group_whole,
  waits_for_group,
  in_gutter,
  passes_gap,
  // what a rider is doing while a group changes
  at_regroup_point,
  climbs_freely,
  nothing_left,
  behind_wheel,
  back_with,
  let_wheel_go,
  comes_back,
  leads,
  // groups and the road
  within_reach,
  groups_met,
  at_the_finish,
  gust_across,
  planned_stop,
  stop_over
};

enum class Quantity : std::uint8_t { none, power_W, speed_mps, distance_m, time_s, energy_J, share, force_N };

/// One value of a reason; the name ends in its unit.
struct ReasonValue {
  std::string_view name{};
  Quantity quantity = Quantity::none;
};
struct ReasonRow {
  Reason reason;
  std::string_view name;                ///< stable: files and other programs may rely on it
  std::array<ReasonValue, 3> values{};  ///< values that a reason does not use have no name
};
inline constexpr std::size_t reason_count = static_cast<std::size_t>(Reason::stop_over) + 1;
/// One row for each reason, in the order of the enum.
std::span<const ReasonRow, reason_count> reason_rows();

/// A reason with its riders, groups and values.
struct Because {
  Reason reason = Reason::at_start;
  std::uint32_t other = no_rider;      ///< whom it is about
  std::array<double, 3> values{};      ///< in SI, by `reason_rows`
  std::int32_t from_group = no_group;  ///< of a split or merger: the group before
  bool operator==(const Because&) const = default;
};

/// One event. `riders` are indices in the order of the scenario, the subject first.
struct Event {
  EventKind kind;
  double time_s;
  double distance_m;
  std::vector<std::uint32_t> riders;
  std::int32_t group;  ///< group it is about, or no_group
  Because because;
};

}  // namespace leewheel
