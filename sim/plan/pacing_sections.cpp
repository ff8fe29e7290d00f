#include "plan/pacing_sections.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plan/pacing_ride.hpp"

namespace leewheel {

namespace {

constexpr double block_m = 100.0;          // cuts lie on multiples of this ...
constexpr double landmark_reach_m = 60.0;  // ... or on a landmark this near
constexpr double worth_a_cut =
    0.015;  // spread of log speed (root mean square over the road) that a cut must explain (assumed)

std::vector<double> block_ends_m(const Road& road) {
  std::vector<double> ends{0.0};
  for (double x = block_m; x < road.length_m() - 0.5 * block_m; x += block_m) {
    double end = x;
    for (const Landmark& mark : road.landmarks())
      if (std::abs(mark.distance_m - x) < landmark_reach_m && mark.distance_m > ends.back() + 1.0 &&
          mark.distance_m < road.length_m() - 1.0)
        end = mark.distance_m;
    if (end > ends.back() + 1.0) ends.push_back(end);
  }
  ends.push_back(road.length_m());
  return ends;
}

struct Run {  // of neighbouring blocks
  double from_m, to_m, weight, sum, sum2;
  double spread() const { return sum2 - sum * sum / weight; }
};
Run joined(const Run& a, const Run& b) { return {a.from_m, b.to_m, a.weight + b.weight, a.sum + b.sum, a.sum2 + b.sum2}; }

/// Joins neighbours, those that differ least first, until what is left is long enough and differs enough (Ward's rule).
void join_runs(std::vector<Run>& runs, double length_m, const PacingSettings& settings) {
  const auto too_short = [&](const Run& run) { return run.to_m - run.from_m < settings.least_section_m - 1e-6; };
  while (runs.size() > 1) {
    std::size_t best = 0;
    double least = std::numeric_limits<double>::max();
    const bool any_short = std::any_of(runs.begin(), runs.end(), too_short);
    for (std::size_t k = 0; k + 1 < runs.size(); ++k) {
      if (any_short && !too_short(runs[k]) && !too_short(runs[k + 1])) continue;
      const double cost = joined(runs[k], runs[k + 1]).spread() - runs[k].spread() - runs[k + 1].spread();
      if (cost < least) {
        least = cost;
        best = k;
      }
    }
    const bool worth = least > worth_a_cut * worth_a_cut * length_m;
    if (!any_short && worth && runs.size() <= settings.most_sections) return;
    runs[best] = joined(runs[best], runs[best + 1]);
    runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(best) + 1);
  }
}

/// A section in which the calm start ends is parted there, so that what follows is free, if both parts stay well long enough.
void part_after_calm(std::vector<double>& cuts, const std::vector<double>& ends, const PacedRide& ride,
                     const PacingSettings& settings) {
  const double enough_m = 2.0 * settings.least_section_m;
  constexpr double later = 1.05;  // the even power may be there a little sooner than the one this was ridden at
  for (std::size_t e = 0; e < std::min(ends.size(), ride.passed_s.size()); ++e) {
    if (ride.passed_s[e] < later * settings.calm_s) continue;
    const auto next = std::lower_bound(cuts.begin(), cuts.end(), ends[e]);
    if (next == cuts.begin() || next == cuts.end()) return;
    if (ends[e] - *(next - 1) >= enough_m && *next - ends[e] >= enough_m) cuts.insert(next, ends[e]);
    return;
  }
}

}  // namespace

std::vector<double> section_cuts_m(const Scenario& solo, double power_W, const PacingSettings& settings) {
  const std::vector<double> ends = block_ends_m(solo.road);
  const PacedRide ride = ride_timed(solo, ends, std::vector<double>(ends.size() - 1, power_W));
  std::vector<Run> runs;
  for (std::size_t k = 0; k + 1 < ride.passed_s.size() && k + 1 < ends.size(); ++k) {
    const double length_m = ends[k + 1] - ends[k];
    const double log_speed = std::log(length_m / std::max(1e-3, ride.passed_s[k + 1] - ride.passed_s[k]));
    runs.push_back({ends[k], ends[k + 1], length_m, length_m * log_speed, length_m * log_speed * log_speed});
  }
  join_runs(runs, solo.road.length_m(), settings);
  std::vector<double> cuts{0.0};
  for (const Run& run : runs) cuts.push_back(run.to_m);
  cuts.back() = solo.road.length_m();
  part_after_calm(cuts, ends, ride, settings);
  return cuts;
}

std::vector<double> pacing_cuts_m(const Scenario& scenario, std::size_t rider, double power_W,
                                  const PacingSettings& settings) {
  return section_cuts_m(rehearsal(scenario, rider), power_W, settings);
}

}  // namespace leewheel
