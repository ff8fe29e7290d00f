/// What riders decide, once a second, from the state at that moment. Every change of mind keeps its reason.

#include "leewheel/tactics.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/motion.hpp"
#include "model/chance.hpp"
#include "model/state.hpp"

namespace leewheel {

std::span<const NumberField<TacticsSettings>> tactics_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"gap_stiffness_1ps2", &T::gap_stiffness_1ps2, 0, 2, "gap law: pull towards the wished gap (1/s2)", ours},
      {"speed_damping_1ps", &T::speed_damping_1ps, 0, 5, "gap law: weight of the wheel's speed difference (1/s)", ours},
      {"front_damping_1ps", &T::front_damping_1ps, 0, 5, "gap law: weight of the first rider's speed difference (1/s)",
       ours},
      {"headway_s", &T::headway_s, 0, 2, "gap law: extra gap per speed (s)", ours},
      {"gap_skilled_m", &T::gap_skilled_m, 0.1, 5, "wheel gap of a rider with wheel_skill 1 (m)",
       "road races 0.3 to over 1 m (second-hand)"},
      {"gap_wary_m", &T::gap_wary_m, 0.1, 10, "wheel gap of a rider with wheel_skill 0 (m)",
       "clubs: a foot to two wheel lengths (club guides)"},
      {"comfort_acceleration_mps2", &T::comfort_acceleration_mps2, 0.05, 3, "hardest speeding up in company (m/s2)", ours},
      {"comfort_braking_mps2", &T::comfort_braking_mps2, 0.2, 5, "braking a rider plans with (m/s2)", ours},
      {"hardest_braking_mps2", &T::hardest_braking_mps2, 1, 8, "most the brakes and the road can do (m/s2)", ours},
      {"cornering_mps2", &T::cornering_mps2, 0.5, 8, "sideways acceleration accepted in bends (m/s2)", ours},
      {"descent_speed_mps", &T::descent_speed_mps, 3, 35, "no faster than this downhill (m/s)", ours},
      {"wprime_reserve", &T::wprime_reserve, 0, 0.9, "share of W' kept back before the top", ours},
      {"spend_horizon_s", &T::spend_horizon_s, 20, 7200, "W' above the reserve is spread over at least this long (s)", ours},
      {"hold_margin", &T::hold_margin, 1, 2, "a wheel may cost this many times the own target power", ours},
      {"dwell_s", &T::dwell_s, 0, 120, "a reason must last this long before a rider acts on it (s)", ours},
      {"turn_s", &T::turn_s, 3, 1800, "mean length of a turn in front (s)",
       "pulls from 10 s (weak) to 60 s (strong), second-hand"},
      {"drift_back_mps", &T::drift_back_mps, 0.1, 3, "how much slower a rider drifts back after a turn (m/s)", ours},
      {"swing_off_m", &T::swing_off_m, 0.6, 2, "how far aside a rider swings off or passes (m)", ours},
      {"wheel_reach_m", &T::wheel_reach_m, 1, 50, "a wheel this far ahead can be taken (m)", ours},
      {"chase_reach_m", &T::chase_reach_m, 0, 500, "a group this far ahead may be chased (m)", ours},
      {"regroup_wait_s", &T::regroup_wait_s, 0, 7200, "the first wait at a regroup point at most this long (s)", ours},
      {"pace_share_together", &T::pace_share_together, 0, 1, "together: share of the group the pace must suit", ours},
      {"pace_share_steady", &T::pace_share_steady, 0, 1, "steady: share of the group the pace must suit", ours},
      {"free_climb_fraction", &T::free_climb_fraction, 0, 1.01,
       "where following costs this share of leading nobody takes turns but in a race, and in a steady ride everyone climbs "
       "freely",
       ours},
      {"front_push", &T::front_push, 1, 2, "power in front, at most this many times the own target", ours},
      {"surge", &T::surge, 1, 3, "to stay on a wheel for a moment a rider gives up to this many times critical power", ours},
      {"pace_change_mps2", &T::pace_change_mps2, 0.01, 1, "the first of a line speeds up no harder than this (m/s2)", ours},
      {"passing_margin_mps", &T::passing_margin_mps, 0.05, 3, "a rider passes who could go this much faster (m/s)", ours},
      {"chase_J_per_m", &T::chase_J_per_m, 1, 500, "price of closing a metre of gap (J/m)",
       "58-62 J/m on the flat, computed from the power equation"},
      {"reaction_s", &T::reaction_s, 0, 2, "a wheel's speed is seen this late (s)", ours},
      {"circulate_s", &T::circulate_s, 3, 60, "circulating: length of a turn in front (s)",
       "double line 5-10 s, second-hand"},
      {"second_group_gap_m", &T::second_group_gap_m, 0, 5000, "by_strength: the second group starts this far back (m)",
       ours},
      {"wait_effort", &T::wait_effort, 0.2, 1, "share of the own target while easing for the group behind", ours},
      {"gutter_lee", &T::gutter_lee, 0.3, 1, "in the gutter a lee factor above this makes a rider start a second echelon",
       ours},
      {"unknown_wheel_lee", &T::unknown_wheel_lee, 0.2, 1,
       "lee factor expected of a wheel not yet taken: two in line (docs/model.md)", ours},
      {"asked_memory_s", &T::asked_memory_s, 1, 300, "a wheel is judged by its cost over about this time (s)", ours},
      {"climbing_memory_s", &T::climbing_memory_s, 1, 600,
       "the same where everyone climbs freely and nothing is lost by waiting (s)", ours},
      {"free_climb_margin", &T::free_climb_margin, 1, 2,
       "where everyone climbs freely a wheel may cost this many times the own target power", ours},
      {"let_go_above", &T::let_go_above, 1, 2, "a wheel is let go that asks this share of what the rider will give", ours},
      {"take_below", &T::take_below, 0.3, 1, "a wheel is taken that asks less than this share of what the rider will give",
       ours},
      {"take_again_below", &T::take_again_below, 0.3, 1, "the same for a wheel just let go", ours},
      {"pace_margin", &T::pace_margin, 0.5, 1, "a shared pace asks of the weakest this share of what that rider will give",
       ours},
      {"chase_pause_s", &T::chase_pause_s, 0, 3600,
       "no chase, and no waiting for a group, for this long after one was given up (s)", ours},
      {"waiting_reach", &T::waiting_reach, 1, 5, "who eases for a group goes on up to this many times chase_reach_m", ours},
      {"longest_drift_s", &T::longest_drift_s, 10, 600,
       "after a turn a rider gives up getting back in line after this long (s)", ours},
      {"least_share", &T::least_share, 0, 0.5, "who could spend less than this share of the time in front skips the turn",
       ours},
      {"back_in_turns_share", &T::back_in_turns_share, 0, 1,
       "who sat in takes turns again from this share of the time in front", ours},
      {"least_turn_s", &T::least_turn_s, 1, 60, "no turn in front is shorter (s)", ours},
      {"least_circulating", &T::least_circulating, 2, 50, "circulating: fewer riders than this take turns instead", ours},
      {"moving_over_s", &T::moving_over_s, 0.5, 10, "time reckoned with for moving over from one line to the other (s)",
       ours},
      {"echelon_cross_mps", &T::echelon_cross_mps, 2.1, 15, "from this crosswind at the rider on a line is an echelon (m/s)",
       ours},
      {"line_cross_mps", &T::line_cross_mps, 0, 2,
       "up to this crosswind at the rider a line stays one file; between the two it fans out (m/s)", ours},
      {"second_echelon_s", &T::second_echelon_s, 10, 3600,
       "a second echelon stays one for this long before it is weighed again (s)", ours},
      {"echelons_apart_m", &T::echelons_apart_m, 1, 50, "room that a second echelon leaves to the first (m)", ours},
      {"lost_wheel_m", &T::lost_wheel_m, 1, 50, "a gap this long is no longer a wheel held: who is behind goes past (m)",
       ours},
      {"lets_by_s", &T::lets_by_s, 0, 60, "who is in the way keeps to the edge for this long (s)", ours},
      {"passing_room_m", &T::passing_room_m, 1, 50, "who rides alone goes out to pass from this far behind (m)", ours},
      {"come_up_m", &T::come_up_m, 1, 50, "a group this near behind is there (m)", ours},
      {"waiting_room_m", &T::waiting_room_m, 1, 200, "length of road before a regroup point where riders stop (m)", ours},
      {"wobble_block_s", &T::wobble_block_s, 1, 600, "a rider's power drifts about the plan this slowly (s)", ours},
      {"effort_wobble", &T::effort_wobble, 0, 0.3, "spread of a rider's power about the plan, as a share", ours},
  };
  return fields;
}

namespace {

constexpr double longest_line_m = 200.0;
constexpr double clear_of_line_m = 0.62;
constexpr double single_file_spread_m = 0.3, gutter_short_m = 0.3;  // (assumed)
constexpr double settling_s = 20.0;
constexpr double least_half_wheel_m = 0.8;  // riders in an echelon overlap no further than this, centre to centre (assumed)
constexpr double clear_behind_m = 0.5;
constexpr double move_over_room_m =
    bicycle_length_m - 0.5;  // circulating: the front moves over once so far past the other line's first (assumed)
constexpr double closing_gap_1ps = 0.15, closing_most_mps = 0.3;  // how the other line keeps its gaps (assumed)
constexpr double longest_way_back_m = 400.0;  // looked at no further ahead, however long the line (assumed)
constexpr double road_look_m = 10.0;          // the rules of the road ahead are looked up so often
constexpr double coming_back_m = 8.0;
constexpr double up_to_speed_mps = 0.2;  // (assumed)

/// Crank power (W) that holds a steady speed at the place of one rider, and the speed a power holds.
struct Cost {
  double half_density, area_m2, wheel_area_m2, wind_along_mps, cross2, rolling_N, slope_N, efficiency;

  double power_W(double v, double lee) const {
    const double along = v - wind_along_mps;
    const double air_N = half_density * (area_m2 * lee + wheel_area_m2) * along * std::sqrt(along * along + cross2);
    const double wheel_W = (air_N + rolling_N + bearing_force_N(v) + slope_N) * v;
    return wheel_W > 0.0 ? wheel_W / efficiency : wheel_W;
  }
  /// One step of Newton from the last answer: a second changes road and wind little, and the next second goes on.
  double speed_mps(double power, double lee, double v) const {
    const double along = v - wind_along_mps, air_mps = std::sqrt(along * along + cross2);
    const double area = half_density * (area_m2 * lee + wheel_area_m2);
    const double still_N = rolling_N + bearing_force_N(v) + slope_N;
    const double at_W = (area * along * air_mps + still_N) * v;
    const double slope = area * air_mps * (along + v * (1.0 + (along * along) / std::max(along * along + cross2, 1e-6))) +
                         still_N + bearing_Nspm * v;
    if (!(slope > 1.0)) return v + 0.5;  // on a descent the power curve dips first
    return std::clamp(v - (at_W - power * efficiency) / slope, 0.3, 30.0);
  }
};

Cost cost_at(const Ride::State& s, RiderIndex i) {
  const Riders& r = s.riders;
  constexpr double ahead_m = 20.0;
  return {r.half_density[i],
          r.area_m2[i],
          r.wheel_area_m2[i],
          r.wind_along_mps[i],
          r.wind_cross_mps[i] * r.wind_cross_mps[i],
          r.rolling_N[i],
          r.weight_N[i] * (s.track.elevation_m(r.x_m[i] + ahead_m) - r.elevation_m[i]) / ahead_m,
          r.efficiency[i]};
}

double planned_effort(const Riders& r, RiderIndex i) {
  double effort = r.settings[i].target_effort;
  for (const PlanStep& step : r.plans[i])
    if (r.x_m[i] >= step.from_m) effort = step.effort;
  return effort;
}

}  // namespace

/// One second's thinking of everyone; short-lived.
class Council {
 public:
  Council(Ride::State& state, double interval_s)
      : s_(state), r_(state.riders), t_(state.scenario.tactics), now_s_(state.time_s()), interval_s_(interval_s) {}

  void sit() {
    for (const RiderIndex i : s_.order) take_order(i);
    for (const RiderIndex i : s_.order) weigh_own_strength(i);
    for (const RiderIndex i : s_.order) choose(i);
    form_lines();
    for (const RiderIndex i : s_.order)
      if (r_.front_of[i] == i && s_.minds[i].line_size > 1) lead(i);
    for (const RiderIndex i : s_.order) give_orders(i);
    mind_regroup_point();
  }

 private:
  Ride::State& s_;
  Riders& r_;
  const TacticsSettings& t_;
  double now_s_, interval_s_;

  /// Two groups by strength each ride steady.
  RideKind kind() const { return s_.scenario.ride.kind == RideKind::by_strength ? RideKind::steady : s_.scenario.ride.kind; }
  double reserve_J(RiderIndex i) const { return t_.wprime_reserve * r_.settings[i].w_prime_J; }

  void tell(EventKind kind, RiderIndex i, std::vector<RiderIndex> others = {}) {
    others.insert(others.begin(), i);
    s_.events.push_back({kind, now_s_, r_.x_m[i], std::move(others), s_.bunch.group_of()[i], s_.minds[i].why});
  }
  void become(RiderIndex i, Role role, const Because& why) {
    Mind& m = s_.minds[i];
    if (m.role != role) m.role_since_s = now_s_;
    m.role = role;
    m.why = why;
    m.over_since_s = m.faster_since_s = m.gutter_since_s = m.gap_since_s = -1.0;
    m.side = 0;
    if (role != Role::following && role != Role::chasing) r_.wheel_of[i] = nobody;
  }
  /// True once `holds` has been so for dwell_s.
  bool lasts(bool holds, double& since_s) const {
    if (!holds)
      since_s = -1.0;
    else if (since_s < 0.0)
      since_s = now_s_;
    return holds && now_s_ - since_s >= t_.dwell_s;
  }

  void weigh_own_strength(RiderIndex i) {
    Mind& m = s_.minds[i];
    const double cp_W = r_.critical_W[i];
    const auto block = static_cast<std::uint64_t>(now_s_ / t_.wobble_block_s);
    if (block != m.wobble_block) {
      m.wobble_block = block;
      m.wobble = chance_normal(s_.scenario.ride.seed, hash_name(r_.settings[i].name), block, Purpose::effort);
    }
    double own_W = planned_effort(r_, i) * cp_W * (1.0 + t_.effort_wobble * m.wobble);
    if (own_W > cp_W && r_.wbal_J[i] < reserve_J(i)) own_W = cp_W;
    m.ordered_base_W = own_W;
    const double to_easing_s = (s_.track.easing_at_m(r_.x_m[i]) - r_.x_m[i]) / std::max(1.0, r_.v_mps[i]);
    const double spare_J = std::max(0.0, r_.wbal_J[i] - reserve_J(i));
    m.hold_limit_W = std::max(own_W * t_.hold_margin, cp_W + spare_J / std::max(t_.spend_horizon_s, to_easing_s));
    const Cost cost = cost_at(s_, i);
    m.own_speed_mps = cost.speed_mps(own_W, 1.0, m.own_speed_mps);
    const double fraction = cost.power_W(m.own_speed_mps, t_.unknown_wheel_lee) / std::max(1.0, own_W);
    // Hysteresis of half a percent: the grade of a real road is never still.
    m.wheel_worthless = fraction > t_.free_climb_fraction - (m.wheel_worthless ? 0.005 : 0.0);
    m.climbs_freely = kind() == RideKind::steady && m.wheel_worthless;
    if (m.climbs_freely) m.hold_limit_W = own_W * t_.free_climb_margin;
    m.hold_speed_mps = cost.speed_mps(t_.pace_margin * m.hold_limit_W, wheel_lee(i), m.hold_speed_mps);
  }

  /// Lee a rider has, or would have once on the wheel: a gap that opens for a moment does not change the judgement.
  double wheel_lee(RiderIndex i) const {
    return s_.minds[i].role == Role::following ? std::min(r_.lee[i], t_.unknown_wheel_lee) : t_.unknown_wheel_lee;
  }

  /// The nearest rider ahead whose wheel can be taken.
  RiderIndex wheel_ahead(RiderIndex i) const {
    for (std::size_t place = s_.rank_of[i]; place-- > 0;) {
      const RiderIndex j = s_.order[place];
      if (r_.x_m[j] - r_.x_m[i] - bicycle_length_m > t_.chase_reach_m) return nobody;
      const Role role = s_.minds[j].role;
      const bool aside = role == Role::drifting_back || role == Role::waiting || s_.minds[j].side != 0;
      if (!aside && s_.minds[j].squad == s_.minds[i].squad && r_.x_m[j] - r_.x_m[i] > 0.3) return j;
    }
    return nobody;
  }
  double gap_m(RiderIndex i, RiderIndex ahead) const { return r_.x_m[ahead] - r_.x_m[i] - bicycle_length_m; }

  void choose(RiderIndex i) {
    Mind& m = s_.minds[i];
    if (m.role == Role::waiting) return;
    const RiderIndex wheel = wheel_ahead(i);
    if (keeps_off(i, wheel)) return ride_off_wheels(i, wheel);
    if (goes_to_the_back(i)) return;
    switch (m.role) {
      case Role::drifting_back: return drift(i);
      case Role::following:
      case Role::chasing: return hold(i, wheel);
      default: return ride_freely(i, wheel);
    }
  }

  void hold(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    if (wheel == nobody) return become(i, Role::alone, {Reason::own_pace});
    r_.wheel_of[i] = wheel;
    const double gap = gap_m(i, wheel), front_mps = r_.v_mps[wheel];
    if (m.role == Role::chasing && gap < t_.wheel_reach_m * 0.5) {
      become(i, Role::following, {Reason::on_wheel, wheel});
      tell(EventKind::follows, i, {wheel});
    }
    const double asked_W = asked_by(i, wheel);
    m.asked_W +=
        (asked_W - m.asked_W) * std::min(1.0, interval_s_ / (m.climbs_freely ? t_.climbing_memory_s : t_.asked_memory_s));
    const bool out_of_reach = m.role == Role::following ? gap > 2.0 * t_.wheel_reach_m : r_.wbal_J[i] < reserve_J(i);
    if (lasts(m.asked_W > t_.let_go_above * m.hold_limit_W || out_of_reach, m.over_since_s)) {
      m.no_chase_until_s = now_s_ + t_.chase_pause_s;
      m.let_go_of = wheel;
      const bool followed = s_.rank_of[i] + 1 < s_.order.size() && gap_m(s_.order[s_.rank_of[i] + 1], i) < 5.0;
      become(i, Role::alone,
             out_of_reach ? Because{Reason::gap_opened, wheel}
                          : Because{Reason::wheel_too_costly, wheel, {m.asked_W, m.hold_limit_W}});
      if (followed) m.side = -passing_side(i);  // to the edge, so that the others can close the gap
      return tell(EventKind::lets_go, i, {wheel});
    }
    if (lasts(in_gutter(i, wheel), m.gutter_since_s)) return start_second_echelon(i, wheel);
    if (lasts(has_lost_wheel(i, wheel), m.gap_since_s)) {
      const RiderIndex lost = r_.wheel_of[wheel];
      become(i, Role::alone, {Reason::passes_gap, wheel, {gap_m(wheel, lost)}});
      m.side = passing_side(i);
      return tell(EventKind::chases, i, {lost});
    }
    if (lasts(wants_past(i, wheel), m.faster_since_s)) {
      const double could_mps = m.own_speed_mps;
      become(i, Role::alone, {Reason::faster_alone, wheel, {could_mps, front_mps}});
      m.side = passing_side(i);
      return tell(EventKind::goes_alone, i, {wheel});
    }
  }

  /// The wheel held has let a gap open that the rider behind could close.
  bool has_lost_wheel(RiderIndex i, RiderIndex wheel) const {
    const RiderIndex lost = r_.wheel_of[wheel];
    if (lost == nobody || gap_m(i, wheel) > 5.0 || told(i, Choice::sits_in)) return false;
    const bool opens = gap_m(wheel, lost) > t_.lost_wheel_m && r_.v_mps[lost] > r_.v_mps[wheel];
    return opens && s_.minds[i].own_speed_mps > r_.v_mps[wheel] &&
           asked_by(i, lost) < t_.take_below * s_.minds[i].hold_limit_W;
  }

  /// Where the wake of the wheel passes, across the road.
  double lee_side_m(RiderIndex i, RiderIndex wheel) const {
    const double along = std::max(1.0, r_.v_mps[wheel] - r_.wind_along_mps[wheel]);
    const double usual_m = bicycle_length_m + r_.own_gap_m[i] + t_.headway_s * r_.v_mps[i];
    const double behind_m = std::clamp(r_.x_m[wheel] - r_.x_m[i], bicycle_length_m + r_.own_gap_m[i], usual_m + 1.0);
    return r_.y_m[wheel] + behind_m * r_.wind_cross_mps[wheel] / along;
  }
  /// How far from the line's first rider the others may spread, by the lane and the riders allowed abreast.
  Lane echelon_room(RiderIndex i) const {
    const Lane lane = s_.track.rules(r_.x_m[i]).lane;
    const double first_m = r_.y_m[r_.front_of[i]];
    // In a light crosswind a line stays a line, so that who comes off the front has room on either side.
    const double cross = std::abs(r_.wind_cross_mps[i]);
    const double fan = std::clamp((cross - t_.line_cross_mps) / (t_.echelon_cross_mps - t_.line_cross_mps), 0.0, 1.0);
    // On a road closed to traffic the width alone sets the limit.
    const double fanned_m = s_.track.rules(r_.x_m[i]).closed ? lane.high_m - lane.low_m
                                                             : (s_.scenario.road.abreast(r_.x_m[i]) - 1) * t_.swing_off_m;
    const double spread_m = fan * fanned_m + single_file_spread_m;
    return {std::max(lane.low_m, first_m - spread_m), std::min(lane.high_m, first_m + spread_m)};
  }
  bool in_gutter(RiderIndex i, RiderIndex wheel) const {
    const double wish_m = lee_side_m(i, wheel);
    const Lane room = echelon_room(i);
    const bool no_room = wish_m < room.low_m - gutter_short_m || wish_m > room.high_m + gutter_short_m;
    const bool others_behind = s_.rank_of[i] + 1 < s_.order.size() && gap_m(s_.order[s_.rank_of[i] + 1], i) < 5.0;
    const bool settled = now_s_ - s_.minds[r_.front_of[wheel]].role_since_s > settling_s &&  // a new first moves over first
                         s_.track.length_m() - r_.x_m[i] > settling_s * r_.v_mps[i];  // and near the top none is begun
    // One rider is no echelon, and who has just begun one wants company.
    const bool echelon_ahead = r_.front_of[wheel] != wheel && now_s_ >= s_.minds[wheel].no_follow_until_s;
    return settled && echelon_ahead && no_room && others_behind && r_.lee[i] > t_.gutter_lee &&
           std::abs(r_.wind_cross_mps[i]) > t_.echelon_cross_mps;
  }
  void start_second_echelon(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    const double lee = r_.lee[i];
    m.let_go_of = wheel;
    m.no_chase_until_s = m.no_follow_until_s = now_s_ + t_.second_echelon_s;
    become(i, Role::alone, {Reason::in_gutter, wheel, {lee}});
    tell(EventKind::lets_go, i, {wheel});
    // Who is behind sees how the new echelon falls out before judging again.
    for (std::size_t place = s_.rank_of[i] + 1; place < s_.order.size(); ++place)
      s_.minds[s_.order[place]].gutter_since_s = -1.0;
  }

  /// Power (W) that a wheel asks: at the pace its line means to ride, when it is just slowing down to that.
  double asked_by(RiderIndex i, RiderIndex wheel) const {
    const double pace_mps = s_.minds[r_.front_of[wheel]].line_pace_mps;
    const double speed_mps = pace_mps > 0.0 ? std::min(pace_mps, r_.v_mps[wheel]) : r_.v_mps[wheel];
    return cost_at(s_, i).power_W(speed_mps, wheel_lee(i));
  }

  /// In a group ride the pace is the group's; a rider goes past only when racing, or where everyone climbs freely.
  bool own_way(RiderIndex wheel) const { return kind() == RideKind::race || s_.minds[r_.front_of[wheel]].climbs_freely; }
  bool wants_past(RiderIndex i, RiderIndex wheel) const {
    const Mind& m = s_.minds[i];
    return own_way(wheel) && !told(i, Choice::sits_in) && m.own_speed_mps > r_.v_mps[wheel] + t_.passing_margin_mps &&
           gap_m(i, wheel) < 0.5 * t_.wheel_reach_m;
  }
  int passing_side(RiderIndex) const { return s_.scenario.ride.keep_right ? +1 : -1; }

  /// The first of the next group behind, if it is near enough to ease for and no slower than the rider alone.
  RiderIndex group_behind(RiderIndex i) const {
    if (s_.rank_of[i] + 1 >= s_.order.size()) return nobody;
    const RiderIndex next = s_.order[s_.rank_of[i] + 1], front = r_.front_of[next];
    const bool lone = s_.minds[front].line_size < 2 && kind() != RideKind::together;
    if (front == i || lone || s_.minds[front].squad != s_.minds[i].squad) return nobody;
    if (kind() == RideKind::together) return gap_m(next, i) > 5.0 ? next : nobody;  // nobody is left behind
    const double gap = gap_m(front, i);
    const bool worth = s_.minds[front].line_pace_mps > 0.95 * s_.minds[i].own_speed_mps;
    const double reach_m =
        s_.minds[i].why.reason == Reason::waits_for_group ? t_.waiting_reach * t_.chase_reach_m : t_.chase_reach_m;
    return gap > 5.0 && gap < reach_m && worth ? front : nobody;
  }
  /// Someone alone just ahead of a group eases until it is there.
  void wait_for_group(RiderIndex i) {
    Mind& m = s_.minds[i];
    const RiderIndex front = kind() == RideKind::race || m.climbs_freely ? nobody : group_behind(i);
    const bool waits = m.why.reason == Reason::waits_for_group;
    if (front == nobody) {
      if (waits) {
        m.why = {Reason::own_pace};
        m.no_wait_until_s = now_s_ + t_.chase_pause_s;
      }
    } else if (!waits && m.line_size == 1 && now_s_ > m.no_wait_until_s && now_s_ - m.role_since_s > 2.0 * t_.dwell_s) {
      m.why = {Reason::waits_for_group, front, {gap_m(front, i)}};
      tell(EventKind::waits, i, {front});
    }
  }

  /// Beside the others: done once clear of the rider passed.
  void finish_passing(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    const bool clear = wheel == nobody || gap_m(i, wheel) > 3.0;
    const bool beside =
        s_.rank_of[i] + 1 < s_.order.size() && r_.x_m[i] - r_.x_m[s_.order[s_.rank_of[i] + 1]] < bicycle_length_m + 1.0;
    if (clear && !beside)
      m.side = 0;
    else if (m.side == passing_side(i) && wheel != nobody && m.own_speed_mps < r_.v_mps[wheel])
      m.side = 0;
  }

  // A choice laid upon a rider over a stretch. What it leaves open the rider judges as ever.

  void take_order(RiderIndex i) {
    Mind& m = s_.minds[i];
    const Order* found = nullptr;
    for (const Order& order : s_.scenario.orders)
      if (order.rider == s_.scenario_index[i] && r_.x_m[i] >= order.from_m && r_.x_m[i] < order.to_m) found = &order;
    m.keeps_off = m.eases = false;
    if (found == m.order) return;
    m.order = found;
    m.obeyed = false;
    m.waits_for = found && found->choice == Choice::waits_behind ? next_bunch_behind(i) : nobody;
  }
  bool told(RiderIndex i, Choice choice) const {
    const Mind& m = s_.minds[i];
    return m.order && !m.obeyed && m.order->choice == choice;
  }
  /// By order, or for want of strength since the second turn let pass.
  bool sits_in(RiderIndex i) const { return told(i, Choice::sits_in) || s_.minds[i].skipped_turns > 1; }
  RiderIndex next_bunch_behind(RiderIndex i) const {
    const std::int32_t own = s_.bunch.group_of()[i];
    RiderIndex last = i;  // of the own bunch
    for (std::size_t place = s_.rank_of[i] + 1; place < s_.order.size(); ++place) {
      const RiderIndex j = s_.order[place];
      const bool together = (own != no_group && s_.bunch.group_of()[j] == own) || gap_m(j, last) < t_.wheel_reach_m;
      if (!together) return j;
      last = j;
    }
    return nobody;
  }

  /// Told to stay off the wheels; false once that has been done and the rider judges again.
  bool keeps_off(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    const bool waits = told(i, Choice::waits_behind), lets_go = told(i, Choice::lets_go);
    if (!waits && !lets_go && !told(i, Choice::alone)) return false;
    const bool near = wheel != nobody && gap_m(i, wheel) < t_.wheel_reach_m;
    const RiderIndex behind = m.waits_for;
    if (waits)
      m.obeyed = behind == nobody || !r_.riding[behind] || gap_m(behind, i) < t_.come_up_m;
    else if (lets_go)
      m.obeyed = !near;
    if (m.obeyed) {
      if (m.why.reason == Reason::waits_for_group) m.why = {Reason::own_pace};
      return false;
    }
    m.keeps_off = true;
    // Alone: past who is slower, however little; out of the lee of who is not.
    const bool in_lee = wheel != nobody && gap_m(i, wheel) < t_.passing_room_m;
    m.eases = waits || lets_go || (in_lee && m.own_speed_mps <= r_.v_mps[wheel]);
    return true;
  }
  void ride_off_wheels(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    if (m.role != Role::alone) {
      const bool followed = s_.rank_of[i] + 1 < s_.order.size() && gap_m(s_.order[s_.rank_of[i] + 1], i) < 5.0;
      const bool was_on_wheel = m.role == Role::following || m.role == Role::chasing;
      become(i, Role::alone, {Reason::own_pace});
      if (followed && m.eases) m.side = -passing_side(i);
      if (was_on_wheel) tell(EventKind::lets_go, i);
    }
    if (told(i, Choice::waits_behind) && m.why.reason != Reason::waits_for_group) {
      m.why = {Reason::waits_for_group, m.waits_for, {gap_m(m.waits_for, i)}};
      tell(EventKind::waits, i, {m.waits_for});
    }
    if (m.side != 0)
      finish_passing(i, wheel);
    else if (!m.eases && wheel != nobody && gap_m(i, wheel) < t_.passing_room_m)
      m.side = passing_side(i);
  }
  /// Told to sit in, and someone who takes turns is behind in the line: swings off and drifts to its end.
  bool goes_to_the_back(RiderIndex i) {
    if (!told(i, Choice::sits_in) || s_.minds[i].role != Role::following) return false;
    const RiderIndex front = r_.front_of[i];
    if (s_.minds[front].wheel_worthless) return false;  // no turns there
    bool others_behind = false;
    for_line(front, [&](RiderIndex j) {
      // Settled on the wheel, not alongside and still tucking in.
      const bool behind = r_.x_m[i] - r_.x_m[j] > bicycle_length_m && std::abs(r_.y_m[i] - r_.y_m[j]) < single_file_spread_m;
      others_behind = others_behind || (behind && s_.minds[j].role == Role::following);
    });
    if (!others_behind) return false;
    become(i, Role::drifting_back, {Reason::own_pace});
    s_.minds[i].side = swing_side(i);
    return true;
  }

  void ride_freely(RiderIndex i, RiderIndex wheel) {
    Mind& m = s_.minds[i];
    if (m.role == Role::alone && m.side == 0) wait_for_group(i);
    if (m.side != 0) return finish_passing(i, wheel);
    if (wheel == nobody || now_s_ < m.no_follow_until_s) return;
    if (m.no_follow_until_s > 0.0 && m.line_size > 1 && std::abs(r_.wind_cross_mps[i]) > t_.echelon_cross_mps) {
      m.no_follow_until_s = now_s_ + t_.second_echelon_s;  // the wind that made the second echelon still blows
      return;
    }
    m.no_follow_until_s = 0.0;
    const double gap = gap_m(i, wheel);
    if (own_way(wheel) && m.own_speed_mps > r_.v_mps[wheel] + t_.passing_margin_mps) {  // this wheel only slows
      if (lasts(gap < 6.0, m.faster_since_s)) {
        m.side = passing_side(i);
        m.faster_since_s = -1.0;
      }
      return;
    }
    m.faster_since_s = -1.0;
    // Just let go, or on the same climb: not at once again.
    const bool burnt = m.let_go_of != nobody && (now_s_ < m.no_chase_until_s || (m.climbs_freely && m.let_go_of == wheel));
    const bool can_hold = asked_by(i, wheel) < (burnt ? t_.take_again_below : t_.take_below) * m.hold_limit_W;
    if (gap < t_.wheel_reach_m && can_hold && (m.role == Role::alone || m.role == Role::front)) {
      m.let_go_of = nobody;
      m.asked_W = 0.0;
      const double since_s = m.role_since_s;
      become(i, Role::following, {Reason::wheel_within_reach, wheel, {gap}});
      r_.wheel_of[i] = wheel;
      if (now_s_ - since_s > 20.0) tell(EventKind::follows, i, {wheel});  // not every change of wheel is a story
      return;
    }
    const double price_J = t_.chase_J_per_m * gap, spare_J = r_.wbal_J[i] - reserve_J(i);
    const bool leads = m.line_size > 1 && kind() != RideKind::race;  // a group rides its pace, it does not chase
    if (gap < t_.chase_reach_m && can_hold && !leads && !m.climbs_freely && now_s_ > m.no_chase_until_s &&
        price_J < 0.5 * spare_J) {
      m.asked_W = 0.0;
      become(i, Role::chasing, {Reason::can_reach, wheel, {gap, price_J}});
      r_.wheel_of[i] = wheel;
      return tell(EventKind::chases, i, {wheel});
    }
  }

  /// After a turn: beside the line until its last wheel has gone by.
  void drift(RiderIndex i) {
    RiderIndex last = nobody;
    for_line(r_.front_of[i], [&](RiderIndex j) {
      if (sits_in(j)) return;  // leaves room ahead for who comes back from the front
      if (s_.minds[j].role == Role::following || s_.minds[j].role == Role::front) last = j;
    });
    const double patience_s =
        std::max(t_.longest_drift_s, circulates(r_.front_of[i]) ? s_.minds[r_.front_of[i]].line_size * t_.circulate_s : 0.0);
    if (last == nobody || now_s_ - s_.minds[i].role_since_s > patience_s) return become(i, Role::alone, {Reason::own_pace});
    if (gap_m(i, last) < 0.2) return;
    become(i, Role::following, {Reason::on_wheel, last});
    r_.wheel_of[i] = last;
  }

  /// Everyone of one line from the front, those drifting back beside it included.
  template <class Visit>
  void for_line(RiderIndex front, Visit visit) const {
    const std::size_t from = s_.rank_of[front], beside = 8;
    for (std::size_t place = from > beside ? from - beside : 0; place < s_.order.size(); ++place) {
      const RiderIndex j = s_.order[place];
      if (r_.x_m[front] - r_.x_m[j] > longest_line_m) break;
      if (r_.front_of[j] == front) visit(j);
    }
  }

  void form_lines() {
    for (const RiderIndex i : s_.order) s_.minds[i].line_size = 1;
    for (const RiderIndex i : s_.order) {
      const RiderIndex wheel = r_.wheel_of[i];
      if (wheel == nobody) {
        if (s_.minds[i].role != Role::drifting_back)
          r_.front_of[i] = i;
        else if (r_.front_of[i] != i)
          ++s_.minds[r_.front_of[i]].line_size;
        continue;
      }
      if (s_.minds[i].role == Role::chasing) {  // not yet one of that line; who sits on this wheel follows the chase
        r_.front_of[i] = i;
        continue;
      }
      const RiderIndex front = r_.front_of[wheel];  // riders ahead are done
      r_.front_of[i] = front;
      ++s_.minds[front].line_size;
      if (s_.minds[front].role == Role::alone) {
        become(front, Role::front, {Reason::turn_begins, nobody, {t_.turn_s}});
        s_.minds[front].skipped_turns = 0;
        s_.minds[front].pull_s = t_.turn_s;
      }
    }
    for (const RiderIndex i : s_.order)
      if (s_.minds[i].role != Role::front)
        continue;
      else if (s_.minds[i].line_size == 1)
        become(i, Role::alone, {Reason::own_pace});
      else if (s_.minds[i].role_since_s == now_s_ && circulates(i))
        s_.minds[i].pull_s = t_.circulate_s;
  }

  /// The first of a line sets its pace and gives the front away when the turn is over.
  void lead(RiderIndex front) {
    Mind& m = s_.minds[front];
    std::vector<RiderIndex>& line = s_.line_scratch;
    line.assign(1, front);
    for_line(front, [&](RiderIndex j) {
      if (j != front) line.push_back(j);
    });
    if (m.keeps_off) {
      m.line_pace_mps = 0.0;
      return;
    }
    const bool turns_pay = !m.wheel_worthless || kind() == RideKind::race;  // racing, the next is let by all the same
    if (!turns_pay) m.role_since_s = now_s_;
    for (const RiderIndex i : line)  // who has strength again takes turns again
      if (s_.minds[i].skipped_turns > 1 &&
          pull_share(i, std::max(m.line_pace_mps, 0.5 * r_.v_mps[front])) > t_.back_in_turns_share)
        s_.minds[i].skipped_turns = 0;
    const bool rotates = s_.scenario.ride.formation != Formation::one_in_front && room_to_swing_off(front);
    m.line_pace_mps = kind() == RideKind::race || m.climbs_freely ? 0.0 : shared_pace_mps(front, line, rotates);
    if (kind() == RideKind::together) m.line_pace_mps = pace_for_dropped(front, line, m.line_pace_mps);
    if (turns_pay && rotates) take_turns(front, line);
  }

  /// Two lines want four riders; fewer take turns.
  bool circulates(RiderIndex front) const {
    return s_.scenario.ride.formation == Formation::circulating &&
           static_cast<double>(s_.minds[front].line_size) >= t_.least_circulating;
  }

  /// Road on which who swings off now gets back in line.
  double way_back_m(RiderIndex front) const {
    const double line_m =
        s_.minds[front].line_size * (bicycle_length_m + r_.own_gap_m[front] + t_.headway_s * r_.v_mps[front]);
    return std::min(longest_way_back_m, r_.v_mps[front] * (t_.moving_over_s + line_m / receding_mps(front)));
  }

  /// Two riders side by side, by the rules and the width of the road, from here until who swings off now is back in line.
  bool room_to_swing_off(RiderIndex front) const {
    for (double x_m = r_.x_m[front]; x_m <= r_.x_m[front] + way_back_m(front); x_m += road_look_m) {
      if (!s_.track.rules(x_m).room_for_two) return false;
    }
    return true;
  }

  /// How much slower than the line who came off its front goes back beside it. Circulating, the next has then passed, and
  /// can move over in his turn, after `circulate_s`.
  double receding_mps(RiderIndex front) const {
    if (!circulates(front)) return t_.drift_back_mps;
    const double place_m = bicycle_length_m + r_.own_gap_m[front] + t_.headway_s * r_.v_mps[front];
    return std::clamp((place_m + move_over_room_m) / std::max(1.0, t_.circulate_s - t_.moving_over_s), 0.3, 1.5);
  }

  /// Fastest speed that suits the wanted share of the line and that its turns in front can keep up:
  /// sum of min(1, x_i) >= 1, x_i = (target_i - F_i)/(L_i - F_i) with L_i in front and F_i behind.
  /// Where nobody can come by, the first holds that pace alone.
  double shared_pace_mps(RiderIndex front, const std::vector<RiderIndex>& line, bool rotates) {
    std::vector<double>& hold_mps = s_.hold_scratch;
    hold_mps.clear();
    for (const RiderIndex i : line) hold_mps.push_back(s_.minds[i].hold_speed_mps);
    std::sort(hold_mps.begin(), hold_mps.end());
    const double share = kind() == RideKind::together ? t_.pace_share_together : t_.pace_share_steady;
    const auto suits = static_cast<std::size_t>(std::floor((1.0 - share) * (static_cast<double>(line.size()) - 1.0)));
    double high = hold_mps[suits], low = 0.5 * high;
    const auto holds = [&](double speed_mps) {
      return (rotates ? pull_shares(line, speed_mps) : pull_share(front, speed_mps)) >= 1.0;
    };
    if (holds(high)) return high;
    for (int round = 0; round < 8; ++round) {
      const double middle = 0.5 * (low + high);
      (holds(middle) ? low : high) = middle;
    }
    return low;
  }
  double pull_share(RiderIndex i, double speed_mps) const {
    if (told(i, Choice::sits_in)) return 0.0;
    const Cost cost = cost_at(s_, i);
    const double front_W = cost.power_W(speed_mps, 1.0), behind_W = cost.power_W(speed_mps, std::min(wheel_lee(i), 0.8));
    if (front_W - behind_W < 1.0) return s_.minds[i].ordered_base_W >= front_W ? 1.0 : 0.0;
    return std::clamp((s_.minds[i].ordered_base_W - behind_W) / (front_W - behind_W), 0.0, 1.0);
  }
  double pull_shares(const std::vector<RiderIndex>& line, double speed_mps) const {
    double sum = 0.0;
    for (const RiderIndex i : line) sum += pull_share(i, speed_mps);
    return sum;
  }

  /// Nobody is dropped: while someone hangs behind, the front eases below what that rider holds alone.
  double pace_for_dropped(RiderIndex front, const std::vector<RiderIndex>& line, double pace_mps) {
    double slowest_mps = pace_mps;
    RiderIndex behind = nobody;
    for (std::size_t place = s_.rank_of[line.back()] + 1; place < s_.order.size(); ++place) {
      const RiderIndex j = s_.order[place];
      const bool echelon =
          now_s_ < s_.minds[r_.front_of[j]].no_follow_until_s && gap_m(j, front) < t_.chase_reach_m;  // keeps up by itself
      if (r_.front_of[j] == front || echelon || s_.minds[j].own_speed_mps * 0.9 > slowest_mps) continue;
      slowest_mps = s_.minds[j].own_speed_mps * 0.9;
      behind = j;
    }
    Mind& m = s_.minds[front];
    if (behind != nobody && m.why.reason != Reason::keeps_group_whole) {
      m.why = {Reason::keeps_group_whole, behind};
      if (now_s_ - s_.eased_at_s > 120.0) tell(EventKind::eases, front, {behind});
      s_.eased_at_s = now_s_;
    } else if (behind == nobody && m.why.reason == Reason::keeps_group_whole) {
      m.why = {Reason::turn_begins, nobody, {m.pull_s}};
    }
    return slowest_mps;
  }

  /// One of the line is drifting back just ahead: who sits in opens the gap in time.
  bool someone_comes_back(RiderIndex i) const {
    bool found = false;
    for_line(r_.front_of[i], [&](RiderIndex j) {
      const double ahead_m = r_.x_m[j] - r_.x_m[i];
      found = found || (s_.minds[j].role == Role::drifting_back && ahead_m > 0.0 && ahead_m < coming_back_m);
    });
    return found;
  }

  /// One of the line who is drifting back has not yet cleared its first.
  bool someone_beside(RiderIndex front) const {
    const double room_m = circulates(front) ? move_over_room_m : bicycle_length_m + clear_behind_m;
    bool found = false;
    for_line(front, [&](RiderIndex j) {
      found = found || (s_.minds[j].role == Role::drifting_back && r_.x_m[j] > r_.x_m[front] - room_m);
    });
    return found;
  }

  void take_turns(RiderIndex front, const std::vector<RiderIndex>& line) {
    Mind& m = s_.minds[front];
    std::vector<RiderIndex>& file = s_.file_scratch;
    file.clear();
    for (const RiderIndex i : line)
      if (i == front || s_.minds[i].role == Role::following) file.push_back(i);
    if (file.size() < 2 || gap_m(file[1], front) > 5.0) return;
    if (r_.x_m[front] + way_back_m(front) > std::min(r_.stop_at_m[front], s_.track.length_m())) return;  // soon there
    if (someone_beside(front)) return;  // who came off last goes by first: two side by side would block the line
    const RiderIndex next = file[1];
    if (r_.v_mps[next] < r_.v_mps[front] - up_to_speed_mps)
      return;  // just back in line: the pace would fall with every turn
    const bool gives_away = told(front, Choice::sits_in);
    if (!gives_away && now_s_ - m.role_since_s < m.pull_s &&
        !(r_.wbal_J[front] < reserve_J(front) && m.pull_s > t_.least_turn_s))
      return;
    if (kind() == RideKind::race && s_.minds[next].own_speed_mps < 0.97 * r_.v_mps[front]) return;
    const double speed_mps = m.line_pace_mps > 0.0 ? m.line_pace_mps : r_.v_mps[front];
    double others = 0.0;
    for (const RiderIndex i : file) others += i == front ? 0.0 : pull_share(i, speed_mps);
    if (others < t_.least_share) return;  // nobody else can pull at this pace: the front stays where it is
    const bool spent = now_s_ - m.role_since_s < m.pull_s;
    const double pulled_s = now_s_ - m.role_since_s, pace_mps = m.line_pace_mps;
    become(front, Role::drifting_back, {spent ? Reason::reserve_reached : Reason::turn_over, next, {pulled_s}});
    m.side = swing_side(front);
    if (m.skipped_turns == 0) tell(EventKind::ends_turn, front, {next});
    // The next takes the front for as long as strength allows: a share of the round.
    const double sum = std::max(0.2, pull_shares(line, speed_mps));
    const double share = pull_share(next, speed_mps) / sum;
    const double round_s = t_.turn_s * static_cast<double>(line.size());
    const bool willing = told(next, Choice::takes_turns);
    const double pull_s =
        circulates(front) ? t_.circulate_s : std::max(willing ? t_.turn_s : t_.least_turn_s, share * round_s);
    const bool sits_in = share < t_.least_share && !circulates(front) && !willing;
    become(next, Role::front, {sits_in ? Reason::cannot_pull : Reason::turn_begins, front, {pull_s}});
    s_.minds[next].role_since_s = now_s_;
    s_.minds[next].pull_s = pull_s;
    s_.minds[next].line_pace_mps = pace_mps;
    s_.minds[next].line_size = m.line_size;
    r_.wheel_of[next] = nobody;
    for (const RiderIndex i : line) r_.front_of[i] = next;
    // The first turn let pass is told as one skipped, the second as sitting in; the others are no story.
    int& skipped = s_.minds[next].skipped_turns;
    skipped = sits_in ? skipped + 1 : 0;
    if (skipped <= 2)
      tell(skipped == 0 ? EventKind::takes_turn : skipped == 1 ? EventKind::skips_turn : EventKind::sits_in, next, {front});
  }
  /// Into the wind if it comes from a side, else to the side away from the road's edge.
  int swing_side(RiderIndex i) const {
    if (std::abs(r_.wind_cross_mps[i]) > t_.line_cross_mps) return r_.wind_cross_mps[i] > 0.0 ? -1 : +1;
    return s_.scenario.ride.keep_right ? +1 : -1;
  }

  void give_orders(RiderIndex i) {
    Mind& m = s_.minds[i];
    const double limit_W = r_.power_limit_W(i);
    r_.ordered_W[i] = std::min(m.ordered_base_W, limit_W);
    r_.pace_mps[i] = 0.0;
    r_.most_W[i] = limit_W;
    if (m.eases || m.why.reason == Reason::waits_for_group) r_.ordered_W[i] *= t_.wait_effort;
    switch (m.role) {
      case Role::front:
        r_.pace_mps[i] = m.line_pace_mps;
        r_.most_W[i] =
            std::min(limit_W, std::max(m.ordered_base_W * t_.front_push, circulates(i) ? t_.surge * r_.critical_W[i] : 0.0));
        break;
      case Role::following:  // a few seconds' surge to stay on costs little; what the wheel costs for long is judged apart
        r_.most_W[i] = std::min(limit_W, std::max(m.hold_limit_W, t_.surge * r_.critical_W[i]));
        break;
      case Role::waiting: r_.ordered_W[i] = r_.most_W[i] = 0.0; break;
      case Role::chasing: r_.most_W[i] = std::min(limit_W, std::max(m.hold_limit_W, r_.critical_W[i] * 1.15)); break;
      case Role::drifting_back: {
        const RiderIndex front = r_.front_of[i];
        const double v = r_.v_mps[front];
        if (circulates(front)) {
          r_.pace_mps[i] = other_line_mps(i, front);
          break;
        }
        // Out of the line first, then slower than it; measured by the line's wish, so that two never brake each other down.
        const double line_mps = std::clamp(0.9 * s_.minds[front].line_pace_mps, v, v + 0.5 * t_.drift_back_mps);
        const bool clear = std::abs(r_.y_m[i] - r_.y_m[front]) > clear_of_line_m;
        r_.pace_mps[i] = promptly_mps(i, line_mps - (clear ? t_.drift_back_mps : 0.0));
        break;
      }
      default: break;
    }
    if (now_s_ < m.no_follow_until_s && (m.role == Role::front || m.role == Role::alone)) leave_room(i);
    place_sideways(i);
  }

  /// A second echelon leaves the first the room to rotate.
  void leave_room(RiderIndex i) {
    RiderIndex ahead = nobody;  // the last of the first echelon
    for (std::size_t place = s_.rank_of[i]; ahead == nobody && place-- > 0;)
      if (r_.front_of[s_.order[place]] != i) ahead = s_.order[place];
    if (ahead == nobody || gap_m(i, ahead) > 2.0 * t_.echelons_apart_m) return;
    const double pace_mps = std::max(1.0, r_.v_mps[ahead] + closing_gap_1ps * (gap_m(i, ahead) - t_.echelons_apart_m));
    r_.pace_mps[i] = r_.pace_mps[i] > 0.0 ? std::min(r_.pace_mps[i], pace_mps) : pace_mps;
  }

  /// Circulating: as fast as the line until out of it, then slower, promptly, so that the next can come by.
  double other_line_mps(RiderIndex i, RiderIndex front) const {
    const double line_mps = r_.v_mps[front];
    if (std::abs(r_.y_m[i] - line_m_abeam(i)) < clear_of_line_m) return line_mps;
    const double wish_mps = line_mps - receding_mps(front) + closing_up_mps(i);
    return promptly_mps(i, wish_mps);
  }
  /// A pace to be ordered so that a lower speed is reached in half the time that a front rider takes for it.
  double promptly_mps(RiderIndex i, double wish_mps) const {
    return std::max(1.0, wish_mps + std::min(0.0, wish_mps - r_.v_mps[i]));
  }
  /// Those who go back form a line of their own: by how much to be faster for the wished gap in it.
  double closing_up_mps(RiderIndex i) const {
    for (std::size_t place = s_.rank_of[i]; place-- > 0;) {
      const RiderIndex j = s_.order[place];
      if (r_.x_m[j] - r_.x_m[i] > t_.wheel_reach_m) break;
      if (s_.minds[j].role != Role::drifting_back || r_.front_of[j] != r_.front_of[i]) continue;
      const double over_m = gap_m(i, j) - r_.own_gap_m[i] - t_.headway_s * r_.v_mps[i];
      return std::clamp(closing_gap_1ps * over_m, -closing_most_mps, closing_most_mps);
    }
    return 0.0;
  }

  /// Behind a wheel the rider sits where its wake passes; beside the line after a turn; else on the lane's middle.
  void place_sideways(RiderIndex i) {
    const Mind& m = s_.minds[i];
    const double half_m = 0.5 * s_.scenario.road.width_m(r_.x_m[i]);
    const double middle_m = (s_.scenario.ride.keep_right ? -0.5 : 0.5) * half_m;
    double y = m.side != 0 ? passing_line_m(i, middle_m) : middle_m;
    if (m.role == Role::drifting_back) y = beside_line_m(i);
    if (m.role == Role::waiting) y = (s_.scenario.ride.keep_right ? -1.0 : 1.0) * (half_m - 0.3);  // at the edge
    r_.wish_gap_m[i] = r_.own_gap_m[i];
    if (sits_in(i) && someone_comes_back(i)) r_.wish_gap_m[i] += bicycle_length_m + r_.own_gap_m[i];
    if (const RiderIndex w = r_.wheel_of[i]; w != nobody) {
      const Lane room = echelon_room(i);
      const double wish_m = lee_side_m(i, w);
      y = std::clamp(wish_m, std::min(room.low_m, room.high_m), std::max(room.low_m, room.high_m));
      // No room for the whole offset: half a wheel beside, as far as the lee asks and only where clear of the other.
      const double aside_m = std::abs(r_.y_m[i] - r_.y_m[w]), asked_m = std::abs(wish_m - r_.y_m[w]);
      if (aside_m > clear_of_line_m && asked_m > aside_m)
        r_.wish_gap_m[i] =
            std::max(least_half_wheel_m, (bicycle_length_m + r_.own_gap_m[i]) * aside_m / asked_m) - bicycle_length_m;
    } else if (m.role == Role::front && (circulates(i) || std::abs(r_.wind_cross_mps[i]) > t_.echelon_cross_mps)) {
      y = front_line_m(i);
    }
    if (now_s_ < m.lets_by_until_s && m.side == 0) y = edge_m(i);
    r_.y_target_m[i] = y;
  }
  double edge_m(RiderIndex i) const {
    const Lane lane = s_.track.rules(r_.x_m[i]).lane;
    return s_.scenario.ride.keep_right ? lane.low_m : lane.high_m;
  }

  /// Beside whoever is in the way, on the usual side if the lane has room there, else on the other; who is in the way and
  /// leaves room on neither moves to the edge.
  double passing_line_m(RiderIndex i, double middle_m) {
    const Mind& m = s_.minds[i];
    const RiderIndex slow = r_.blocker[i];
    if (m.side != passing_side(i)) return middle_m + m.side * t_.swing_off_m;    // to the edge, by own wish
    if (slow == nobody || gap_m(i, slow) > t_.passing_room_m) return r_.y_m[i];  // clear road: keep the line
    const Lane lane = s_.track.rules(r_.x_m[i]).lane;
    const double usual_m = r_.y_m[slow] + m.side * t_.swing_off_m, other_m = r_.y_m[slow] - m.side * t_.swing_off_m;
    const auto fits = [&](double y_m) { return y_m > lane.low_m - 0.1 && y_m < lane.high_m + 0.1; };
    if (fits(usual_m)) return usual_m;
    s_.minds[slow].lets_by_until_s = now_s_ + t_.lets_by_s;
    return fits(other_m) ? other_m : std::clamp(usual_m, lane.low_m, lane.high_m);
  }

  /// Beside the line: circulating, as far aside of it as everyone else of the other line, which so fans out like the first.
  /// Otherwise aside of everyone who is near, each of whom may sit a little to leeward of the one ahead.
  double beside_line_m(RiderIndex i) const {
    const double side = s_.minds[i].side;
    if (circulates(r_.front_of[i])) return line_m_abeam(i) + side * t_.swing_off_m;
    double outermost = side * r_.y_m[r_.front_of[i]];
    for_line(r_.front_of[i], [&](RiderIndex j) {
      if (s_.minds[j].role == Role::following && std::abs(r_.x_m[j] - r_.x_m[i]) < 2.5 * bicycle_length_m)
        outermost = std::max(outermost, side * r_.y_m[j]);
    });
    return side * (outermost + t_.swing_off_m);
  }

  /// Where the advancing line passes rider `i`, across the road.
  double line_m_abeam(RiderIndex i) const {
    const RiderIndex front = r_.front_of[i];
    RiderIndex ahead = front;
    double y_m = r_.x_m[i] >= r_.x_m[front] ? front_line_m(front) : r_.y_m[front];
    bool found = r_.x_m[i] >= r_.x_m[front];
    for_line(front, [&](RiderIndex j) {
      if (found || s_.minds[j].role != Role::following) return;
      const double way_m = r_.x_m[ahead] - r_.x_m[j];
      found = r_.x_m[j] <= r_.x_m[i];
      y_m = found && way_m > 0.0 ? r_.y_m[j] + (r_.x_m[i] - r_.x_m[j]) / way_m * (r_.y_m[ahead] - r_.y_m[j]) : r_.y_m[j];
      ahead = j;
    });
    return y_m;
  }

  /// The place of a line's first across the road: with room beside to swing off; in a crosswind to windward, so that the
  /// others fit in the lee.
  double front_line_m(RiderIndex i) const {
    const Lane lane = s_.track.rules(r_.x_m[i]).lane;
    if (std::abs(r_.wind_cross_mps[i]) > t_.echelon_cross_mps)
      return r_.wind_cross_mps[i] > 0.0 ? lane.low_m + t_.swing_off_m : lane.high_m - t_.swing_off_m;
    const double half_m = 0.5 * s_.scenario.road.width_m(r_.x_m[i]);
    const double middle_m = (s_.scenario.ride.keep_right ? -0.5 : 0.5) * half_m;
    return swing_side(i) > 0 ? std::min(middle_m, lane.high_m - t_.swing_off_m)
                             : std::max(middle_m, lane.low_m + t_.swing_off_m);
  }

  /// The first stop at a regroup point until the last is there, or patience ends.
  void mind_regroup_point() {
    const std::vector<double>& points = s_.scenario.ride.regroup_at_m;
    if (points.empty() || r_.count < 2) return;
    bool waiting = false, missing = false;
    double point_m = 0.0, queue_m = 0.0;
    for (const RiderIndex i : s_.order) {
      Mind& m = s_.minds[i];
      if (m.next_regroup >= points.size()) {
        r_.stop_at_m[i] = 1e12;
        continue;
      }
      // Who comes later stands behind those who wait, so that all set off again in one file.
      r_.stop_at_m[i] = points[m.next_regroup] - queue_m;
      if (m.role == Role::waiting) {
        waiting = true;
        point_m = points[m.next_regroup];
        queue_m = std::max(queue_m, point_m - r_.x_m[i] + bicycle_length_m + r_.own_gap_m[i]);
      } else if (r_.stop_at_m[i] - r_.x_m[i] < t_.waiting_room_m && r_.v_mps[i] < 1.0) {
        become(i, Role::waiting, {Reason::waits_for_last});
        if (!waiting && regroup_begins()) tell(EventKind::waits, i);
        waiting = true;
        point_m = points[m.next_regroup];
      }
    }
    if (!waiting) return;
    for (const RiderIndex i : s_.order)
      if (s_.minds[i].next_regroup < points.size() && s_.minds[i].role != Role::waiting &&
          points[s_.minds[i].next_regroup] <= point_m)
        missing = true;
    const bool patience_over = now_s_ - s_.regroup_since_s > t_.regroup_wait_s;
    if (missing && !patience_over) return;
    bool told = false;
    for (const RiderIndex i : s_.order) {
      Mind& m = s_.minds[i];
      if (m.next_regroup >= points.size() || points[m.next_regroup] > point_m) continue;
      ++m.next_regroup;  // who is late rides through
      r_.stop_at_m[i] = m.next_regroup < points.size() ? points[m.next_regroup] : 1e12;
      if (m.role != Role::waiting) continue;
      m.let_go_of = nobody;
      become(i, Role::alone,
             {patience_over ? Reason::waited_enough : Reason::all_together, nobody, {now_s_ - s_.regroup_since_s}});
      if (!told) tell(EventKind::regrouped, i);
      told = true;
    }
    s_.regroup_since_s = -1.0;
  }
  bool regroup_begins() {
    if (s_.regroup_since_s >= 0.0) return false;
    s_.regroup_since_s = now_s_;
    return true;
  }
};

void Ride::State::decide() { Council(*this, static_cast<double>(decide_every) * step_s).sit(); }

/// What a rider is doing when a group changes, which may have begun long before.
Because Ride::State::standing(RiderIndex rider) const {
  const Mind& mind = minds[rider];
  const RiderIndex wheel = riders.wheel_of[rider];
  if (riders.stop_at_m[rider] - riders.x_m[rider] < scenario.tactics.waiting_room_m) return {Reason::at_regroup_point};
  if (mind.climbs_freely && mind.role != Role::waiting) return {Reason::climbs_freely, nobody, {mind.own_speed_mps}};
  if (riders.wbal_J[rider] < 0.02 * riders.settings[rider].w_prime_J &&
      riders.power_W[rider] > 0.95 * riders.critical_W[rider])
    return {Reason::nothing_left, nobody, {riders.power_W[rider]}};
  if (wheel != nobody && mind.asked_W < 1.0) return {Reason::on_wheel, wheel};
  if (wheel != nobody) {
    const double gap_m = riders.x_m[wheel] - riders.x_m[rider] - bicycle_length_m;
    return {Reason::behind_wheel, wheel, {std::max(0.0, gap_m), mind.asked_W, mind.hold_limit_W}};
  }
  if (mind.let_go_of != nobody && mind.why.reason != Reason::wheel_too_costly) {
    const bool near = std::abs(riders.x_m[mind.let_go_of] - riders.x_m[rider]) < scenario.tactics.passing_room_m;
    return {near ? Reason::back_with : Reason::let_wheel_go, mind.let_go_of};
  }
  if (mind.role == Role::drifting_back) return {Reason::comes_back};
  if (mind.role == Role::front) return {Reason::leads, nobody, {riders.v_mps[rider]}};
  return mind.why;
}

}  // namespace leewheel
