#include "plan/group_levers.hpp"

#include <algorithm>
#include <numeric>

#include "plan/group_places.hpp"

namespace leewheel {

namespace {

constexpr double regroup_from_grade = 0.04, regroup_to_grade = 0.02;  // tops of steep pieces are places to wait (assumed)
constexpr double before_top_m = 100.0;   // a landmark this little before a top is still its place to wait
constexpr std::size_t most_singles = 6;  // places tried one by one
constexpr double equal_turn_s = 60.0;

/// Names of riders, those first for whom `less` says so, by name where it says nothing.
template <class Less>
std::vector<std::string> names_by(const std::vector<RiderSettings>& riders, Less less) {
  std::vector<std::size_t> index(riders.size());
  std::iota(index.begin(), index.end(), std::size_t{0});
  std::sort(index.begin(), index.end(), [&](std::size_t a, std::size_t b) {
    if (less(a, b) != less(b, a)) return less(a, b);
    return riders[a].name < riders[b].name;
  });
  std::vector<std::string> names;
  for (const std::size_t i : index) names.push_back(riders[i].name);
  return names;
}

std::vector<std::string> moved_to(std::vector<std::string> names, const std::string& name, std::size_t place) {
  names.erase(std::find(names.begin(), names.end(), name));
  names.insert(names.begin() + static_cast<std::ptrdiff_t>(place), name);
  return names;
}

}  // namespace

GroupLevers::GroupLevers(const Scenario& scenario, LineupAim aim, const RidersAlone& riders,
                         const std::vector<LeanSection>& sections)
    : scenario_(scenario), aim_(aim) {
  find_orders(riders);
  find_regroups(sections);
}

void GroupLevers::find_orders(const RidersAlone& riders) {
  const auto& r = scenario_.riders;
  const std::string& weakest = r[riders.weakest].name;
  const auto strongest =
      names_by(r, [&](std::size_t a, std::size_t b) { return r[a].critical_power_W > r[b].critical_power_W; });
  const auto slowest = names_by(r, [&](std::size_t a, std::size_t b) { return riders.time_s[a] > riders.time_s[b]; });
  const auto largest =
      names_by(r, [&](std::size_t a, std::size_t b) { return r[a].drag_area_hoods_m2 > r[b].drag_area_hoods_m2; });
  orders_ = {{"as the scenario says", scenario_.ride.start_order},
             {"most power first", strongest},
             {"slowest alone first", slowest},
             {"largest in the wind first", largest},
             {"most power first, the weakest on the second wheel", moved_to(strongest, weakest, 1)},
             {"most power first, the weakest in the middle", moved_to(strongest, weakest, r.size() / 2)}};
}

namespace {

/// The first place to wait at or behind the top of each steep piece, before the next one is climbed: there everyone has
/// climbed as it suits, and drafting is worth something again.
std::vector<double> waits_at_tops(const std::vector<LeanSection>& sections, const std::vector<double>& places) {
  std::vector<double> waits;
  for (std::size_t k = 0; k + 1 < sections.size(); ++k) {
    if (sections[k].grade <= regroup_from_grade ||
        sections[k + 1].grade >= std::max(regroup_to_grade, 0.5 * sections[k].grade))
      continue;
    const auto place = std::lower_bound(places.begin(), places.end(), sections[k].to_m - before_top_m);
    if (place == places.end() || *place >= sections[k + 1].to_m) continue;
    if (waits.empty() || waits.back() != *place) waits.push_back(*place);
  }
  return waits;
}

}  // namespace

/// None; where the plan clubs ride waits, which is the scenario's own choice as far as it is fit and the tops else; each place
/// alone.
void GroupLevers::find_regroups(const std::vector<LeanSection>& sections) {
  std::vector<double> places = places_to_wait(scenario_.road), own;
  for (const double at_m : scenario_.ride.regroup_at_m)
    if (unfit_to_wait(scenario_.road, at_m).empty()) own.push_back(at_m);
  const std::vector<double> tops = waits_at_tops(sections, places);
  regroups_ = {{}, own.empty() ? tops : own};
  const auto add = [&](const std::vector<double>& regroup) {
    if (std::find(regroups_.begin(), regroups_.end(), regroup) == regroups_.end()) regroups_.push_back(regroup);
  };
  add(tops);
  for (const double at_m : places.size() > most_singles ? tops : places) add({at_m});
}

GroupPlan GroupLevers::plan_from_scenario(const std::string& name) const {
  const RideSettings& ride = scenario_.ride;
  const TacticsSettings& t = scenario_.tactics;
  return {.name = name,
          .kind = ride.kind,
          .formation = ride.formation,
          .order_rule = orders_[0].rule,
          .order = orders_[0].names,
          .regroup_at_m = ride.regroup_at_m,
          .turn_s = t.turn_s,
          .circulate_s = t.circulate_s,
          .pace_share = t.*pace_share_of(ride.kind),
          .hold_margin = t.hold_margin,
          .front_effort = t.front_effort,
          .free_climb_fraction = t.free_climb_fraction,
          .wprime_reserve = t.wprime_reserve};
}

void GroupLevers::start_in(GroupPlan& plan, const StartOrder& order) {
  plan.order_rule = order.rule;
  plan.order = order.names;
}

/// Together where a wheel pays, at a pace that suits everyone; free where it does not; wait at tops (common practice, no
/// source).
GroupPlan GroupLevers::clubs_plan() const {
  GroupPlan plan = plan_from_scenario("as clubs ride");
  plan.kind = RideKind::steady;
  plan.formation = Formation::turns;
  if (plan.order.empty()) start_in(plan, orders_.back());
  plan.pace_share = 1.0;
  if (plan.free_climb_fraction > 1.0) plan.free_climb_fraction = TacticsSettings{}.free_climb_fraction;
  plan.regroup_at_m = regroups_[1];
  return plan;
}

std::vector<GroupPlan> GroupLevers::obvious_plans() const {
  std::vector<GroupPlan> plans(5, plan_from_scenario("as the scenario stands"));
  plans[clubs] = clubs_plan();
  plans[2].name = "strongest in front all day";
  plans[2].kind = RideKind::steady;
  plans[2].pace_share = scenario_.tactics.pace_share_steady;
  plans[2].formation = Formation::one_in_front;
  start_in(plans[2], orders_[1]);
  plans[3] = plans[2];
  plans[3].name = "equal turns";
  plans[3].formation = Formation::circulating;
  plans[3].circulate_s = equal_turn_s;
  plans[4].name = "no plan: everyone for the finish";
  plans[4].kind = RideKind::race;
  plans[4].regroup_at_m.clear();
  return plans;
}

std::vector<GroupPlan> GroupLevers::other_starts() const {
  std::vector<GroupPlan> plans;
  for (const RideKind kind : {RideKind::steady, RideKind::together, RideKind::by_strength})
    for (std::size_t formation = 0; formation < formation_names.size(); ++formation)
      for (const bool regroup : {true, false}) {
        GroupPlan plan = plan_from_scenario("found");
        plan.kind = kind;
        plan.formation = static_cast<Formation>(formation);
        plan.pace_share = scenario_.tactics.*pace_share_of(kind);
        start_in(plan, orders_[1]);
        plan.regroup_at_m = regroups_[regroup ? 1 : 0];
        plans.push_back(plan);
      }
  return plans;
}

std::vector<GroupPlan> GroupLevers::neighbours(const GroupPlan& plan) const {
  std::vector<GroupPlan> plans;
  const auto vary = [&](double GroupPlan::*lever, std::initializer_list<double> values) {
    for (const double value : values) {
      plans.push_back(plan);
      plans.back().*lever = value;
    }
  };
  for (const StartOrder& order : orders_) {
    plans.push_back(plan);
    start_in(plans.back(), order);
  }
  for (const std::vector<double>& regroup : regroups_) {
    plans.push_back(plan);
    plans.back().regroup_at_m = regroup;
  }
  if (plan.formation == Formation::turns) vary(&GroupPlan::turn_s, {20.0, 45.0, 90.0, 180.0});
  if (plan.formation == Formation::circulating) vary(&GroupPlan::circulate_s, {8.0, 20.0, 60.0});
  if (plan.kind != RideKind::race) vary(&GroupPlan::pace_share, {0.5, 0.7, 0.85, 1.0});
  if (plan.kind != RideKind::race) vary(&GroupPlan::free_climb_fraction, {0.90, 0.94, 0.97, 1.01});
  vary(&GroupPlan::hold_margin, {1.0, 1.05, 1.1, 1.2});
  vary(&GroupPlan::front_effort, {1.0, 1.1, 1.25, 1.4});
  vary(&GroupPlan::lean, {0.0, 0.05, 0.1});
  vary(&GroupPlan::wprime_reserve, {scenario_.tactics.wprime_reserve, 0.25, 0.35});
  if (aim_ != LineupAim::time) vary(&GroupPlan::weakest_effort, {1.0, 0.97, 0.94});
  for (GroupPlan& neighbour : plans) neighbour.name = "found";
  return plans;
}

}  // namespace leewheel
