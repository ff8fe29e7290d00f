#pragma once
/// Percentiles by linear interpolation between order statistics (Hyndman & Fan 1996, Am. Stat. 50:361, type 7).

#include <vector>

namespace leewheel {

double percentile(std::vector<double> values, double share);  ///< `values` not empty, share from 0 to 1

struct Percentiles {
  double p5, p25, p50, p75, p95;
};
Percentiles percentiles(const std::vector<double>& values);  ///< `values` not empty

/// Standard error of a percentile by the order statistics one standard error of the rank away on either side (distribution
/// free; David & Nagaraja 2003, Order Statistics, ch. 7, from memory). `values` not empty.
double percentile_error(const std::vector<double>& values, double share);

/// The range that holds 8 of 10 values, the value in the middle, and how still the ends stand: their larger standard error.
struct Middle80 {
  double low, high, middle, ends_error = 0.0;
};
Middle80 middle_80(const std::vector<double>& values);  ///< `values` not empty

}  // namespace leewheel
