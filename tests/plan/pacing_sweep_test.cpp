#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

#include "plan/pacing_search.hpp"

using namespace leewheel;

namespace {

constexpr double never_s = std::numeric_limits<double>::infinity();

struct Table {
  SectionCosts costs;
  PacingBounds bounds;
};

/// Powers about critical power; each section takes a time of its own at each, falling with power.
Table drawn(unsigned seed, std::size_t sections) {
  std::mt19937 random(seed);
  const auto between = [&](double low, double high) { return low + (high - low) * (random() / 4294967296.0); };
  Table t;
  t.costs.power_W = {200.0, 230.0, 260.0, 290.0, 320.0};
  for (std::size_t k = 0; k < sections; ++k) {
    std::vector<double> time_s, work_J;
    const double length_s = between(80.0, 240.0), exponent = between(0.35, 0.95);
    for (const double power_W : t.costs.power_W) {
      time_s.push_back(length_s * std::pow(250.0 / power_W, exponent));
      work_J.push_back(time_s.back() * power_W);
    }
    t.costs.time_s.push_back(time_s);
    t.costs.work_J.push_back(work_J);
  }
  t.bounds = {std::vector<Strength>(sections, Strength{250.0, 8000.0, 900.0}),
              RecoveryLaw::differential,
              2000.0,
              0.0,
              0.0,
              std::vector<double>(sections + 1, 0.0)};
  return t;
}

double time_of(const Table& t, const std::vector<std::size_t>& steps) {
  double time_s = 0.0;
  for (std::size_t k = 0; k < steps.size(); ++k) time_s += t.costs.time_s[k][steps[k]];
  return time_s;
}

/// Whether W', rounded down to levels after every section, keeps the reserve.
bool allowed(const Table& t, const std::vector<std::size_t>& steps, double wbal_J) {
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const double time_s = t.costs.time_s[k][steps[k]], mean_W = t.costs.work_J[k][steps[k]] / time_s;
    const Strength& strength = t.bounds.strength[k];
    const double after_J = std::min(strength.w_prime_J, wbal_after_J(t.bounds.law, strength, wbal_J, mean_W, time_s));
    if (after_J < t.bounds.reserve_J && after_J < wbal_J) return false;
    wbal_J = wbal_level_J * std::floor(after_J / wbal_level_J + 1e-9);
  }
  return true;
}

/// Over every choice of steps.
double quickest_s(const Table& t, double start_J) {
  const std::size_t sections = t.costs.time_s.size(), choices = t.costs.power_W.size();
  double best_s = never_s;
  std::vector<std::size_t> steps(sections, 0);
  for (;;) {
    if (allowed(t, steps, start_J)) best_s = std::min(best_s, time_of(t, steps));
    std::size_t k = 0;
    while (k < sections && ++steps[k] == choices) steps[k++] = 0;
    if (k == sections) return best_s;
  }
}

}  // namespace

TEST_CASE("the sweep finds the quickest of all ways through drawn sections", "[pacing]") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Table t = drawn(seed, 5);
    const std::vector<std::size_t> steps = fastest_steps(t.costs, t.bounds, 0, 8000.0);
    INFO("seed " << seed);
    REQUIRE(steps.size() == 5);
    CHECK(allowed(t, steps, 8000.0));
    CHECK(time_of(t, steps) == Approx(quickest_s(t, 8000.0)).epsilon(1e-12));
    CHECK(time_of(t, steps) < time_of(t, {1, 1, 1, 1, 1}));  // below critical power throughout
  }
}

TEST_CASE("the sweep keeps calm where it must and answers nothing where there is no way", "[pacing]") {
  Table t = drawn(3, 4);
  t.bounds.calm_s = 100.0;
  t.bounds.calm_W = 230.0;
  t.bounds.begins_s = {0.0, 90.0, 200.0, 300.0, 400.0};
  const std::vector<std::size_t> steps = fastest_steps(t.costs, t.bounds, 0, 8000.0);
  REQUIRE(steps.size() == 4);
  CHECK(t.costs.power_W[steps[0]] <= 230.0);
  CHECK(t.costs.power_W[steps[1]] <= 230.0);
  CHECK(fastest_steps(t.costs, t.bounds, 1, 8000.0).size() == 3);
  for (std::vector<double>& time_s : t.costs.time_s) time_s.assign(time_s.size(), never_s);
  CHECK(fastest_steps(t.costs, t.bounds, 0, 8000.0).empty());
}

TEST_CASE("the sweep believes in no more W' than fatigue leaves", "[pacing]") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    Table t = drawn(seed, 5);
    for (std::size_t k = 1; k < 5; ++k) t.bounds.strength[k].w_prime_J = 4000.0;
    const std::vector<std::size_t> steps = fastest_steps(t.costs, t.bounds, 0, 8000.0);
    INFO("seed " << seed);
    REQUIRE(steps.size() == 5);
    CHECK(allowed(t, steps, 8000.0));
    CHECK(time_of(t, steps) == Approx(quickest_s(t, 8000.0)).epsilon(1e-12));
  }
}

TEST_CASE("the sweep plans no power that the W' left at the section's end does not allow", "[pacing]") {
  Table t = drawn(3, 1);
  t.bounds.strength = {Strength{250.0, 8000.0, 330.0}};  // 80 W more with a full store, 20 W with a quarter of it
  t.costs.time_s = {{130.0, 120.0, 110.0, 100.0, 90.0}};
  t.costs.work_J = {{26e3, 27.6e3, 28.6e3, 29e3, 28.8e3}};
  CHECK(fastest_steps(t.costs, t.bounds, 0, 8000.0) == std::vector<std::size_t>{3});  // 290 W leave 4,000 J: 290 W
  CHECK(fastest_steps(t.costs, t.bounds, 0, 7900.0) == std::vector<std::size_t>{2});
}

TEST_CASE("of two ways as quick the sweep takes the one that leaves more W'", "[pacing]") {
  Table t = drawn(1, 1);
  t.costs.power_W = {200.0, 260.0};
  t.costs.time_s = {{100.0, 100.0}};
  t.costs.work_J = {{20e3, 26e3}};
  CHECK(fastest_steps(t.costs, t.bounds, 0, 4000.0) == std::vector<std::size_t>{0});
}

TEST_CASE("who begins below the reserve may go on at a power that wins W' back, however little", "[pacing]") {
  Table t = drawn(1, 3);
  t.costs.power_W = {249.9};
  t.costs.time_s.assign(3, {100.0});
  t.costs.work_J.assign(3, {24990.0});
  CHECK(fastest_steps(t.costs, t.bounds, 0, 1010.0).size() == 3);  // nine joules a section, and levels of twenty
}
