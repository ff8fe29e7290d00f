/// Many runs of the same plan brought to a few numbers.

#include "leewheel/ensemble.hpp"
#include "plan/variance_shares.hpp"

namespace leewheel {

namespace {

RiderSpread spread_of(const Scenario& scenario, const std::vector<RoadStretch>& stretches, const std::vector<Draw>& draws,
                      const std::vector<const RunOutcome*>& runs, std::size_t rider) {
  RiderSpread spread;
  spread.name = scenario.riders[rider].name;
  spread.dropped_by_stretch.assign(stretches.size(), 0.0);
  std::vector<double> times_s;
  std::vector<Draw> finished_draws;
  const double a_run = runs.empty() ? 0.0 : 1.0 / static_cast<double>(runs.size());
  for (std::size_t n = 0; n < runs.size(); ++n) {
    const RiderOutcome& outcome = runs[n]->riders[rider];
    spread.drops_a_run += a_run * outcome.drops;
    if (outcome.drops > 0) {
      spread.dropped_share += a_run;
      spread.dropped_by_stretch[stretch_at(stretches, outcome.dropped_at_m)] += a_run;
    }
    if (!outcome.finished) continue;
    times_s.push_back(outcome.time_s);
    finished_draws.push_back(draws[n]);
  }
  spread.finished = times_s.size();
  if (!times_s.empty()) spread.time_s = percentiles(times_s);
  if (times_s.size() >= least_runs_for_shares(scenario.riders.size()))
    spread.shares = variance_shares(finished_draws, times_s, rider);
  return spread;
}

StretchSpread spread_of(const RoadStretch& where, const std::vector<const RunOutcome*>& runs, std::size_t stretch) {
  StretchSpread spread{where, 0.0, 0.0};
  std::size_t seen = 0;
  for (const RunOutcome* run : runs) {
    if (run->whole_share[stretch] < 0.0) continue;
    ++seen;
    spread.whole_probability += run->whole_share[stretch] >= whole_from;
    spread.largest_share += run->largest_share[stretch];
  }
  if (seen > 0) {
    spread.whole_probability /= static_cast<double>(seen);
    spread.largest_share /= static_cast<double>(seen);
  }
  return spread;
}

}  // namespace

SpreadAnswer summarise(const Scenario& scenario, std::uint64_t seed, const std::vector<RunOutcome>& runs) {
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  std::vector<const RunOutcome*> done;
  std::vector<Draw> draws;
  SpreadAnswer answer;
  for (std::size_t n = 0; n < runs.size(); ++n) {
    if (!runs[n].done) {
      answer.missing.push_back(n);
      continue;
    }
    done.push_back(&runs[n]);
    draws.push_back(draw_day(scenario, seed, n));
  }
  answer.runs = done.size();
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    answer.riders.push_back(spread_of(scenario, stretches, draws, done, i));
  for (std::size_t k = 0; k < stretches.size(); ++k) answer.stretches.push_back(spread_of(stretches[k], done, k));
  return answer;
}

}  // namespace leewheel
