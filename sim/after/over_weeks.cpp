#include "leewheel/over_weeks.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace leewheel {

LearnedOverWeeks over_weeks(std::vector<LearnedOnce> once) {
  assert(!once.empty());
  std::stable_sort(once.begin(), once.end(),
                   [](const LearnedOnce& a, const LearnedOnce& b) { return a.age_days > b.age_days; });
  const LearnedOnce& latest = once.back();
  struct Added {
    double value, weight, full_weight;
  };
  std::vector<Added> added;
  LearnedOverWeeks out;
  for (const LearnedOnce& one : once) {
    const double after = 1.0 / (one.sd * one.sd), before = one.before_sd > 0.0 ? 1.0 / (one.before_sd * one.before_sd) : 0.0;
    if (!(after > before)) continue;  // the ride added nothing
    const double own = after - before;
    added.push_back({(after * one.value - before * one.before) / own, own * std::exp2(-one.age_days / half_life_days), own});
    out.rides.push_back(one.ride);
  }
  double weight = latest.before_sd > 0.0 ? 1.0 / (latest.before_sd * latest.before_sd) : 0.0;
  double sum = weight * latest.before;
  for (const Added& a : added) sum += a.weight * a.value, weight += a.weight;
  if (weight == 0.0) return {latest.value, latest.sd, {}, false};
  out.value = sum / weight;
  double chi2 = 0.0;
  for (const Added& a : added) chi2 += a.full_weight * (a.value - out.value) * (a.value - out.value);
  const double birge = added.size() > 1 ? chi2 / static_cast<double>(added.size() - 1) : 1.0;
  out.disagree = birge > 4.0;
  out.sd = std::sqrt(std::max(1.0, birge) / weight);
  return out;
}

}  // namespace leewheel
