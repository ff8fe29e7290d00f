#pragma once
/// Settings of riders' decisions: holding a wheel, letting go, turns in front, waiting.

#include <array>
#include <cstdint>
#include <span>
#include <string_view>

#include "leewheel/field.hpp"

namespace leewheel {

/// What a rider is doing.
enum class Role : std::uint8_t { alone, front, following, drifting_back, chasing, waiting, finished };
inline constexpr std::array<std::string_view, 7> role_names{"alone",   "front",   "following", "drifting_back",
                                                            "chasing", "waiting", "finished"};

/// Kinds of ride.
enum class RideKind : std::uint8_t { together, steady, free, race, by_strength };
inline constexpr std::array<std::string_view, 5> ride_kind_names{
    "together",      // the front is held to what the weakest can follow; nobody is dropped on purpose
    "steady",        // a shared pace on the flat, free climbing where it is steep, and regroup points
    "free",          // everyone by their own plan; a wheel is held while it costs less, and the front is shared
    "race",          // everyone for the top: W' is spent by the finish
    "by_strength"};  // two groups of like strength, each riding steady

/// How a line shares the front.
enum class Formation : std::uint8_t { turns, circulating, one_in_front };
inline constexpr std::array<std::string_view, 3> formation_names{
    "turns",          // a single paceline, each turn as long as strength allows
    "circulating",    // a double paceline, or an echelon in a crosswind: short turns, always moving
    "one_in_front"};  // the first rider stays in front

/// A choice that can be imposed on a rider over a stretch in place of the rider's own decisions, to compare choices.
enum class Choice : std::uint8_t { alone, sits_in, takes_turns, waits_behind, lets_go };
inline constexpr std::array<std::string_view, 5> choice_names{
    "alone",         // takes no wheel, rides at his or her own power, passes slower riders
    "sits_in",       // holds a wheel, keeps to the back of the line and takes no turn
    "takes_turns",   // holds a wheel and takes at least a usual turn in front when it comes
    "waits_behind",  // eases until the group behind is there, then decides again
    "lets_go"};      // lets the wheel go and eases until it is gone, then decides again

/// A choice imposed on a rider between two distances.
struct Instruction {
  std::uint32_t rider;  ///< in the order of the scenario
  double from_m, to_m;
  Choice choice;
};

/// How a rider handles the bicycle: the gap law, comfort, braking, bends. Read by the model itself.
struct HandlingSettings {
  double gap_stiffness_1ps2 = 0.10;
  double speed_damping_1ps = 1.0;
  double front_damping_1ps = 0.5;
  double room_used_m = 3.0;
  double headway_s = 0.0;
  double gap_skilled_m = 0.3;
  double gap_wary_m = 1.2;
  double comfort_acceleration_mps2 = 0.5;
  double comfort_braking_mps2 = 1.5;
  double hardest_braking_mps2 = 4.0;
  double cornering_mps2 = 4.0;
  double descent_speed_mps = 18.0;
  double reaction_s = 0.0;
  bool operator==(const HandlingSettings&) const = default;
};

/// What a rider will give, and what a wheel is worth here (riding/outlook).
struct OutlookSettings {
  double effort_wobble = 0.02;
  double wobble_block_s = 10.0;
  double wprime_reserve = 0.15;
  double race_reserve = 0.05;
  double race_steeper = 0.1;
  double race_last_s = 5.0;
  double race_sprint_effort = 1.5;
  double spend_horizon_s = 300.0;
  double hold_margin = 1.10;
  double free_climb_margin = 1.03;
  double free_climb_fraction = 0.97;
  double free_climb_hysteresis = 0.005;
  double unknown_wheel_factor = 0.61;
  double unknown_line_factor = 0.75;
  double pace_margin = 0.95;
  double slope_ahead_m = 20.0;
  double free_climb_lasts_s = 120.0;
  double behind_memory_s = 300.0;
  double unknown_line_s = 60.0;
  double debt_memory_s = 300.0;
  double debt_share = 0.2;
};

/// Taking a wheel, holding it, letting it go, chasing (riding/follow).
struct FollowSettings {
  double dwell_s = 8.0;
  double wheel_reach_m = 12.0;
  double wheel_ahead_m = 0.3;
  double take_below = 0.97;
  double take_again_below = 0.9;
  double let_go_above = 1.03;
  double asked_memory_s = 15.0;
  double climbing_memory_s = 45.0;
  double out_of_reach = 2.0;
  double lost_wheel_m = 6.0;
  double lost_wheel_within_m = 5.0;
  double followed_within_m = 5.0;
  double surge = 1.35;
  double chase_reach_m = 60.0;
  double chase_J_per_m = 60.0;
  double chase_spare_share = 0.5;
  double chase_effort = 1.15;
  double caught_share = 0.5;
  double chase_pause_s = 60.0;
  double retold_after_s = 20.0;
};

/// Passing, and letting others pass (riding/pass).
struct PassSettings {
  double swing_off_m = 0.9;
  double passing_margin_mps = 0.3;
  double passing_margin_share = 0.015;
  double passing_dwell_s = 20.0;
  double far_faster_share = 0.08;
  double far_faster_dwell_s = 3.0;
  double closing_look_s = 5.0;
  double front_felt_m = 30.0;
  double passing_share = 0.5;
  double passing_room_m = 6.0;
  double passed_clear_m = 3.0;
  double passed_room_m = 1.0;
  double moved_in_m = 0.45;
  double lets_by_s = 5.0;
  double lane_tolerance_m = 0.1;
  double lane_look_s = 4.0;
  double stuck_within_m = 0.5;
};

/// Easing for a group behind (riding/wait).
struct WaitSettings {
  double wait_effort = 0.75;
  double group_apart_m = 5.0;
  double wait_speed_share = 0.95;
  double wait_after_dwells = 2.0;
  double waiting_reach = 1.5;
  double come_up_m = 5.0;
};

/// A line, its pace and its turns in front (riding/line, pace, turns).
struct LineSettings {
  double longest_line_m = 200.0;
  double pace_share_together = 1.0;
  double pace_share_steady = 0.85;
  double dropped_pace_share = 0.9;
  double easing_retold_s = 120.0;
  double front_effort = 1.5;
  double front_spare_share = 0.5;
  double front_spare_s = 20.0;
  double front_ramp_Wps = 20.0;
  double getting_going_mps = 2.0;
  double turn_s = 45.0;
  double least_round_s = 180.0;
  double least_turn_s = 5.0;
  double least_share = 0.2;
  double skips_before_sitting_in = 2.0;
  double back_in_turns_share = 0.45;
  double least_shares = 0.2;
  double next_within_m = 5.0;
  double up_to_speed_mps = 0.2;
  double own_pace_front_share = 0.97;
  double drift_back_mps = 0.7;
  double clear_behind_m = 0.5;
  double clear_aside_m = 0.62;
  double coming_back_m = 8.0;
  double back_in_line_m = 0.2;
  double longest_drift_s = 90.0;
  double longest_way_back_m = 400.0;
  double moving_over_s = 3.0;
};

/// A double line (riding/circulating).
struct CirculatingSettings {
  double circulate_s = 8.0;
  double least_circulating = 4.0;
  double move_over_overlap_m = 0.5;
  double least_receding_mps = 0.3;
  double most_receding_mps = 1.5;
  double closing_gap_1ps = 0.15;
  double closing_most_mps = 0.3;
};

/// Echelons and the gutter (riding/echelon).
struct EchelonSettings {
  double line_cross_mps = 1.0;
  double echelon_cross_mps = 2.5;
  double single_file_spread_m = 0.3;
  double gutter_factor = 0.85;
  double gutter_short_m = 0.3;
  double gutter_behind_m = 5.0;
  double least_echelon = 3.0;
  double echelon_saves_W = 10.0;
  double echelon_saves_share = 0.05;
  double echelon_settling_s = 20.0;
  double second_echelon_s = 300.0;
  double echelons_apart_m = 5.0;
  double echelon_watch = 2.0;
  double wake_line_beyond_m = 1.0;
  double least_half_wheel_m = 0.8;
  double beside_length = 2.5;
};

/// Regroup points and two groups by strength (riding/regroup).
struct RegroupSettings {
  double whole_within_m = 60.0;
  double whole_look_m = 150.0;
  double regroup_wait_s = 1200.0;
  double waiting_room_m = 25.0;
  double standing_mps = 1.0;
  double waiting_from_edge_m = 0.3;
  double point_passed_m = 1.0;
  double second_group_gap_m = 150.0;
  double least_parted = 4.0;
  double least_group_share = 0.25;
};

/// Thresholds of the reasons given while a group changes (riding/doing); they decide nothing.
struct DoingSettings {
  double nothing_left_share = 0.02;
  double at_the_limit_share = 0.95;
};

/// Every number of the riders' behaviour; ranges, meaning and source in `tactics_fields()`, which joins the tables of the
/// rules that use them.
struct TacticsSettings : HandlingSettings,
                         OutlookSettings,
                         FollowSettings,
                         PassSettings,
                         WaitSettings,
                         LineSettings,
                         CirculatingSettings,
                         EchelonSettings,
                         RegroupSettings,
                         DoingSettings {};

std::span<const NumberField<TacticsSettings>> tactics_fields();

}  // namespace leewheel
