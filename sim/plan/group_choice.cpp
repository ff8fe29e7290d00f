#include "plan/group_choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "plan/group_places.hpp"

namespace leewheel {

namespace {

constexpr double alike_s = 30.0, alike_effort = 0.01;  // columns that differ by less are much alike (assumed)
constexpr std::size_t most_strong = 4;

/// As good or nearly so in every column. All are times but the second, and the last of the aim `fair`.
bool covers(const std::vector<double>& one, const std::vector<double>& other, LineupAim aim) {
  for (std::size_t c = 0; c < one.size(); ++c) {
    const bool effort = c == 1 || (aim == LineupAim::fair && c + 1 == one.size());
    if (one[c] > other[c] + (effort ? alike_effort : alike_s)) return false;
  }
  return true;
}

}  // namespace

PlanLimits limits_of(const std::vector<const PlanScore*>& obvious, const LineupSettings& settings) {
  PlanLimits limits{settings.wbal_margin_share, 0.0, settings.harder_share, settings.held_back_s};
  const auto quickest_within = [&](const PlanLimits& kept) {
    double quickest_s = std::numeric_limits<double>::infinity();
    for (const PlanScore* score : obvious)
      if (within(*score, kept)) quickest_s = std::min(quickest_s, score->last_s);
    return quickest_s;
  };
  double quickest_s = quickest_within(limits);
  if (!std::isfinite(quickest_s)) quickest_s = quickest_within({.margin = limits.margin});
  if (settings.aim != LineupAim::time && std::isfinite(quickest_s))
    limits.last_s = (1.0 + settings.time_limit_share) * quickest_s;
  return limits;
}

Unfit unfit_of(const PlanResult& plan, const Scenario& scenario, const PlanLimits& limits) {
  const PlanScore& score = plan.expected;
  if (!score.all_home) return Unfit::not_home;
  if (score.wbal_least_share < limits.margin) return Unfit::runs_dry;
  for (const double at_m : plan.plan.regroup_at_m)
    if (!unfit_to_wait(scenario.road, at_m).empty()) return Unfit::bad_place;
  if (score.harder_share > limits.harder_share) return Unfit::harder;
  if (score.held_back_s > limits.held_back_s) return Unfit::held_back;
  return within(score, limits) ? Unfit::none : Unfit::too_late;
}

std::vector<std::uint32_t> strong_riders(const RidersAlone& riders) {
  std::vector<std::uint32_t> order(riders.time_s.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return riders.time_s[a] < riders.time_s[b]; });
  order.erase(order.begin() + static_cast<std::ptrdiff_t>(std::min(most_strong, order.size() / 2)), order.end());
  return order;
}

std::vector<double> columns_of(const PlanResult& plan, const std::vector<std::uint32_t>& strong, LineupAim aim) {
  std::vector<double> columns{plan.expected.last_s, plan.expected.weakest_effort};
  for (const std::uint32_t i : strong) columns.push_back(plan.expected.later_s[i]);
  columns.push_back(plan.expected.longest_wait_s);
  if (aim == LineupAim::fair) columns.push_back(plan.expected.unfairness);
  return columns;
}

bool beats(const std::vector<double>& one, const std::vector<double>& other) {
  bool better = false;
  for (std::size_t c = 0; c < one.size(); ++c) {
    if (one[c] > other[c]) return false;
    better = better || one[c] < other[c];
  }
  return better;
}

std::vector<std::size_t> worth_choosing(const std::vector<PlanResult>& plans, const std::vector<std::size_t>& from,
                                        const std::vector<std::uint32_t>& strong, LineupAim aim, std::size_t prefer,
                                        std::size_t most) {
  const auto columns = [&](std::size_t k) { return columns_of(plans[k], strong, aim); };
  const auto beaten_by = [&](std::size_t k, std::size_t other) {
    return beats(columns(other), columns(k)) && !(k == prefer && covers(columns(k), columns(other), aim));
  };
  std::vector<std::size_t> front;
  for (const std::size_t k : from)
    if (std::none_of(from.begin(), from.end(), [&](std::size_t other) { return beaten_by(k, other); })) front.push_back(k);
  const auto before = [&](std::size_t a, std::size_t b) {
    if ((a == prefer) != (b == prefer)) return a == prefer;
    return aim_value(plans[a].expected, aim) < aim_value(plans[b].expected, aim);
  };
  std::stable_sort(front.begin(), front.end(), before);
  std::vector<std::size_t> kept;
  for (const std::size_t k : front)
    if (kept.size() < most &&
        std::none_of(kept.begin(), kept.end(), [&](std::size_t one) { return covers(columns(one), columns(k), aim); }))
      kept.push_back(k);
  std::stable_sort(kept.begin(), kept.end(), [&](std::size_t a, std::size_t b) {
    return aim_value(plans[a].expected, aim) < aim_value(plans[b].expected, aim);
  });
  return kept;
}

namespace {

/// Whether a plan wins over another on drawn days, and by enough for what it waits longer.
bool worth_its_wait(const PlanResult& one, const PlanResult& other, LineupAim aim) {
  const PlanDuel beside = duel(one, other, aim);
  const double longer_s = one.expected.longest_wait_s - other.expected.longest_wait_s;
  return beside.wins && (aim != LineupAim::time || beside.gain >= wait_must_buy * longer_s);
}

}  // namespace

std::size_t choose(const std::vector<PlanResult>& table, std::size_t clubs, LineupAim aim) {
  const auto kept_days = [&](std::size_t k) { return std::min(table[k].margin_days, margin_days_share); };
  std::size_t best = 0;
  for (std::size_t k = 1; k < table.size(); ++k)
    if (kept_days(k) > kept_days(best) || (kept_days(k) == kept_days(best) && table[k].value < table[best].value)) best = k;
  const auto as_good = [&](std::size_t k) {
    return kept_days(k) == kept_days(best) && !worth_its_wait(table[best], table[k], aim);
  };
  const auto before = [&](std::size_t a, std::size_t b) {
    const double a_min = std::round(table[a].expected.longest_wait_s / 60.0),
                 b_min = std::round(table[b].expected.longest_wait_s / 60.0);
    if (a_min != b_min) return a_min < b_min;
    return (a == clubs) != (b == clubs) ? a == clubs : a < b;
  };
  std::size_t chosen = best;
  for (std::size_t k = 0; k < table.size(); ++k)
    if (as_good(k) && before(k, chosen)) chosen = k;
  return chosen;
}

}  // namespace leewheel
