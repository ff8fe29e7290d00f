#include "plan/group_plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "leewheel/motion.hpp"
#include "leewheel/pacing.hpp"

namespace leewheel {

namespace {

constexpr double steep_from_grade = 0.03;    // and steeper than the road's mean: where a plan may lean (assumed)
constexpr double most_from_elsewhere = 1.5;  // little flat cannot pay for much climb: times the plan's lean (assumed)
constexpr double least_speed_mps = 0.5;      // of the estimate of times, on slopes that are too steep to ride
constexpr double effort_steps_per_1 = 1e4;   // efforts are rounded, so that a plan written down is the plan ridden

std::vector<PlanStep> own_plan(const Scenario& scenario, std::size_t rider) {
  if (rider < scenario.plans.size() && !scenario.plans[rider].empty()) return scenario.plans[rider];
  return {{0.0, scenario.riders[rider].target_effort}};
}

/// About how long a rider takes: in still air, at the own effort.
double about_s(const Scenario& scenario, const RiderSettings& rider, const LeanSection& s) {
  RoadLoad load;
  load.mass_kg = rider.total_mass_kg();
  load.drag_area_m2 = rider.drag_area_hoods_m2;
  load.gravity_mps2 = scenario.gravity_mps2;
  load.grade = s.grade;
  return (s.to_m - s.from_m) /
         std::max(least_speed_mps, steady_speed_mps(load, rider.target_effort * rider.critical_power_W));
}

/// Factors on the effort, steep and elsewhere, that leave the mean effort over time about as it was.
std::pair<double, double> lean_factors(const Scenario& scenario, const RiderSettings& rider,
                                       const std::vector<LeanSection>& sections, double lean) {
  double steep_s = 0.0, other_s = 0.0;
  for (const LeanSection& s : sections) {
    const double time_s = about_s(scenario, rider, s);
    (s.hard ? steep_s : other_s) += time_s;
  }
  if (steep_s <= 0.0 || other_s <= 0.0) return {1.0, 1.0};
  const double most = std::min(lean, lean * most_from_elsewhere * other_s / steep_s);
  return {1.0 + most, 1.0 - most * steep_s / other_s};
}

std::vector<PlanStep> leaning(const std::vector<PlanStep>& plan, const std::vector<LeanSection>& sections, double on_steep,
                              double elsewhere) {
  std::vector<double> starts{0.0};
  for (const PlanStep& step : plan) starts.push_back(step.from_m);
  for (const LeanSection& s : sections) starts.push_back(s.from_m);
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  std::vector<PlanStep> result;
  for (const double x : starts) {
    double effort = plan.front().effort, factor = 1.0;
    for (const PlanStep& step : plan)
      if (x >= step.from_m) effort = step.effort;
    for (const LeanSection& s : sections)
      if (x >= s.from_m && x < s.to_m) factor = s.hard ? on_steep : elsewhere;
    if (result.empty() || result.back().effort != effort * factor) result.push_back({x, effort * factor});
  }
  return result;
}

/// Harder or easier for so short a time that somebody would change within `least_change_s`: ridden like what is about it, the
/// shortest first.
void join_short_runs(const Scenario& scenario, std::vector<LeanSection>& sections) {
  std::vector<double> quickest_s;
  for (const LeanSection& s : sections) {
    quickest_s.push_back(std::numeric_limits<double>::infinity());
    for (const RiderSettings& rider : scenario.riders)
      quickest_s.back() = std::min(quickest_s.back(), about_s(scenario, rider, s));
  }
  for (;;) {
    double shortest_s = least_change_s;
    std::size_t from = 0, to = 0;
    for (std::size_t begin = 0, end = 0; begin < sections.size(); begin = end) {
      double run_s = 0.0;
      for (end = begin; end < sections.size() && sections[end].hard == sections[begin].hard; ++end) run_s += quickest_s[end];
      if (begin == 0 && end == sections.size()) return;
      if (run_s < shortest_s) shortest_s = run_s, from = begin, to = end;
    }
    if (to == 0) return;
    for (std::size_t k = from; k < to; ++k) sections[k].hard = !sections[k].hard;
  }
}

}  // namespace

double TacticsSettings::*pace_share_of(RideKind kind) {
  return kind == RideKind::together ? &TacticsSettings::pace_share_together : &TacticsSettings::pace_share_steady;
}

std::vector<LeanSection> lean_sections(const Scenario& scenario, std::size_t rider) {
  const std::vector<double> cuts = pacing_cuts_m(scenario, rider, scenario.riders[rider].critical_power_W, {});
  const double mean = scenario.road.facts().mean_grade;
  std::vector<LeanSection> sections;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
    const double grade =
        (scenario.road.elevation_m(cuts[k + 1]) - scenario.road.elevation_m(cuts[k])) / (cuts[k + 1] - cuts[k]);
    const bool steep = grade > std::max(mean, steep_from_grade);
    if (!sections.empty() && sections.back().steep == steep) {
      LeanSection& last = sections.back();
      last.grade = (last.grade * (last.to_m - last.from_m) + grade * (cuts[k + 1] - cuts[k])) / (cuts[k + 1] - last.from_m);
      last.to_m = cuts[k + 1];
    } else {
      sections.push_back({cuts[k], cuts[k + 1], grade, steep, steep});
    }
  }
  join_short_runs(scenario, sections);
  return sections;
}

Scenario laid_in(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest,
                 const std::vector<LeanSection>& sections) {
  Scenario s = scenario;
  s.ride.kind = plan.kind;
  s.ride.formation = plan.formation;
  s.ride.start_order = plan.order;
  s.ride.regroup_at_m = plan.regroup_at_m;
  s.tactics.turn_s = plan.turn_s;
  s.tactics.circulate_s = plan.circulate_s;
  s.tactics.*pace_share_of(plan.kind) = plan.pace_share;
  s.tactics.hold_margin = plan.hold_margin;
  s.tactics.front_effort = plan.front_effort;
  s.tactics.free_climb_fraction = plan.free_climb_fraction;
  s.tactics.wprime_reserve = plan.wprime_reserve;
  s.plans.resize(s.riders.size());
  for (std::size_t i = 0; i < s.riders.size(); ++i) {
    const double ease = i == weakest ? plan.weakest_effort : 1.0;
    if (plan.lean == 0.0 && ease == 1.0) continue;
    const auto [on_steep, elsewhere] = lean_factors(s, s.riders[i], sections, plan.lean);
    s.plans[i] =
        leaning(own_plan(scenario, i), plan.lean == 0.0 ? std::vector<LeanSection>{} : sections, on_steep, elsewhere);
    for (PlanStep& step : s.plans[i]) step.effort = std::round(step.effort * ease * effort_steps_per_1) / effort_steps_per_1;
  }
  return s;
}

Scenario with_plan(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest) {
  return laid_in(scenario, plan, weakest, lean_sections(scenario, weakest));
}

}  // namespace leewheel
