#pragma once
/// The same plan over many days: winds, fitness and model coefficients drawn from the scenario's uncertainty. Keeps a few
/// numbers of each run and no trace. A run depends only on the scenario, the seed and its number, so results are the same
/// on any number of threads, and an interrupted set of runs can be resumed.

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/percentile.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// What is kept of one rider in one run.
struct RiderOutcome {
  bool finished = false;
  double time_s = 0.0;  ///< at the top, or when the run ended
  double wbal_end_J = 0.0;
  double saved_J = 0.0;
  std::int32_t drops = 0;      ///< times dropped from a group
  double dropped_at_m = -1.0;  ///< the first of them; < 0: never
  bool operator==(const RiderOutcome&) const = default;
};

/// What is kept of one run. `riders` in the order of the scenario, stretches as in `stretches_of`.
struct RunOutcome {
  bool done = false;
  std::vector<RiderOutcome> riders;
  std::vector<double> whole_share;  ///< by stretch: of the time, all riders on the road in one group; < 0: no one was there
  std::vector<double> largest_share;  ///< by stretch: mean share of the field in the largest group
  std::string failed;                 ///< what stopped the ride, which then is not done; else empty
  bool operator==(const RunOutcome&) const = default;
};

/// Step of rides that are made many times, unless the scenario's own is longer (s). Against the step of a single ride the mean
/// arrival moves by 0.05 % at most (docs/spread.md), days by ten per cent.
inline constexpr double many_days_step_s = 0.25;

/// The seed of the ride on one day of the ensemble.
std::uint64_t day_seed(const Scenario& scenario, std::uint64_t seed, std::uint64_t number);

/// One day of the ensemble: drawn inputs and a seed of its own for the ride.
Scenario drawn_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number);

/// The same ridden to the end.
RunOutcome ride_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number);

/// Rides the days of these numbers, on the threads the caller allows. `take` is called by one thread at a time with each run as
/// it comes; when it returns false, no further run begins. A day whose ride throws is taken as failed, and the rest goes on.
/// @param ride  rides one of them, on any thread
/// @return true when all were taken
bool ride_days(const Scenario& scenario, std::uint64_t seed, const std::vector<std::size_t>& numbers,
               const std::function<bool(std::size_t number, RunOutcome&& run)>& take,
               const std::function<RunOutcome(const Scenario&, std::uint64_t seed, std::uint64_t number)>& ride = ride_day);

/// A digest of every value of the scenario but title, question and finding, to tell whether runs kept earlier belong to it.
std::uint64_t scenario_digest(const Scenario& scenario);

/// Share of the variance of one rider's time at the top that goes with one input. First-order indices by standardised
/// regression coefficients: inputs are drawn independently, so the squared coefficients of a linear fit add up to its R2
/// (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer, ch. 1; from memory). What is left is curvature, joint
/// effects and the ride's own chance.
/// The fit uses every rider's own inputs; those of the others are given as two sums. From each squared coefficient its
/// sampling variance is subtracted, so that inputs without effect have a mean of 0 (and may be slightly negative).
struct VarianceShares {
  std::vector<double> share;  ///< by Input; then the others' critical power; then the others' drag area, W' and mass
  double explained = 0.0;     ///< R2 of the fit, adjusted for the number of inputs
  double rest = 0.0;          ///< 1 - sum of the shares
};
inline constexpr std::size_t shown_inputs = all_inputs + 2;

struct RiderSpread {
  std::string name;
  std::size_t finished = 0;
  std::optional<double> expected_s;        ///< on the day as expected, which `summarise` does not ride
  std::optional<Percentiles> time_s;       ///< of those finished
  double dropped_share = 0.0;              ///< of runs in which the rider came off at least once (`comes_off`)
  std::vector<double> dropped_by_stretch;  ///< share of runs in which the first drop fell there
  double drops_a_run = 0.0;
  std::optional<VarianceShares> shares;  ///< with `least_runs_for_shares` finished runs or more
};
/// Ten runs for each coefficient of the fit (common practice, no source).
std::size_t least_runs_for_shares(std::size_t riders);

struct StretchSpread {
  RoadStretch where;
  double whole_probability = 0.0;  ///< of all riders in one group for at least `whole_from` of the time
  double largest_share = 0.0;      ///< mean share of the field in the largest group
};
inline constexpr double whole_from = 0.9;  // (assumed)

struct SpreadAnswer {
  std::size_t runs = 0;              ///< those done
  std::vector<std::size_t> missing;  ///< numbers of the others
  std::vector<RiderSpread> riders;
  std::vector<StretchSpread> stretches;
};
SpreadAnswer summarise(const Scenario& scenario, std::uint64_t seed, const std::vector<RunOutcome>& runs);

}  // namespace leewheel
