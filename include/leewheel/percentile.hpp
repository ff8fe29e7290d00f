#pragma once
/// Percentiles by linear interpolation between order statistics (Hyndman & Fan 1996, Am. Stat. 50:361, type 7).

#include <vector>

namespace leewheel {

double percentile(std::vector<double> values, double share);  ///< `values` not empty, share from 0 to 1

struct Percentiles {
  double p5, p25, p50, p75, p95;
};
Percentiles percentiles(const std::vector<double>& values);  ///< `values` not empty

/// The range that holds 8 of 10 values, and the value in the middle.
struct Middle80 {
  double low, high, middle;
};
Middle80 middle_80(const std::vector<double>& values);  ///< `values` not empty

}  // namespace leewheel
