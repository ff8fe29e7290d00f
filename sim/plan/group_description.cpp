#include "plan/group_description.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "leewheel/descent.hpp"
#include "leewheel/ride_facts.hpp"
#include "plan/group_places.hpp"
#include "ride/leader.hpp"

namespace leewheel {

namespace {

constexpr double little_draft_share = 0.08;  // where a line saves less than this the file may open to two abreast (assumed)
constexpr double two_abreast_width_m = 5.0;  // (assumed; local rules decide)

LineupStretch::Form form_on(const Scenario& scenario, const LineupStretch& s) {
  using Form = LineupStretch::Form;
  const double middle_m = 0.5 * (s.where.from_m + s.where.to_m);
  const bool room = scenario.road.abreast(middle_m) >= 2 && scenario.road.width_m(middle_m) >= two_abreast_width_m;
  if (!s.in_a_line || is_descent(s.grade, s.front_speed_mps)) return Form::own_pace;
  if (std::abs(s.crosswind_mps) > scenario.tactics.echelon_cross_mps) return Form::echelon;
  if (scenario.ride.formation == Formation::circulating && room) return Form::circulating;
  return room && s.saved_share < little_draft_share && s.grade > 0.0 ? Form::two_abreast : Form::single_file;
}

/// Who waits longest at a regroup point, and who comes last.
RegroupWait wait_told(const WaitOfRide& wait, const RideResult& ridden) {
  RegroupWait told{wait.place.at_m, wait.name, 0, 0, 0.0};
  const auto goes_on_s = [&](const WaitOfRide::Rider& w) { return w.arrive_s + w.waited_s(ridden.time_s); };
  double last_s = -1.0;
  for (const WaitOfRide::Rider& w : wait.waited) {
    const double waited_s = w.waited_s(ridden.time_s);
    if (waited_s > told.first_waits_s) {
      told.first_rider = w.rider, told.first_waits_s = waited_s;
      told.first_arrives_s = w.arrive_s, told.first_goes_on_s = goes_on_s(w);
    }
    if (w.arrive_s > last_s) told.last_rider = w.rider, last_s = w.arrive_s;
  }
  return told;
}

}  // namespace

GroupDescription::GroupDescription(const Scenario& scenario) : scenario_(scenario), sums_(scenario.road), turns_(scenario) {}

void GroupDescription::operator()(const RideView& view) {
  if (!view.whole_interval) return;
  look_at_leader(view);
  turns_(view);
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

LineupStretch GroupDescription::stretch(std::size_t k, const RideFacts& facts) const {
  const RoadStretch& where = sums_.where(k);
  const Sums& s = sums_[k];
  const double rise_m = scenario_.road.elevation_m(where.to_m) - scenario_.road.elevation_m(where.from_m);
  const double front_s = std::max(1.0, s.front_s);
  const StretchOfRide of_ride = k < facts.stretches.size() ? facts.stretches[k] : StretchOfRide{where};
  LineupStretch described{.where = where,
                          .grade = rise_m / (where.to_m - where.from_m),
                          .headwind_mps = s.headwind / front_s,
                          .crosswind_mps = s.crosswind / front_s,
                          .front_speed_mps = s.front_speed / front_s,
                          .front_power_W = s.front_power / front_s,
                          .in_a_line = of_ride.in_a_line(),
                          .saved_W = of_ride.saved_W,
                          .saved_share = of_ride.saved_share,
                          .front_s = std::vector<double>(scenario_.riders.size(), 0.0),
                          .form = LineupStretch::Form::single_file};
  described.form = form_on(scenario_, described);
  const bool own_pace = described.form == LineupStretch::Form::own_pace;
  for (std::size_t i = 0; i < facts.riders.size(); ++i) {
    if (k >= facts.riders[i].stretches.size()) continue;
    const StretchRidden& ridden = facts.riders[i].stretches[k];
    if (!own_pace) described.front_s[i] = ridden.front_s;
    described.last_arrives_s = std::max(described.last_arrives_s, ridden.arrive_s);
    described.first_arrives_s =
        described.first_arrives_s > 0.0 ? std::min(described.first_arrives_s, ridden.arrive_s) : ridden.arrive_s;
  }
  described.groups = turns_.on(k, own_pace);
  return described;
}

void GroupDescription::into(PlanResult& result, const RideResult& ridden) const {
  const RideFacts facts = facts_of(scenario_, ridden);
  for (std::size_t k = 0; k < sums_.size(); ++k) result.stretches.push_back(stretch(k, facts));
  for (const WaitOfRide& wait : waits_of(scenario_, ridden))
    if (wait.place.stop_s <= 0.0) result.waits.push_back(wait_told(wait, ridden));
}

PlanResult look_closely(GroupPlan plan, const std::function<Scenario(const GroupPlan&)>& planned, const RidersAlone& riders,
                        std::size_t& rides) {
  while (true) {
    const Scenario scenario = planned(plan);
    GroupDescription description(scenario);
    Ride ride(scenario, {.notes_debts = false, .notes_laws = false});
    PlanResult result{plan};
    const RideResult ridden = watch(ride, {1.0}, description);
    result.expected = score_of(scenario, ridden, riders);
    description.into(result, ridden);
    ++rides;
    plan.regroup_at_m.clear();
    for (const RegroupWait& wait : result.waits)
      if (wait.first_waits_s >= least_wait_s) plan.regroup_at_m.push_back(wait.at_m);
    if (plan.regroup_at_m.size() == result.waits.size()) return result;
  }
}

std::vector<std::vector<std::uint32_t>> groups_at_start(const Scenario& scenario) {
  RideSample sample;
  Ride(scenario, {.notes_debts = false, .notes_laws = false}).sample(sample);
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
