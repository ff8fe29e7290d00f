#include "leewheel/percentile.hpp"

#include <algorithm>
#include <cassert>
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

Middle80 middle_80(const std::vector<double>& values) {
  return {percentile(values, 0.1), percentile(values, 0.9), percentile(values, 0.5)};
}

}  // namespace leewheel
