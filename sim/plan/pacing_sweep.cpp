/// The quickest steps of power through the sections, by dynamic programming over levels of W'.

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/pacing_search.hpp"

namespace leewheel {

namespace {

constexpr double never_s = std::numeric_limits<double>::infinity();

/// W' in levels, rounded down.
struct Levels {
  double most_J;
  std::size_t count() const { return static_cast<std::size_t>(most_J / wbal_level_J) + 1; }
  std::size_t of(double wbal_J) const {
    return static_cast<std::size_t>(std::clamp(wbal_J, 0.0, most_J) / wbal_level_J + 1e-9);
  }
};

/// How a level at the end of a section is reached soonest.
struct Reached {
  double time_s = never_s;
  std::size_t from = 0;  ///< level at the section's start
  std::size_t step = 0;  ///< of power
};
using LevelsReached = std::vector<Reached>;

/// Through section `k` with every step of power from one level; keeps what is sooner than what is known.
void ride_on(const SectionCosts& costs, const PacingBounds& bounds, std::size_t k, double wbal_J, double floor_J,
             const Levels& levels, const Reached& begun, std::size_t from, LevelsReached& ends) {
  const Strength& strength = bounds.strength[k];
  for (std::size_t p = 0; p < costs.power_W.size(); ++p) {
    const double time_s = costs.time_s[k][p];
    if (!std::isfinite(time_s)) continue;
    if (bounds.begins_s[k] < bounds.calm_s && costs.power_W[p] > bounds.calm_W) continue;
    const double mean_W = costs.work_J[k][p] / time_s;
    const double after_J = std::min(strength.w_prime_J, wbal_after_J(bounds.law, strength, wbal_J, mean_W, time_s));
    if (after_J < floor_J && after_J < wbal_J) continue;
    if (costs.power_W[p] > power_limit_W(strength, after_J)) continue;
    Reached& best = ends[levels.of(after_J)];
    if (begun.time_s + time_s < best.time_s) best = {begun.time_s + time_s, from, p};
  }
}

}  // namespace

std::vector<std::size_t> fastest_steps(const SectionCosts& costs, const PacingBounds& bounds, std::size_t first,
                                       double start_J) {
  const std::size_t sections = costs.time_s.size() - first;
  const Levels levels{bounds.strength.front().w_prime_J};
  const double floor_J = std::min(bounds.reserve_J, start_J);
  std::vector<LevelsReached> reached(sections + 1, LevelsReached(levels.count()));
  reached[0][levels.of(start_J)].time_s = 0.0;
  for (std::size_t k = 0; k < sections; ++k)
    for (std::size_t level = levels.count(); level-- > 0;) {  // of ways as quick the one that had more W' left stays
      if (reached[k][level].time_s == never_s) continue;
      const double wbal_J = k == 0 ? start_J : static_cast<double>(level) * wbal_level_J;
      ride_on(costs, bounds, first + k, wbal_J, floor_J, levels, reached[k][level], level, reached[k + 1]);
    }
  const LevelsReached& top = reached.back();
  std::size_t level = 0;
  for (std::size_t k = 1; k < top.size(); ++k)
    if (top[k].time_s <= top[level].time_s) level = k;
  if (top[level].time_s == never_s) return {};
  std::vector<std::size_t> steps(sections);
  for (std::size_t k = sections; k-- > 0;) {
    steps[k] = reached[k + 1][level].step;
    level = reached[k + 1][level].from;
  }
  return steps;
}

}  // namespace leewheel
