#include "leewheel/recording.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace leewheel {

RecordingFacts facts_of(const Recording& recording) {
  RecordingFacts facts;
  const std::vector<RecordedPoint>& points = recording.points;
  if (points.size() < 2) return facts;
  facts.duration_s = points.back().time_s - points.front().time_s;
  std::vector<double> steps_s;
  std::map<double, std::size_t> powers;
  double with_power_s = 0.0;
  std::size_t powered = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double step_s = points[i].time_s - points[i - 1].time_s;
    steps_s.push_back(step_s);
    if (std::isnan(points[i].power_W)) continue;
    with_power_s += std::min(step_s, 10.0 * coarse_interval_s);
    ++powered;
    if (points[i].power_W > 0.0) ++powers[points[i].power_W];
  }
  const auto middle = steps_s.begin() + static_cast<std::ptrdiff_t>(steps_s.size() / 2);
  std::nth_element(steps_s.begin(), middle, steps_s.end());
  facts.interval_s = *middle;
  facts.power_missing_share = facts.duration_s > 0.0 ? 1.0 - std::min(1.0, with_power_s / facts.duration_s) : 1.0;
  for (const auto& [power_W, count] : powers)
    if (const double share = static_cast<double>(count) / static_cast<double>(powered); share > facts.constant_power_share)
      facts.constant_power_share = share, facts.constant_power_W = power_W;
  return facts;
}

}  // namespace leewheel
