/// How long a track's elevations are to be smoothed.

#include <algorithm>
#include <cmath>

#include "io/track_steps.hpp"
#include "leewheel/smoothing.hpp"

namespace leewheel {

namespace {

// All assumed, chosen on made-up roads with made-up noise; docs/road_import.md shows what they give.
constexpr double grid_m = 5.0;           // fine enough to find a length; the road itself is laid by the metre
constexpr double noise_length_m = 20.0;  // noise is what lies off this smoothing, which leaves roads as they are
constexpr double length_per_noise = 40.0;
constexpr double usual_m = 20.0, longest_m = 60.0, shortest_m = 8.0;
constexpr double clean_m = 0.6;     // noise below which the elevations are good enough to count climbs in them
constexpr double agreement = 0.03;  // with that count

/// Up and down, so that a track turned round is smoothed alike.
double rise_and_fall_m(const std::vector<double>& z) {
  double sum_m = 0.0;
  for (std::size_t i = 1; i < z.size(); ++i) sum_m += std::abs(z[i] - z[i - 1]);
  return sum_m;
}

double counted_rise_and_fall_m(std::vector<double> z) {
  const double rise_m = counted_ascent_m(z, count_height_m);
  for (double& elevation_m : z) elevation_m = -elevation_m;
  return rise_m + counted_ascent_m(z, count_height_m);
}

std::vector<double> smoothed(const std::vector<double>& distance_m, const std::vector<double>& elevation_m,
                             double length_m) {
  return smooth_elevation(distance_m, elevation_m, {length_m, grid_m});
}

/// Standard deviation of elevations about the smooth line: 1.4826 times the median distance, which spikes do not move.
double noise_of(const std::vector<double>& distance_m, const std::vector<double>& elevation_m) {
  const std::vector<double> line_m = smoothed(distance_m, elevation_m, noise_length_m);
  std::vector<double> off_m;
  for (std::size_t i = 0; i < distance_m.size(); ++i) {
    const double node = distance_m[i] / grid_m;
    const auto k = std::min(static_cast<std::size_t>(node), line_m.size() - 2);
    off_m.push_back(std::abs(elevation_m[i] - std::lerp(line_m[k], line_m[k + 1], node - static_cast<double>(k))));
  }
  const auto middle = off_m.begin() + static_cast<std::ptrdiff_t>(off_m.size() / 2);
  std::nth_element(off_m.begin(), middle, off_m.end());
  return 1.4826 * *middle;
}

}  // namespace

double counted_ascent_m(const std::vector<double>& elevation_m, double height_m) {
  double sum_m = 0.0, low_m = elevation_m.front(), high_m = elevation_m.front();
  bool climbing = false;
  for (const double z : elevation_m) {
    if (climbing) {
      high_m = std::max(high_m, z);
      if (z > high_m - height_m) continue;
      sum_m += high_m - low_m;
      climbing = false;
      low_m = z;
    } else {
      low_m = std::min(low_m, z);
      if (z < low_m + height_m) continue;
      climbing = true;
      high_m = z;
    }
  }
  return climbing ? sum_m + high_m - low_m : sum_m;
}

FittedSmoothing fitted_smoothing(const std::vector<double>& distance_m, const std::vector<double>& elevation_m) {
  FittedSmoothing fit;
  fit.noise_m = noise_of(distance_m, elevation_m);
  fit.counted_ascent_m = counted_ascent_m(elevation_m, count_height_m);
  fit.length_m = std::clamp(length_per_noise * fit.noise_m, usual_m, longest_m);
  if (fit.noise_m > clean_m) return fit;
  const double counted_m = counted_rise_and_fall_m(elevation_m);
  const auto left_m = [&](double length_m) { return rise_and_fall_m(smoothed(distance_m, elevation_m, length_m)); };
  while (fit.length_m > shortest_m && left_m(fit.length_m) < (1.0 - agreement) * counted_m)
    fit.length_m = std::max(shortest_m, 0.85 * fit.length_m);
  while (fit.length_m < longest_m && left_m(fit.length_m) > (1.0 + agreement) * counted_m)
    fit.length_m = std::min(longest_m, 1.15 * fit.length_m);
  return fit;
}

}  // namespace leewheel
