#include "riding/decide.hpp"

#include <algorithm>

#include "riding/command.hpp"
#include "riding/doing.hpp"
#include "riding/echelon.hpp"
#include "riding/follow.hpp"
#include "riding/instructed.hpp"
#include "riding/outlook.hpp"
#include "riding/pass.hpp"
#include "riding/regroup.hpp"
#include "riding/rules.hpp"
#include "riding/turns.hpp"
#include "riding/wait.hpp"

namespace leewheel::riding {

namespace {

/// Rules of a rider without a wheel, from the top.
constexpr Rule riding_freely[] = {
    {group_is_gone, nullptr, {}, ride_on, true},
    {group_comes, nullptr, {}, ease_for_group, true},
    {cannot_come_by, &TacticsSettings::passing_dwell_s, Clock::stuck, give_up_passing, true},
    {is_beside, nullptr, {}, finish_passing},
    {sprints, nullptr, {}, sprint_past},
    {leads_second_echelon, nullptr, {}, keep_echelon, true},
    {wheel_far_too_slow, &TacticsSettings::far_faster_dwell_s, Clock::far_faster, go_aside},
    {wheel_too_slow, &TacticsSettings::dwell_s, Clock::faster, go_aside},
    {wheel_pays, nullptr, {}, take_wheel},
    {can_reach, nullptr, {}, chase},
};

void propose_one(const View& view, Proposal& proposal) {
  if (view.own.role == Role::waiting) return;
  if (ride_off_wheels(view, proposal) || go_to_the_back(view, proposal)) return;
  switch (view.own.role) {
    case Role::drifting_back: return drift_back(view, proposal);
    case Role::following:
    case Role::chasing: return hold_wheel(view, proposal);
    default: return follow_rules(riding_freely, view, proposal);
  }
}

}  // namespace

void propose(const Snapshot& now, std::vector<Memory>& next, std::vector<Ahead>& ahead, std::vector<Notice>& notices) {
  notices.clear();
  bool echelon_begun = false;
  for (const RiderIndex i : now.order) {
    next[i] = now.memory[i];
    if (echelon_begun) next[i].since_s[static_cast<std::size_t>(Clock::in_gutter)] = stopped;
    const View view{now, i, wheel_ahead(now, i, ahead), next[i], ahead};
    Proposal proposal{next[i], i, now.time_s, notices};
    propose_one(view, proposal);
    ahead[i] = {next[i].role, next[i].side};
    echelon_begun = echelon_begun || proposal.begins_echelon;
  }
}

void settle(Settling& s) {
  const std::vector<RiderIndex>& front_of = s.lines.front_of;
  form_lines(s);
  for (const RiderIndex i : s.now.order)
    if (front_of[i] == i && s.lines.size[i] > 1) settle_line(s, i);
  settle_letting_by(s.now, s.next);
}

void apply(const Settling& s, Riders& riders) {
  for (const RiderIndex i : s.now.order) {
    const Command command = command_for(s, i);
    riders.free_W[i] = command.free_W;
    riders.most_W[i] = command.most_W;
    riders.pace_mps[i] = command.pace_mps;
    riders.y_target_m[i] = command.y_target_m;
    riders.wish_gap_m[i] = command.wish_gap_m;
    riders.most_mps2[i] = command.most_mps2;
    riders.front_of[i] = s.lines.front_of[i];
  }
}

void Decide::second(double time_s, double interval_s, const Track& track, std::span<const RiderIndex> order,
                    std::span<const RiderIndex> rank_of, std::span<const std::int32_t> group_of, Riders& riders,
                    std::vector<Event>& events) {
  const Snapshot now = look(time_s, interval_s, track, order, rank_of, group_of, riders);
  propose(now, next_, ahead_, notices_);
  Settling settling{now, next_, settled_, notices_, eased_at_s_, line_, file_, speeds_mps_, pullers_, shares_};
  settled_ = lines_;
  settle(settling);
  apply(settling, riders);
  lines_.size = settled_.size;
  settle_regroup(settling, riders.stop_at_m);
  tell(now, events);
  for (const RiderIndex i : order) riders.wheel_of[i] = next_[i].wheel;
  memory_.swap(next_);
}

namespace {
/// What the lane here and the one that far ahead have in common: riders move over before the road narrows.
Lane lane_ahead(const Track& track, double x_m, double ahead_m) {
  const Lane here = track.rules(x_m).lane, soon = track.rules(x_m + ahead_m).lane;
  return {std::max(here.low_m, soon.low_m), std::min(here.high_m, soon.high_m)};
}
}  // namespace

constexpr double here_m = 1.0;  // the slope under the wheels is taken over this length

/// Everyone at the start of the second: where the road is, what each is instructed to do here, what each can give.
Snapshot Decide::look(double time_s, double interval_s, const Track& track, std::span<const RiderIndex> order,
                      std::span<const RiderIndex> rank_of, std::span<const std::int32_t> group_of, const Riders& riders) {
  const RideSettings& ride = scenario_.ride;
  const double ahead_m = scenario_.tactics.slope_ahead_m;
  for (const RiderIndex i : order) {
    const double x_m = riders.x_m[i];
    const RoadRules& rules = track.rules(x_m);
    road_[i] = {lane_ahead(track, x_m, scenario_.tactics.lane_look_s * riders.v_mps[i]),
                rules.closed,
                rules.two_abreast_for_m,
                scenario_.road.width_m(x_m),
                scenario_.road.abreast(x_m),
                track.easing_at_m(x_m),
                riders.weight_N[i] * (track.elevation_m(x_m + ahead_m) - riders.elevation_m[i]) / ahead_m,
                riders.weight_N[i] * (track.elevation_m(x_m + here_m) - riders.elevation_m[i]) / here_m,
                to_finish_.s(i, x_m)};
    memory_[i].wheel = riders.wheel_of[i];  // none when its rider has finished
    lines_.front_of[i] = riders.front_of[i];
  }
  const Snapshot now{time_s,          interval_s,    ride.kind, ride.formation,    ride.keep_right, track.length_m(),
                     waiting_places_, instructions_, riders,    scenario_.tactics, order,           rank_of,
                     group_of,        road_,         outlook_,  memory_,           lines_};
  for (const RiderIndex i : order) take_instruction(now, i, memory_[i]);
  for (const RiderIndex i : order) assess(now, i, ride.seed, outlook_[i]);
  return now;
}

void Decide::tell(const Snapshot& now, std::vector<Event>& events) {
  for (const Notice& notice : notices_) {
    const RiderIndex i = notice.rider;
    std::vector<std::uint32_t> who{i};
    if (notice.about != nobody) who.push_back(notice.about);
    who.insert(who.end(), notice.with.begin(), notice.with.end());
    events.push_back({notice.kind, now.time_s, now.riders.x_m[i], std::move(who), now.group_of[i], notice.because});
  }
}

Because Decide::doing(const Riders& riders, RiderIndex i) const {
  return riding::doing(riders, scenario_.tactics, memory_[i], outlook_[i], i);
}

}  // namespace leewheel::riding
