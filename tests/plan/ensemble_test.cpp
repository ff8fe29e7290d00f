#include "leewheel/ensemble.hpp"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario small_club() {
  Scenario s =
      scenes::scene(scenes::with_landmarks(scenes::grades({0.01, 0.07, 0.01}, 700.0), {700.0, 1400.0}), scenes::club(4));
  scenes::set_wind(s, 4.0, 0.0);
  return s;
}

std::vector<RunOutcome> ridden(const Scenario& s, std::size_t runs, std::size_t threads) {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
  std::vector<RunOutcome> outcomes(runs);
  std::vector<std::size_t> numbers(runs);
  std::iota(numbers.begin(), numbers.end(), std::size_t{0});
  REQUIRE(ride_days(s, 7, numbers, [&](std::size_t n, RunOutcome&& run) {
    outcomes[n] = std::move(run);
    return true;
  }));
  return outcomes;
}
Uncertainty nothing_uncertain() {
  Uncertainty u;
  for (const auto& field : uncertainty_fields()) u.*field.member = field.lowest;
  return u;
}

}  // namespace

TEST_CASE("an ensemble is the same on one thread and on two", "[ensemble][determinism]") {
  const Scenario s = small_club();
  CHECK(ridden(s, 12, 1) == ridden(s, 12, 2));
}

TEST_CASE("the days asked for are ridden, each as in one go, until a stop is asked", "[ensemble][determinism]") {
  const Scenario s = small_club();
  const std::vector<RunOutcome> all = ridden(s, 10, 2);
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
  std::vector<std::size_t> taken;
  const auto take = [&](std::size_t n, RunOutcome&& run) {
    taken.push_back(n);
    CHECK(run == all[n]);
    return taken.size() != 2;
  };
  CHECK_FALSE(ride_days(s, 7, {8, 3, 5}, take));
  CHECK(taken.size() == 2);
  CHECK(ride_days(s, 7, {2, 9}, take));
  std::sort(taken.begin() + 2, taken.end());
  CHECK(std::vector(taken.begin() + 2, taken.end()) == std::vector<std::size_t>{2, 9});
}

TEST_CASE("a day that fails says why, and the others are ridden", "[ensemble]") {
  const Scenario s = small_club();
  std::vector<RunOutcome> outcomes = ridden(s, 3, 2);
  const std::vector<RunOutcome> all = outcomes;
  outcomes.assign(3, {});
  CHECK(ride_days(
      s, 7, {0, 1, 2},
      [&](std::size_t n, RunOutcome&& run) {
        outcomes[n] = std::move(run);
        return true;
      },
      [](const Scenario& scenario, std::uint64_t seed, std::uint64_t n) {
        if (n == 1) throw std::runtime_error("no road left");
        return ride_day(scenario, seed, n);
      }));
  CHECK(outcomes[0] == all[0]);
  CHECK_FALSE(outcomes[1].done);
  CHECK(outcomes[1].failed == "no road left");
  CHECK(outcomes[1].riders.empty());
  CHECK(outcomes[2] == all[2]);
  const SpreadAnswer answer = summarise(s, 7, outcomes);
  CHECK(answer.runs == 2);
  CHECK(answer.missing == std::vector<std::size_t>{1});
}

TEST_CASE("the order of riders in the file changes nobody's days", "[ensemble][determinism]") {
  Scenario s = small_club();
  const std::vector<RunOutcome> before = ridden(s, 4, 2);
  std::reverse(s.riders.begin(), s.riders.end());
  std::reverse(s.plans.begin(), s.plans.end());
  const std::vector<RunOutcome> after = ridden(s, 4, 2);
  for (std::size_t n = 0; n < before.size(); ++n)
    for (std::size_t i = 0; i < s.riders.size(); ++i)
      CHECK(before[n].riders[i].time_s == after[n].riders[s.riders.size() - 1 - i].time_s);
}

TEST_CASE("with every spread at nothing each day's wind and strength are the scenario's own", "[uncertainty]") {
  Scenario s = small_club();
  s.uncertainty = nothing_uncertain();
  const Scenario day = on_day(s, draw_day(s, 3, 5));
  CHECK(day.riders[1].critical_power_W == s.riders[1].critical_power_W);
  CHECK(day.wind.forecast[0].speed_mps == s.wind.forecast[0].speed_mps);
  CHECK(scenario_digest(day) == scenario_digest(s));
}

TEST_CASE("draws have mean 0 and variance 1, and inputs are drawn apart", "[uncertainty]") {
  const Scenario s = small_club();
  constexpr int days = 4000;
  double sum = 0.0, squares = 0.0, cross = 0.0;
  for (int n = 0; n < days; ++n) {
    const Draw draw = draw_day(s, 11, static_cast<std::uint64_t>(n));
    sum += draw.shared[0];
    squares += draw.shared[0] * draw.shared[0];
    cross += draw.shared[0] * draw.own[0][0] + draw.own[1][1] * draw.own[2][1];
  }
  const double four_errors = 4.0 / std::sqrt(days);  // four standard errors of a mean; the seed is fixed
  CHECK(std::abs(sum / days) < four_errors);
  CHECK(std::abs(squares / days - 1.0) < 1.5 * four_errors);  // sd of z2 is 1.41; cut-off at 3 takes 1 % off
  CHECK(std::abs(cross / days) < 1.5 * four_errors);
}

TEST_CASE("when critical power alone is uncertain it carries the variance alone", "[ensemble]") {
  Scenario s = scenes::scene(scenes::constant_grade(600.0, 0.06), {scenes::plain_rider("solo")});
  s.uncertainty = nothing_uncertain();
  s.uncertainty.critical_power_share = 0.05;
  const SpreadAnswer answer = summarise(s, 7, ridden(s, least_runs_for_shares(1), 2));
  REQUIRE(answer.riders[0].shares);
  const VarianceShares& shares = *answer.riders[0].shares;
  CHECK(shares.share[static_cast<std::size_t>(Input::critical_power)] > 0.97);
  CHECK(std::abs(shares.share[static_cast<std::size_t>(Input::wind_speed)]) < 0.01);
}

TEST_CASE("shares and rest sum to one, and the shares to what the fit explains", "[ensemble]") {
  Scenario s = scenes::scene(scenes::grades({0.02, 0.06}, 500.0), scenes::club(2));
  scenes::set_wind(s, 4.0, 0.0);
  const SpreadAnswer answer = summarise(s, 7, ridden(s, 300, 2));
  for (const RiderSpread& rider : answer.riders) {
    REQUIRE(rider.shares);
    const double sum = std::accumulate(rider.shares->share.begin(), rider.shares->share.end(), 0.0);
    CHECK(sum + rider.shares->rest == Approx(1.0).margin(1e-12));
    // Sampled columns are not quite at right angles: at 300 days each pair's chance correlation is about 0.06.
    CHECK(std::abs(sum - rider.shares->explained) < 0.10);
    for (const double share : rider.shares->share) CHECK(share > -0.02);
  }
}

TEST_CASE("shares are not told from too few runs", "[ensemble]") {
  const Scenario s = small_club();
  CHECK_FALSE(summarise(s, 7, ridden(s, 5, 2)).riders[0].shares);
}

TEST_CASE("percentiles interpolate between order statistics", "[ensemble]") {
  CHECK(percentile({4.0, 1.0, 3.0, 2.0}, 0.5) == 2.5);
  CHECK(percentile({1.0, 2.0, 3.0, 4.0, 5.0}, 0.05) == Approx(1.2));
  CHECK(percentile({7.0}, 0.95) == 7.0);
}

TEST_CASE("a group of equals on the level holds together and nobody is dropped", "[ensemble]") {
  std::vector<RiderSettings> riders;
  for (const char* name : {"a", "b", "c"}) riders.push_back(scenes::plain_rider(name));
  for (RiderSettings& r : riders) r.target_effort = 0.8;
  Scenario s = scenes::scene(scenes::flat_road(3000.0), riders);
  s.uncertainty = nothing_uncertain();
  const SpreadAnswer answer = summarise(s, 7, ridden(s, 3, 2));
  CHECK(answer.stretches[0].whole_probability == 1.0);
  for (const RiderSpread& rider : answer.riders) CHECK(rider.dropped_share == 0.0);
}

TEST_CASE("two who part are whole before the climb and half the field behind it", "[ensemble]") {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::grades({0.0, 0.09, 0.0}, 1000.0), {1000.0, 2000.0}),
                             {scenes::plain_rider("Una", 300.0), scenes::plain_rider("Vera", 230.0)});
  s.uncertainty = nothing_uncertain();
  s.ride.kind = RideKind::steady;
  for (RiderSettings& r : s.riders) r.target_effort = 0.9;
  const SpreadAnswer answer = summarise(s, 7, ridden(s, 2, 2));
  REQUIRE(answer.stretches.size() == 3);
  CHECK(answer.stretches[0].whole_probability == 1.0);
  CHECK(answer.stretches[0].largest_share > 0.9);
  CHECK(answer.stretches[2].whole_probability == 0.0);
  CHECK(answer.stretches[2].largest_share == 0.5);  // each alone
  CHECK(answer.riders[1].dropped_share == 0.0);     // the plan: everyone climbs freely
  CHECK(answer.riders[0].dropped_share == 0.0);
}

TEST_CASE("every day has gusts of its own", "[ensemble]") {
  const Scenario s = small_club();
  CHECK(drawn_day(s, 7, 1).ride.seed != drawn_day(s, 7, 2).ride.seed);
  CHECK(drawn_day(s, 7, 1).ride.seed == drawn_day(s, 7, 1).ride.seed);
  CHECK(drawn_day(s, 8, 1).ride.seed != drawn_day(s, 7, 1).ride.seed);
}

TEST_CASE("of a rider dropped on two climbs both drops count, and the place is that of the first", "[ensemble]") {
  Scenario s = scenes::scene(scenes::grades({0.0, 0.08, 0.0, 0.08}, 800.0),
                             {scenes::plain_rider("Una", 300.0), scenes::plain_rider("Vera", 200.0)});
  s.uncertainty = nothing_uncertain();
  s.ride.kind = RideKind::free;
  s.ride.regroup_at_m = {1700.0};
  for (RiderSettings& r : s.riders) r.target_effort = 0.9;
  const RunOutcome run = ride_day(s, 7, 1);
  CHECK(run.riders[1].drops == 2);
  CHECK(run.riders[1].dropped_at_m > 800.0);
  CHECK(run.riders[1].dropped_at_m < 1600.0);
  CHECK(run.riders[0].drops == 0);
}
