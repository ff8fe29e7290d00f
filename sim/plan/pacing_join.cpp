/// Fewer changes of power where they win little.

#include <algorithm>
#include <cmath>

#include "plan/pacing_search.hpp"

namespace leewheel {

namespace {

constexpr double joined_within[] = {0.06, 0.03, 0.015};  // of even power: neighbours that differ by no more are tried as one
constexpr double worth_share = 0.03;                     // of what the plan wins: fewer changes may cost so much (assumed)

/// Lever of what rises and of what falls in an instruction, and its power; -1: there is none.
struct Side {
  std::ptrdiff_t lever = -1;
  double power_W = 0.0;
};
Side side_of(const Layout& layout, const std::vector<double>& powers_W, std::size_t instruction, bool falls) {
  for (std::size_t k = layout.begins[instruction]; k < layout.end_of(instruction); ++k)
    if (layout.falls[k] == falls) return {static_cast<std::ptrdiff_t>(layout.lever[k]), powers_W[k]};
  return {};
}

/// Whether two neighbours may be one: what both have differs little, and neither is bound otherwise than the other.
bool may_join(const Course& course, const std::vector<double>& powers_W, std::size_t instruction, double within_W) {
  bool any = false;
  for (const bool falls : {false, true}) {
    const Side a = side_of(course.layout, powers_W, instruction, falls);
    const Side b = side_of(course.layout, powers_W, instruction + 1, falls);
    if (a.lever < 0 || b.lever < 0) continue;
    any = true;
    const auto most = [&](const Side& side) { return course.bounds.most_W[static_cast<std::size_t>(side.lever)]; };
    if (std::abs(a.power_W - b.power_W) > within_W || most(a) != most(b)) return false;
  }
  return any;
}

void join_next(Layout& layout, const std::vector<double>& powers_W, std::size_t instruction) {
  for (const bool falls : {false, true}) {
    const Side a = side_of(layout, powers_W, instruction, falls);
    if (a.lever < 0) continue;
    for (std::size_t k = layout.begins[instruction + 1]; k < layout.end_of(instruction + 1); ++k)
      if (layout.falls[k] == falls) layout.lever[k] = static_cast<std::size_t>(a.lever);
  }
  layout.begins.erase(layout.begins.begin() + static_cast<std::ptrdiff_t>(instruction) + 1);
}

/// Each lever at the mean power over its time, in whole steps rounded down.
std::vector<double> levelled(const Layout& layout, const RiddenPlan& plan, const PacingSettings& settings) {
  std::vector<double> work_J(layout.levers()), time_s(layout.levers()), powers;
  for (std::size_t k = 0; k < layout.sections(); ++k) {
    const double lasts_s = plan.ride.passed_s[k + 1] - plan.ride.passed_s[k];
    work_J[layout.lever[k]] += plan.powers_W[k] * lasts_s;
    time_s[layout.lever[k]] += lasts_s;
  }
  for (const std::size_t lever : layout.lever)
    powers.push_back(settings.step_W * std::floor(work_J[lever] / time_s[lever] / settings.step_W + 1e-6));
  return powers;
}

}  // namespace

void join_instructions(Course& course, RiddenPlan& plan, double even_s, const PacingSettings& settings) {
  for (const double share : joined_within) {
    Course fewer = course;
    for (std::size_t i = 0; i + 1 < fewer.layout.begins.size();)
      if (may_join(fewer, plan.powers_W, i, share * course.even_W))
        join_next(fewer.layout, plan.powers_W, i);
      else
        ++i;
    if (fewer.layout.begins.size() == course.layout.begins.size()) continue;
    RiddenPlan found{levelled(fewer.layout, plan, settings), {}};
    found.ride = ride_timed(course.solo, course.layout.cuts_m, found.powers_W);
    found = refined(fewer, std::move(found), 0.015 * course.even_W, settings);
    if (!keeps_limits(fewer, found)) continue;
    if (found.ride.time_s - plan.ride.time_s > worth_share * std::max(0.0, even_s - plan.ride.time_s)) continue;
    course.layout = fewer.layout;
    plan = std::move(found);
    return;
  }
}

}  // namespace leewheel
