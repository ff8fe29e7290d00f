#include "leewheel/percentile.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace leewheel {

double percentile(std::vector<double> values, double share) {
  assert(!values.empty());
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
}

Percentiles percentiles(const std::vector<double>& values) {
  return {percentile(values, 0.05), percentile(values, 0.25), percentile(values, 0.50), percentile(values, 0.75),
          percentile(values, 0.95)};
}

double percentile_error(const std::vector<double>& values, double share) {
  const double ranks = std::sqrt(share * (1.0 - share) / static_cast<double>(values.size()));
  return 0.5 * (percentile(values, std::min(1.0, share + ranks)) - percentile(values, std::max(0.0, share - ranks)));
}

Middle80 middle_80(const std::vector<double>& values) {
  return {percentile(values, 0.1), percentile(values, 0.9), percentile(values, 0.5),
          std::max(percentile_error(values, 0.1), percentile_error(values, 0.9))};
}

}  // namespace leewheel
