/// Runs brought to a few numbers, and the regression behind their shares: from runs made up here.

#include <catch2/catch.hpp>
#include <cmath>

#include "leewheel/ensemble.hpp"
#include "plan/variance_shares.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Two riders over two stretches.
Scenario two_stretches() {
  return scenes::scene(scenes::with_landmarks(scenes::flat_road(1000.0), {400.0}), scenes::club(2));
}

RunOutcome run(double whole_share, double time_s, bool finished = true, std::int32_t drops = 0, double dropped_at_m = -1.0) {
  RunOutcome outcome;
  outcome.done = true;
  outcome.riders = {{true, 200.0, 0.0, 0.0, 0, -1.0}, {finished, time_s, 0.0, 0.0, drops, dropped_at_m}};
  outcome.whole_share = {whole_share, -1.0};
  outcome.largest_share = {whole_share, -1.0};
  return outcome;
}

/// Days of two riders, and a time that a known sum of the inputs gives: shares in the ratio of the squares of the factors.
struct Regression {
  std::vector<Draw> draws;
  std::vector<double> times_s;
};
Regression made_up(std::size_t days, double wind, double first_cp, double second_cp, double noise) {
  Scenario s = two_stretches();
  Regression r;
  for (std::size_t n = 0; n < days; ++n) {
    const Draw draw = draw_day(s, 5, n), chance = draw_day(s, 6, n);
    const std::size_t cp = static_cast<std::size_t>(Input::critical_power) - shared_inputs;
    r.draws.push_back(draw);
    r.times_s.push_back(1000.0 + wind * draw.shared[0] + first_cp * draw.own[0][cp] + second_cp * draw.own[1][cp] +
                        noise * chance.shared[0]);
  }
  return r;
}

}  // namespace

TEST_CASE("a stretch is whole in a run from nine tenths of its time on; runs that saw nobody there do not count",
          "[ensemble]") {
  const SpreadAnswer answer = summarise(two_stretches(), 1, {run(0.9, 210.0), run(0.89, 210.0), run(-1.0, 210.0), {}});
  CHECK(answer.runs == 3);
  CHECK(answer.stretches[0].whole_probability == 0.5);
  CHECK(answer.stretches[0].largest_share == Approx(0.895));
  CHECK(answer.stretches[1].whole_probability == 0.0);
  CHECK(answer.stretches[1].largest_share == 0.0);
}

TEST_CASE("times are those of the riders who finish, drops those of all runs, by where the first fell", "[ensemble]") {
  const SpreadAnswer answer =
      summarise(two_stretches(), 1,
                {run(1.0, 210.0), run(1.0, 230.0, true, 3, 399.0), run(1.0, 9999.0, false, 1, 401.0), run(1.0, 220.0)});
  const RiderSpread& rider = answer.riders[1];
  CHECK(rider.finished == 3);
  REQUIRE(rider.time_s);
  CHECK(rider.time_s->p50 == 220.0);
  CHECK(rider.dropped_share == 0.5);
  CHECK(rider.drops_a_run == 1.0);
  CHECK(rider.dropped_by_stretch == std::vector<double>{0.25, 0.25});
  CHECK(answer.riders[0].dropped_share == 0.0);
}

TEST_CASE("shares follow the squares of what the inputs do, each told under its own name", "[ensemble]") {
  const Regression r = made_up(2000, 3.0, 4.0, 12.0, 0.0);  // 9 : 16 : 144 of 169
  constexpr auto wind = static_cast<std::size_t>(Input::wind_speed), cp = static_cast<std::size_t>(Input::critical_power);
  const VarianceShares first = variance_shares(r.draws, r.times_s, 0), second = variance_shares(r.draws, r.times_s, 1);
  CHECK(first.share[wind] == Approx(9.0 / 169.0).margin(0.01));
  CHECK(first.share[cp] == Approx(16.0 / 169.0).margin(0.01));
  CHECK(first.share[all_inputs] == Approx(144.0 / 169.0).margin(0.05));  // the others' critical power
  CHECK(second.share[cp] == first.share[all_inputs]);
  CHECK(second.share[all_inputs] == first.share[cp]);
  CHECK(first.explained == Approx(1.0).margin(1e-9));
}

TEST_CASE("where nothing explains the times no share is told on the mean, and the fit explains nothing", "[ensemble]") {
  double sum = 0.0, explained = 0.0;
  constexpr std::size_t days = 140, sets = 20;
  for (std::size_t set = 0; set < sets; ++set) {
    Scenario s = two_stretches();
    std::vector<Draw> draws;
    std::vector<double> times_s;
    for (std::size_t n = 0; n < days; ++n) {
      draws.push_back(draw_day(s, 100 + set, n));
      times_s.push_back(1000.0 + draw_day(s, 500 + set, n).shared[0]);
    }
    const VarianceShares shares = variance_shares(draws, times_s, 0);
    for (const double share : shares.share) sum += share;
    explained += shares.explained;
  }
  // 13 inputs of 140 days: a fit that did not count its inputs would explain 13/139 = 9 %.
  CHECK(std::abs(sum / sets) < 0.03);
  CHECK(std::abs(explained / sets) < 0.03);
}
