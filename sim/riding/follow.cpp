#include "riding/follow.hpp"

#include <algorithm>

#include "riding/echelon.hpp"
#include "riding/outlook.hpp"
#include "riding/pass.hpp"

namespace leewheel::riding {

namespace {

bool is_aside(const Ahead& other) {
  return other.role == Role::drifting_back || other.role == Role::waiting || other.side != 0;
}

void let_go(const View& v, const Answer& answer, Proposal& p) {
  p.next.no_chase_until_s = v.now.time_s + v.settings().chase_pause_s;
  p.next.let_go_of = v.wheel;
  p.become(Role::alone, answer.because);
  if (v.now.is_followed(v.rider)) p.next.side = -v.now.passing_side();  // to the edge, so that the others can close the gap
  p.tell(EventKind::lets_go, v.wheel);
}

void go_past_gap(const View& v, const Answer& answer, Proposal& p) {
  p.become(Role::alone, answer.because);
  p.next.side = v.now.passing_side();
  p.tell(EventKind::chases, answer.about);
}

/// From the top; the gutter comes before lost wheels, and going past comes last.
constexpr Rule holding[] = {
    {sprints, nullptr, {}, sprint_past},
    {cannot_hold, &TacticsSettings::dwell_s, Clock::cannot_hold, let_go},
    {in_gutter, &TacticsSettings::dwell_s, Clock::in_gutter, start_second_echelon},
    {wheel_lost_its_own, &TacticsSettings::dwell_s, Clock::wheel_lost_its_own, go_past_gap},
    {far_faster_alone, &TacticsSettings::far_faster_dwell_s, Clock::far_faster, go_past_wheel},
    {faster_alone, &TacticsSettings::passing_dwell_s, Clock::faster, go_past_wheel},
};

void note_cost(const View& v, Memory& next) {
  const double memory_s = v.outlook().climbs_freely ? v.settings().climbing_memory_s : v.settings().asked_memory_s;
  const double asked_W = asked_by_wheel_W(v.now, v.rider, next.role, v.wheel);
  next.asked_W += (asked_W - next.asked_W) * std::min(1.0, v.now.interval_s / memory_s);
}

}  // namespace

RiderIndex wheel_ahead(const Snapshot& now, RiderIndex i, std::span<const Ahead> ahead) {
  const Riders& r = now.riders;
  for (std::size_t place = now.rank_of[i]; place-- > 0;) {
    const RiderIndex j = now.order[place];
    if (now.gap_m(i, j) > now.settings.chase_reach_m) return nobody;
    if (!is_aside(ahead[j]) && r.squad[j] == r.squad[i] && r.x_m[j] - r.x_m[i] > now.settings.wheel_ahead_m) return j;
  }
  return nobody;
}

void hold_wheel(const View& v, Proposal& p) {
  if (v.wheel == nobody) return p.become(Role::alone, {Reason::own_pace});
  p.next.wheel = v.wheel;
  if (p.next.role == Role::chasing && v.gap_m() < v.settings().wheel_reach_m * v.settings().caught_share) {
    p.become(Role::following, {Reason::on_wheel, v.wheel});
    p.tell(EventKind::follows, v.wheel);
  }
  note_cost(v, p.next);
  follow_rules(holding, v, p);
}

Answer cannot_hold(const View& v) {
  const TacticsSettings& t = v.settings();
  const double will_give_W = v.outlook().hold_limit_W;
  const bool out_of_reach =
      v.own.role == Role::following ? v.gap_m() > t.out_of_reach * t.wheel_reach_m : v.now.spare_J(v.rider) < 0.0;
  if (out_of_reach) return {true, {Reason::gap_opened, v.wheel}};
  return {v.own.asked_W > t.let_go_above * will_give_W, {Reason::wheel_too_costly, v.wheel, {v.own.asked_W, will_give_W}}};
}

Answer wheel_lost_its_own(const View& v) {
  const TacticsSettings& t = v.settings();
  const RiderIndex lost = v.memory(v.wheel).wheel;
  if (lost == nobody || v.gap_m() > t.lost_wheel_within_m || v.now.is_instructed(v.rider, Choice::sits_in)) return {};
  const double gap_m = v.now.gap_m(v.wheel, lost), wheel_mps = v.riders().v_mps[v.wheel];
  const bool opens = gap_m > t.lost_wheel_m && v.riders().v_mps[lost] > wheel_mps;
  const bool could = v.outlook().own_speed_mps > wheel_mps &&
                     asked_by_wheel_W(v.now, v.rider, v.own.role, lost) < t.take_below * v.outlook().hold_limit_W;
  return {opens && could, {Reason::passes_gap, v.wheel, {gap_m}}, lost};
}

namespace {
/// A wheel just let go, or one of the same free climb, is not taken again at once.
bool can_hold(const View& v) {
  const TacticsSettings& t = v.settings();
  const RiderIndex let_go_of = v.own.let_go_of;
  const bool burnt =
      let_go_of != nobody && (v.now.time_s < v.own.no_chase_until_s || (v.outlook().climbs_freely && let_go_of == v.wheel));
  return asked_by_wheel_W(v.now, v.rider, v.own.role, v.wheel) <
         (burnt ? t.take_again_below : t.take_below) * v.outlook().hold_limit_W;
}
}  // namespace

Answer wheel_pays(const View& v) {
  const bool free = v.own.role == Role::alone || v.own.role == Role::front;
  return {free && v.gap_m() < v.settings().wheel_reach_m && can_hold(v), {Reason::wheel_within_reach, v.wheel, {v.gap_m()}}};
}

void take_wheel(const View& v, const Answer& answer, Proposal& p) {
  const double since_s = p.next.role_since_s;
  p.next.let_go_of = nobody;
  p.next.asked_W = 0.0;
  p.become(Role::following, answer.because);
  p.next.wheel = v.wheel;
  if (v.now.time_s - since_s > v.settings().retold_after_s) p.tell(EventKind::follows, v.wheel);
}

Answer can_reach(const View& v) {
  const TacticsSettings& t = v.settings();
  const double price_J = t.chase_J_per_m * v.gap_m();
  const bool leads = v.now.lines.size[v.rider] > 1 && v.now.laws().shares_pace();  // a group rides its pace
  const bool may = !leads && !v.outlook().climbs_freely && v.now.time_s > v.own.no_chase_until_s;
  return {may && v.gap_m() < t.chase_reach_m && can_hold(v) && price_J < t.chase_spare_share * v.now.spare_J(v.rider),
          {Reason::can_reach, v.wheel, {v.gap_m(), price_J}}};
}

void chase(const View& v, const Answer& answer, Proposal& p) {
  p.next.asked_W = 0.0;
  p.become(Role::chasing, answer.because);
  p.next.wheel = v.wheel;
  p.tell(EventKind::chases, v.wheel);
}

std::span<const NumberField<TacticsSettings>> follow_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"dwell_s", &T::dwell_s, 0, 120, "a reason must last this long before a rider acts on it (s)", ours},
      {"wheel_reach_m", &T::wheel_reach_m, 1, 50, "a wheel this far ahead can be taken (m)", ours},
      {"wheel_ahead_m", &T::wheel_ahead_m, 0, 2, "a rider ahead by less than this is alongside, not ahead (m)", ours},
      {"take_below", &T::take_below, 0.3, 1,
       "a rider takes a wheel that needs less than this share of what he or she will give", ours},
      {"take_again_below", &T::take_again_below, 0.3, 1, "the same for a wheel just let go", ours},
      {"let_go_above", &T::let_go_above, 1, 2,
       "a rider lets go of a wheel that needs more than this share of what he or she will give", ours},
      {"asked_memory_s", &T::asked_memory_s, 1, 300, "a rider judges a wheel by its cost over about this time (s)", ours},
      {"climbing_memory_s", &T::climbing_memory_s, 1, 600, "the same where everyone climbs freely (s)", ours},
      {"out_of_reach", &T::out_of_reach, 1, 10, "a wheel is lost at this many times wheel_reach_m", ours},
      {"lost_wheel_m", &T::lost_wheel_m, 1, 50,
       "with a gap above this a rider has lost the wheel, and the next rider goes past (m)", ours},
      {"lost_wheel_within_m", &T::lost_wheel_within_m, 0.5, 50,
       "only a rider this close behind the one who lost the wheel goes past (m)", ours},
      {"followed_within_m", &T::followed_within_m, 0.5, 50, "a rider this close behind counts as on the wheel (m)", ours},
      {"surge", &T::surge, 1, 3, "power limit to stay on a wheel for a moment, as a multiple of critical power", ours},
      {"chase_reach_m", &T::chase_reach_m, 0, 500, "a group this far ahead may be chased (m)", ours},
      {"chase_J_per_m", &T::chase_J_per_m, 1, 500, "work needed to close a metre of gap (J/m)",
       "58-62 J/m on the flat, computed from the power equation"},
      {"chase_spare_share", &T::chase_spare_share, 0, 1, "a chase may cost this share of the W' above the reserve", ours},
      {"chase_effort", &T::chase_effort, 1, 3, "power limit while chasing, as a multiple of critical power", ours},
      {"caught_share", &T::caught_share, 0.05, 1, "a chase ends at this share of wheel_reach_m", ours},
      {"chase_pause_s", &T::chase_pause_s, 0, 3600,
       "after giving up a chase or a wait a rider begins none for this long (s)", ours},
      {"retold_after_s", &T::retold_after_s, 0, 600,
       "taking a wheel is an event when the rider had been without one for this long (s)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
