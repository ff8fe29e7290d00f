#include "leewheel/event.hpp"

namespace leewheel {

namespace {

constexpr ReasonValue asked{"asked_W", Quantity::power_W}, will_give{"will_give_W", Quantity::power_W};
constexpr ReasonValue gap{"gap_m", Quantity::distance_m}, waited{"waited_s", Quantity::time_s};

constexpr std::array<ReasonRow, reason_count> rows{{
    {Reason::at_start, "at_start"},
    {Reason::own_pace, "own_pace"},
    {Reason::on_wheel, "on_wheel"},
    {Reason::wheel_too_costly, "wheel_too_costly", {asked, will_give}},
    {Reason::faster_alone,
     "faster_alone",
     {{{"own_speed_mps", Quantity::speed_mps}, {"wheel_speed_mps", Quantity::speed_mps}}}},
    {Reason::sprints, "sprints", {{{"spare_J", Quantity::energy_J}}}},
    {Reason::turn_over, "turn_over", {{{"in_front_s", Quantity::time_s}}}},
    {Reason::reserve_reached, "reserve_reached", {{{"in_front_s", Quantity::time_s}}}},
    {Reason::turn_begins, "turn_begins", {{{"turn_s", Quantity::time_s}}}},
    {Reason::cannot_pull, "cannot_pull", {{{"turn_s", Quantity::time_s}}}},
    {Reason::gap_opened, "gap_opened"},
    {Reason::can_reach, "can_reach", {{gap, {"price_J", Quantity::energy_J}}}},
    {Reason::wheel_within_reach, "wheel_within_reach", {gap}},
    {Reason::waits_for_last, "waits_for_last"},
    {Reason::all_together, "all_together", {waited}},
    {Reason::waited_enough, "waited_enough", {waited}},
    {Reason::keeps_group_whole, "keeps_group_whole"},
    {Reason::waits_for_group, "waits_for_group", {gap}},
    {Reason::in_gutter, "in_gutter", {{{"drag_share", Quantity::share}}}},
    {Reason::passes_gap, "passes_gap", {gap}},
    {Reason::at_regroup_point, "at_regroup_point"},
    {Reason::climbs_freely, "climbs_freely", {{{"own_speed_mps", Quantity::speed_mps}}}},
    {Reason::nothing_left, "nothing_left", {{{"power_W", Quantity::power_W}}}},
    {Reason::behind_wheel, "behind_wheel", {{gap, asked, will_give}}},
    {Reason::back_with, "back_with"},
    {Reason::let_wheel_go, "let_wheel_go"},
    {Reason::comes_back, "comes_back"},
    {Reason::leads, "leads", {{{"speed_mps", Quantity::speed_mps}}}},
    {Reason::within_reach, "within_reach"},
    {Reason::groups_met, "groups_met"},
    {Reason::at_the_finish, "at_the_finish"},
    {Reason::gust_across, "gust_across", {{{"side_force_N", Quantity::force_N}}}},
    {Reason::planned_stop, "planned_stop"},
    {Reason::stop_over, "stop_over", {{{"stop_s", Quantity::time_s}, waited}}},
}};

constexpr bool in_order() {
  for (std::size_t k = 0; k < rows.size(); ++k)
    if (rows[k].reason != static_cast<Reason>(k)) return false;
  return true;
}
static_assert(in_order(), "a row a reason, in the order of the enum");

}  // namespace

std::span<const ReasonRow, reason_count> reason_rows() { return rows; }

}  // namespace leewheel
