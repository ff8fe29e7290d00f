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
  Layout layout;  ///< every section an instruction
};

const std::vector<double> powers_W{200.0, 230.0, 260.0, 290.0, 320.0};

Table of_sections(std::size_t sections) {
  Table t;
  t.bounds = {std::vector<Strength>(sections, Strength{250.0, 8000.0, 900.0}), RecoveryLaw::differential,
              std::vector<double>(sections, 2000.0), std::vector<double>(sections, 0.0),
              std::vector<double>(sections, 900.0)};
  t.layout.cuts_m.push_back(0.0);
  for (std::size_t k = 0; k < sections; ++k) {
    t.layout.cuts_m.push_back(1000.0 * static_cast<double>(k + 1));
    t.layout.falls.push_back(false);
    t.layout.lever.push_back(k);
    t.layout.begins.push_back(k);
  }
  return t;
}

/// Powers about critical power; each section takes a time of its own at each, falling with power.
Table drawn(unsigned seed, std::size_t sections) {
  std::mt19937 random(seed);
  const auto between = [&](double low, double high) { return low + (high - low) * (random() / 4294967296.0); };
  Table t = of_sections(sections);
  for (std::size_t k = 0; k < sections; ++k) {
    std::vector<double> time_s, work_J;
    const double length_s = between(80.0, 240.0), exponent = between(0.35, 0.95);
    for (const double power_W : powers_W) {
      time_s.push_back(length_s * std::pow(250.0 / power_W, exponent));
      work_J.push_back(time_s.back() * power_W);
    }
    t.costs.power_W.push_back(powers_W);
    t.costs.time_s.push_back(time_s);
    t.costs.work_J.push_back(work_J);
  }
  return t;
}

std::vector<std::size_t> fastest(const Table& t, double start_J) {
  return fastest_choices(t.layout, t.costs, t.bounds, start_J);
}

double time_of(const Table& t, const std::vector<std::size_t>& steps) {
  double time_s = 0.0;
  for (std::size_t k = 0; k < steps.size(); ++k) time_s += t.costs.time_s[k][steps[k]];
  return time_s;
}

/// Whether W' stays above its floors.
bool allowed(const Table& t, const std::vector<std::size_t>& steps, double wbal_J) {
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const double time_s = t.costs.time_s[k][steps[k]], mean_W = t.costs.work_J[k][steps[k]] / time_s;
    const Strength& strength = t.bounds.strength[k];
    const double after_J = std::min(strength.w_prime_J, wbal_after_J(t.bounds.law, strength, wbal_J, mean_W, time_s));
    if (after_J < t.bounds.floor_J[k] && after_J < wbal_J) return false;
    wbal_J = after_J;
  }
  return true;
}

/// Over every choice of steps.
double quickest_s(const Table& t, double start_J) {
  const std::size_t sections = t.costs.time_s.size(), choices = t.costs.power_W.front().size();
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

TEST_CASE("the sweep finds a way through drawn sections that is within a hundredth of a percent of the quickest",
          "[pacing]") {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const Table t = drawn(seed, 5);
    const std::vector<std::size_t> steps = fastest(t, 8000.0);
    INFO("seed " << seed);
    REQUIRE(steps.size() == 5);
    CHECK(allowed(t, steps, 8000.0));
    CHECK(time_of(t, steps) <= 1.0001 * quickest_s(t, 8000.0));  // levels of W' are 20 J apart
    CHECK(time_of(t, steps) < time_of(t, {1, 1, 1, 1, 1}));      // below critical power throughout
  }
}

TEST_CASE("the sweep keeps to each lever's bounds and answers nothing where there is no way", "[pacing]") {
  Table t = drawn(3, 4);
  t.bounds.most_W[0] = 230.0;
  t.bounds.least_W[3] = 290.0;
  const std::vector<std::size_t> steps = fastest(t, 8000.0);
  REQUIRE(steps.size() == 4);
  CHECK(powers_W[steps[0]] <= 230.0);
  CHECK(powers_W[steps[3]] >= 290.0);
  for (std::vector<double>& time_s : t.costs.time_s) time_s.assign(time_s.size(), never_s);
  CHECK(fastest(t, 8000.0).empty());
}

TEST_CASE("the sweep keeps a floor of W' in the middle of the way", "[pacing]") {
  Table t = drawn(4, 4);
  const std::vector<std::size_t> free = fastest(t, 8000.0);
  t.bounds.floor_J[2] = 7900.0;
  const std::vector<std::size_t> steps = fastest(t, 8000.0);
  CHECK(allowed(t, steps, 8000.0));
  CHECK_FALSE(allowed(t, free, 8000.0));
}

TEST_CASE("all sections of an instruction are ridden by one choice", "[pacing]") {
  Table t = drawn(5, 4);
  t.layout.begins = {0, 2};
  const std::vector<std::size_t> steps = fastest(t, 8000.0);
  CHECK((steps[0] == steps[1] && steps[2] == steps[3]));
  double best_s = never_s;
  for (std::size_t p = 0; p < 5; ++p)
    for (std::size_t q = 0; q < 5; ++q)
      if (allowed(t, {p, p, q, q}, 8000.0)) best_s = std::min(best_s, time_of(t, {p, p, q, q}));
  CHECK(time_of(t, steps) == Approx(best_s).epsilon(1e-12));
}

TEST_CASE("the sweep believes in no more W' than fatigue leaves", "[pacing]") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    Table t = drawn(seed, 5);
    for (std::size_t k = 1; k < 5; ++k) t.bounds.strength[k].w_prime_J = 4000.0;
    const std::vector<std::size_t> steps = fastest(t, 8000.0);
    INFO("seed " << seed);
    REQUIRE(steps.size() == 5);
    CHECK(allowed(t, steps, 8000.0));
    CHECK(time_of(t, steps) <= 1.0001 * quickest_s(t, 8000.0));
  }
}

TEST_CASE("the sweep plans no power that the W' left at the section's end does not allow", "[pacing]") {
  Table t = drawn(3, 1);
  t.bounds.strength = {Strength{250.0, 8000.0, 330.0}};  // 80 W more with a full store, 20 W with a quarter of it
  t.costs.time_s = {{130.0, 120.0, 110.0, 100.0, 90.0}};
  t.costs.work_J = {{26e3, 27.6e3, 28.6e3, 29e3, 28.8e3}};
  CHECK(fastest(t, 8000.0) == std::vector<std::size_t>{3});  // 290 W leave 4,000 J: 290 W
  CHECK(fastest(t, 7900.0) == std::vector<std::size_t>{2});
}

/// One section with these choices.
Table single(const std::vector<double>& power_W, const std::vector<double>& time_s) {
  Table t = of_sections(1);
  t.costs = {{power_W}, {time_s}, {{}}};
  for (std::size_t p = 0; p < power_W.size(); ++p) t.costs.work_J[0].push_back(power_W[p] * time_s[p]);
  return t;
}

TEST_CASE("of two ways as quick the sweep takes the one that leaves more W'", "[pacing]") {
  CHECK(fastest(single({200.0, 260.0}, {100.0, 100.0}), 4000.0) == std::vector<std::size_t>{0});
}

TEST_CASE("who begins below the reserve may go on at a power that wins W' back, however little", "[pacing]") {
  CHECK(fastest(single({249.9}, {100.0}), 1010.0).size() == 1);
  CHECK(fastest(single({250.1}, {100.0}), 1010.0).empty());
}
