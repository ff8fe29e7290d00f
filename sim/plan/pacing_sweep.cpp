/// The quickest powers through the instructions, by dynamic programming over levels of W'.

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/pacing_search.hpp"

namespace leewheel {

namespace {

constexpr double never_s = std::numeric_limits<double>::infinity();

/// How a level of W' at the end of an instruction is reached soonest.
struct Reached {
  double time_s = never_s, wbal_J = 0.0;
  std::size_t from = 0;  ///< level at the instruction's start
  std::size_t choice = 0;
};
using LevelsReached = std::vector<Reached>;

/// One instruction's sections and what a choice makes of them.
struct Choosing {
  const Layout& layout;
  const SectionCosts& costs;
  const PacingBounds& bounds;
  std::size_t first, end;

  bool allowed(std::size_t p) const {
    for (std::size_t k = first; k < end; ++k) {
      const std::size_t lever = layout.lever[k];
      const double power = costs.power_W[k][p];
      if (!std::isfinite(costs.time_s[k][p]) || power > bounds.most_W[lever] || power < bounds.least_W[lever]) return false;
    }
    return true;
  }
  /// Rides on from `now`; false where W' does not last.
  bool through(std::size_t p, Reached& now) const {
    for (std::size_t k = first; k < end; ++k) {
      const Strength& strength = bounds.strength[k];
      const double time_s = costs.time_s[k][p];
      const double after_J =
          std::min(strength.w_prime_J, wbal_after_J(bounds.law, strength, now.wbal_J, costs.work_J[k][p] / time_s, time_s));
      if (after_J < bounds.floor_J[k] && after_J < now.wbal_J) return false;
      const double power = costs.power_W[k][p];
      if (power > strength.critical_power_W && power > power_limit_W(strength, after_J)) return false;
      now.time_s += time_s;
      now.wbal_J = after_J;
    }
    return true;
  }
};

std::size_t level_of(double wbal_J, double most_J) {
  return static_cast<std::size_t>(std::clamp(wbal_J, 0.0, most_J) / wbal_level_J + 1e-9);
}

LevelsReached ride_on(const Choosing& instruction, const LevelsReached& begun, double most_J) {
  LevelsReached ends(begun.size());
  for (std::size_t p = 0; p < instruction.costs.power_W[instruction.first].size(); ++p) {
    if (!instruction.allowed(p)) continue;
    for (std::size_t level = begun.size(); level-- > 0;) {  // of ways as quick the one that had more W' left stays
      if (begun[level].time_s == never_s) continue;
      Reached now{begun[level].time_s, begun[level].wbal_J, level, p};
      if (!instruction.through(p, now)) continue;
      Reached& best = ends[level_of(now.wbal_J, most_J)];
      if (now.time_s < best.time_s) best = now;
    }
  }
  return ends;
}

}  // namespace

std::vector<std::size_t> fastest_choices(const Layout& layout, const SectionCosts& costs, const PacingBounds& bounds,
                                         double start_J) {
  const double most_J = bounds.strength.front().w_prime_J;
  std::vector<LevelsReached> reached{LevelsReached(level_of(most_J, most_J) + 1)};
  Reached& start = reached[0][level_of(start_J, most_J)];
  start.time_s = 0.0, start.wbal_J = start_J;
  const auto instruction = [&](std::size_t i) {
    return Choosing{layout, costs, bounds, layout.begins[i], layout.end_of(i)};
  };
  for (std::size_t i = 0; i < layout.begins.size(); ++i) reached.push_back(ride_on(instruction(i), reached.back(), most_J));
  const LevelsReached& top = reached.back();
  std::size_t level = 0;
  for (std::size_t k = 1; k < top.size(); ++k)
    if (top[k].time_s <= top[level].time_s) level = k;
  if (top[level].time_s == never_s) return {};
  std::vector<std::size_t> choices(layout.sections());
  for (std::size_t i = layout.begins.size(); i-- > 0;) {
    const Reached& way = reached[i + 1][level];
    for (std::size_t k = layout.begins[i]; k < layout.end_of(i); ++k) choices[k] = way.choice;
    level = way.from;
  }
  return choices;
}

}  // namespace leewheel
