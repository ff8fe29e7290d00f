#include "riding/echelon.hpp"

#include <algorithm>

namespace leewheel::riding {

double wake_line_m(const Snapshot& now, RiderIndex i, RiderIndex wheel) {
  const Riders& r = now.riders;
  constexpr double least_along_mps = 1.0;
  const double along = std::max(least_along_mps, r.v_mps[wheel] - r.wind_along_mps[wheel]);
  const double usual_m = bicycle_length_m + r.own_gap_m[i] + now.settings.headway_s * r.v_mps[i];
  const double behind_m =
      std::clamp(r.x_m[wheel] - r.x_m[i], bicycle_length_m + r.own_gap_m[i], usual_m + now.settings.wake_line_beyond_m);
  return r.y_m[wheel] + behind_m * r.wind_cross_mps[wheel] / along;
}

Lane echelon_room(const Snapshot& now, RiderIndex i, RiderIndex front) {
  const TacticsSettings& t = now.settings;
  const RoadHere& road = now.road[i];
  const double first_m = now.riders.y_m[front];
  // In a light crosswind a line stays a line, so that a rider who comes off the front has room on either side.
  const double cross = std::abs(now.riders.wind_cross_mps[i]);
  // Where a wheel is worthless, as on a slow climb, nobody rides beside another for it.
  const bool pays = !now.outlook[front].wheel_worthless;
  const double fan =
      pays ? std::clamp((cross - t.line_cross_mps) / (t.echelon_cross_mps - t.line_cross_mps), 0.0, 1.0) : 0.0;
  // On a road closed to traffic the width alone sets the limit.
  const double fanned_m = road.closed ? road.lane.high_m - road.lane.low_m : (road.abreast - 1) * t.swing_off_m;
  const double spread_m = fan * fanned_m + t.single_file_spread_m;
  return {std::max(road.lane.low_m, first_m - spread_m), std::min(road.lane.high_m, first_m + spread_m)};
}

namespace {

/// A wheel in an echelon would save enough to be worth the trouble.
bool saves(const View& v) {
  const Cost cost = cost_at(v.now, v.rider);
  const double v_mps = v.riders().v_mps[v.rider], gutter_W = cost.power_W(v_mps, v.riders().drag_factor[v.rider]);
  const double saved_W = gutter_W - cost.power_W(v_mps, v.settings().unknown_wheel_factor);
  return saved_W > std::max(v.settings().echelon_saves_W, v.settings().echelon_saves_share * gutter_W);
}

/// Riders close behind, one after another, make an echelon with this one.
bool are_enough(const View& v) {
  double riders = 1.0;
  RiderIndex last = v.rider;
  for (std::size_t place = v.now.rank_of[v.rider] + 1; place < v.now.order.size() && riders < v.settings().least_echelon;
       ++place) {
    const RiderIndex next = v.now.order[place];
    if (v.now.gap_m(next, last) >= v.settings().gutter_behind_m) return false;
    last = next;
    ++riders;
  }
  return riders >= v.settings().least_echelon;
}

}  // namespace

Answer in_gutter(const View& v) {
  const TacticsSettings& t = v.settings();
  const Riders& r = v.riders();
  const RiderIndex i = v.rider, front = v.now.lines.front_of[v.wheel];
  const double wish_m = wake_line_m(v.now, i, v.wheel);
  const Lane room = echelon_room(v.now, i, v.now.lines.front_of[i]);
  const bool no_room = wish_m < room.low_m - t.gutter_short_m || wish_m > room.high_m + t.gutter_short_m;
  // After a change of the front the line is still moving over; near the top an echelon no longer pays.
  if (!v.now.laws().fights_for_shelter) return {};  // elsewhere a rider without room rides in the gutter
  const bool settled = v.now.time_s - v.memory(front).role_since_s > t.echelon_settling_s &&
                       v.now.road_length_m - r.x_m[i] > t.echelon_settling_s * r.v_mps[i];
  // Behind the first rider there is no echelon yet, and who has just begun one is not left again.
  const bool echelon_ahead = front != v.wheel && v.now.time_s >= v.memory(v.wheel).no_follow_until_s;
  return {settled && echelon_ahead && no_room && r.drag_factor[i] > t.gutter_factor && v.now.in_crosswind(i) && saves(v) &&
              are_enough(v),
          {Reason::in_gutter, v.wheel, {r.drag_factor[i]}}};
}

void start_second_echelon(const View& v, const Answer& answer, Proposal& p) {
  p.next.let_go_of = v.wheel;
  p.next.no_chase_until_s = p.next.no_follow_until_s = v.now.time_s + v.settings().second_echelon_s;
  p.become(Role::alone, answer.because);
  p.begins_echelon = true;
  p.tell(EventKind::lets_go, v.wheel);
}

Answer leads_second_echelon(const View& v) {
  if (v.wheel == nobody || v.now.time_s < v.own.no_follow_until_s) return {false, {}, nobody, true};
  const bool still = v.own.no_follow_until_s > 0.0 && v.now.lines.size[v.rider] > 1 && v.now.in_crosswind(v.rider);
  return {true, {}, nobody, still};
}

/// For as long again while the wind blows, else no longer.
void keep_echelon(const View& v, const Answer& answer, Proposal& p) {
  p.next.no_follow_until_s = answer.holds_off ? v.now.time_s + v.settings().second_echelon_s : 0.0;
}

double pace_behind_echelon_mps(const Snapshot& now, const Lines& lines, RiderIndex i) {
  const TacticsSettings& t = now.settings;
  constexpr double least_mps = 1.0;
  RiderIndex ahead = nobody;  // the last of the first echelon
  for (std::size_t place = now.rank_of[i]; ahead == nobody && place-- > 0;)
    if (lines.front_of[now.order[place]] != i) ahead = now.order[place];
  if (ahead == nobody || now.gap_m(i, ahead) > t.echelon_watch * t.echelons_apart_m) return 0.0;
  return std::max(least_mps, now.riders.v_mps[ahead] + t.closing_gap_1ps * (now.gap_m(i, ahead) - t.echelons_apart_m));
}

std::span<const NumberField<TacticsSettings>> echelon_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"line_cross_mps", &T::line_cross_mps, 0, 2,
       "up to this crosswind at the rider a line is single file; above it the line fans out (m/s)", ours},
      {"echelon_cross_mps", &T::echelon_cross_mps, 2.1, 15, "from this crosswind at the rider a line is an echelon (m/s)",
       ours},
      {"single_file_spread_m", &T::single_file_spread_m, 0.05, 1, "half width of a single file (m)", ours},
      {"gutter_factor", &T::gutter_factor, 0.3, 1,
       "a rider in the gutter with a drag factor above this starts a second echelon", ours},
      {"gutter_short_m", &T::gutter_short_m, 0, 2,
       "a rider is in the gutter when the wanted place is this far outside the lane (m)", ours},
      {"gutter_behind_m", &T::gutter_behind_m, 0.5, 50, "riders of a second echelon are this close behind one another (m)",
       ours},
      {"least_echelon", &T::least_echelon, 2, 20, "a second echelon wants this many riders", ours},
      {"echelon_saves_W", &T::echelon_saves_W, 0, 100, "and begins where a wheel in it saves more than this (W)", ours},
      {"echelon_saves_share", &T::echelon_saves_share, 0, 1, "and more than this share of the power in the gutter", ours},
      {"echelon_settling_s", &T::echelon_settling_s, 0, 300,
       "no second echelon begins within this time after a change of front or before the top (s)", ours},
      {"second_echelon_s", &T::second_echelon_s, 10, 3600, "a second echelon lasts at least this long (s)", ours},
      {"echelons_apart_m", &T::echelons_apart_m, 1, 50, "gap between a second echelon and the first (m)", ours},
      {"echelon_watch", &T::echelon_watch, 1, 10,
       "a second echelon adjusts its gap to the first within this many times that gap", ours},
      {"wake_line_beyond_m", &T::wake_line_beyond_m, 0, 10,
       "a rider further behind the wheel than the usual place and this keeps to the wake line at that distance (m)", ours},
      {"least_half_wheel_m", &T::least_half_wheel_m, 0.2, 1.7,
       "least distance between riders in an echelon along the road, centre to centre (m)", ours},
      {"beside_length", &T::beside_length, 1, 10,
       "a rider drifting back keeps clear of riders within this many bicycle lengths", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
