#include "plan/group_description.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "plan/group_places.hpp"
#include "ride/leader.hpp"

namespace leewheel {

namespace {

constexpr double little_draft_share = 0.08;  // where a line saves less than this the file may open to two abreast (assumed)
constexpr double two_abreast_width_m = 5.0;  // (assumed; local rules decide)
constexpr double own_pace_below =
    0.5;  // share of time in a line below which a stretch is ridden by each at his or her own pace (assumed)
constexpr double waits_within_m = 40.0;  // of a regroup point

bool in_line(Role role) { return role == Role::front || role == Role::following || role == Role::drifting_back; }

/// Everyone climbs freely there: whoever is first leads nobody who gains by it.
bool climbs_freely(const Scenario& scenario, const LineupStretch& s) {
  const RideKind kind = scenario.ride.kind;
  return (kind == RideKind::steady || kind == RideKind::by_strength) &&
         s.saved_share < 1.0 - scenario.tactics.free_climb_fraction;
}

LineupStretch::Form form_on(const Scenario& scenario, const LineupStretch& s) {
  using Form = LineupStretch::Form;
  const double middle_m = 0.5 * (s.where.from_m + s.where.to_m);
  const bool room = scenario.road.abreast(middle_m) >= 2 && scenario.road.width_m(middle_m) >= two_abreast_width_m;
  if (s.in_line_share < own_pace_below || climbs_freely(scenario, s)) return Form::own_pace;
  if (std::abs(s.crosswind_mps) > scenario.tactics.echelon_cross_mps) return Form::echelon;
  if (scenario.ride.formation == Formation::circulating && room) return Form::circulating;
  return room && s.saved_share < little_draft_share && s.grade > 0.0 ? Form::two_abreast : Form::single_file;
}

}  // namespace

GroupDescription::GroupDescription(const Scenario& scenario)
    : scenario_(scenario),
      sums_(scenario.road, {.in_front_s = std::vector<double>(scenario.riders.size(), 0.0)}),
      turns_(scenario),
      waited_s_(scenario.ride.regroup_at_m.size(), std::vector<double>(scenario.riders.size(), 0.0)) {}

void GroupDescription::operator()(const RideView& view) {
  if (!view.whole_interval) return;
  for (std::size_t i = 0; i < view.riders(); ++i) look_at_rider(view, i);
  look_at_leader(view);
  turns_(view);
}

void GroupDescription::look_at_rider(const RideView& view, std::size_t rider) {
  if (!view.on_road(rider)) return;
  const Role role = view.role(rider);
  if (role == Role::waiting) {
    for (std::size_t p = 0; p < waited_s_.size(); ++p)
      if (std::abs(view.distance_m(rider) - scenario_.ride.regroup_at_m[p]) < waits_within_m) waited_s_[p][rider] += 1.0;
    return;
  }
  Sums& s = sums_.at(view.distance_m(rider));
  s.rider_s += 1.0;
  if (!in_line(role)) return;
  s.in_line_s += 1.0;
  if (role == Role::front && view.group(rider) != no_group) s.in_front_s[rider] += 1.0;
  s.alone_J += view.now.alone_power_W[rider];
  s.pedal_J += view.now.power_W[rider];
}

void GroupDescription::look_at_leader(const RideView& view) {
  const std::optional<std::size_t> leader = leader_of(view);
  if (!leader) return;
  Sums& s = sums_.at(view.distance_m(*leader));
  s.front_s += 1.0;
  s.front_speed += view.now.speed_mps[*leader];
  s.front_power += view.now.power_W[*leader];
  s.headwind -= view.now.wind_along_mps[*leader];
  s.crosswind += view.now.wind_cross_mps[*leader];
}

LineupStretch GroupDescription::stretch(std::size_t k) const {
  const RoadStretch& where = sums_.where(k);
  const Sums& s = sums_[k];
  const double rise_m = scenario_.road.elevation_m(where.to_m) - scenario_.road.elevation_m(where.from_m);
  const double front_s = std::max(1.0, s.front_s);
  LineupStretch described{.where = where,
                          .grade = rise_m / (where.to_m - where.from_m),
                          .headwind_mps = s.headwind / front_s,
                          .crosswind_mps = s.crosswind / front_s,
                          .front_speed_mps = s.front_speed / front_s,
                          .front_power_W = s.front_power / front_s,
                          .in_line_share = s.in_line_s / std::max(1.0, s.rider_s),
                          .saved_share = 1.0 - s.pedal_J / std::max(1.0, s.alone_J),
                          .front_s = s.in_front_s,
                          .form = LineupStretch::Form::single_file};
  described.form = form_on(scenario_, described);
  const bool own_pace = described.form == LineupStretch::Form::own_pace;
  if (own_pace) described.front_s.assign(described.front_s.size(), 0.0);
  described.groups = turns_.on(k, own_pace);
  return described;
}

RegroupWait GroupDescription::wait_at(std::size_t point) const {
  const double at_m = scenario_.ride.regroup_at_m[point];
  const auto& waited = waited_s_[point];
  const auto first = std::max_element(waited.begin(), waited.end()), last = std::min_element(waited.begin(), waited.end());
  const auto mark = landmark_near(scenario_.road, at_m);
  return {at_m, mark ? scenario_.road.landmarks()[*mark].name : "", static_cast<std::uint32_t>(first - waited.begin()),
          static_cast<std::uint32_t>(last - waited.begin()), *first};
}

void GroupDescription::into(PlanResult& result) const {
  for (std::size_t k = 0; k < sums_.size(); ++k) result.stretches.push_back(stretch(k));
  for (std::size_t p = 0; p < waited_s_.size(); ++p) result.waits.push_back(wait_at(p));
}

PlanResult look_closely(GroupPlan plan, const std::function<Scenario(const GroupPlan&)>& planned, const RidersAlone& riders,
                        std::size_t& rides) {
  while (true) {
    const Scenario scenario = planned(plan);
    GroupDescription description(scenario);
    Ride ride(scenario, {.notes_debts = false});
    PlanResult result{plan};
    result.expected = score_of(scenario, watch(ride, {1.0}, description), riders);
    description.into(result);
    ++rides;
    plan.regroup_at_m.clear();
    for (const RegroupWait& wait : result.waits)
      if (wait.first_waits_s >= least_wait_s) plan.regroup_at_m.push_back(wait.at_m);
    if (plan.regroup_at_m.size() == result.waits.size()) return result;
  }
}

std::vector<std::vector<std::uint32_t>> groups_at_start(const Scenario& scenario) {
  RideSample sample;
  Ride(scenario, {.notes_debts = false}).sample(sample);
  std::vector<std::uint32_t> order(scenario.riders.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](auto a, auto b) { return sample.distance_m[a] > sample.distance_m[b]; });
  std::vector<std::vector<std::uint32_t>> groups{{order.front()}};
  for (std::size_t k = 1; k < order.size(); ++k) {
    const double gap_m = sample.distance_m[order[k - 1]] - sample.distance_m[order[k]];
    if (scenario.ride.kind == RideKind::by_strength && gap_m > 0.5 * scenario.tactics.second_group_gap_m)
      groups.emplace_back();
    groups.back().push_back(order[k]);
  }
  return groups;
}

}  // namespace leewheel
