#include "riding/rung.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include "leewheel/chance.hpp"

using namespace leewheel;
using riding::last_rung_at_one;

namespace {

constexpr int rungs = 1024;

/// Shares that each fall from 1 to 0 over some rungs, as those of riders who pull do.
struct Falling {
  std::vector<double> ends_at, over;
  double operator()(int rung) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < over.size(); ++k) sum += std::clamp((ends_at[k] - rung) / over[k], 0.0, 1.0);
    return sum;
  }
};

Falling drawn(std::uint64_t number) {
  Falling found;
  const auto chance = [&](std::uint64_t what) {
    return static_cast<double>(chance_bits(1, what, number, Purpose::draw) >> 11) * 0x1.0p-53;
  };
  const auto riders = static_cast<std::size_t>(1.0 + 13.0 * chance(0));
  for (std::size_t k = 0; k < riders; ++k) {
    found.ends_at.push_back(rungs * chance(2 * k + 1));
    found.over.push_back(1.0 + 600.0 * chance(2 * k + 2));
  }
  return found;
}

int by_halving(const Falling& sum_at) {
  int low = 0, high = rungs;
  while (high - low > 1) (sum_at((low + high) / 2) >= 1.0 ? low : high) = (low + high) / 2;
  return low;
}

}  // namespace

TEST_CASE("the rung is the one that halving finds, wherever the search begins", "[pace][rung]") {
  for (std::uint64_t number = 0; number < 2000; ++number) {
    CAPTURE(number);
    const Falling sum_at = drawn(number);
    const int rung = by_halving(sum_at);
    for (const int guess : {rung, rung - 1, rung + 1, rung - 40, rung + 40, 0, rungs - 1, -5, rungs + 5})
      REQUIRE(last_rung_at_one(rungs, guess, sum_at) == rung);
  }
}

TEST_CASE("an answer that has not moved takes two looks, one nearby a few", "[pace][rung]") {
  const Falling sum_at{{900.0, 700.0, 800.0}, {500.0, 400.0, 600.0}};
  const int rung = by_halving(sum_at);
  int looks = 0;
  const auto counted = [&](int at) { return ++looks, sum_at(at); };
  CHECK(last_rung_at_one(rungs, rung, counted) == rung);
  CHECK(looks == 2);
  looks = 0;
  CHECK(last_rung_at_one(rungs, rung + 30, counted) == rung);
  CHECK(looks == 4);
}

TEST_CASE("steps between flat pieces are found", "[pace][rung]") {
  for (const int at : {0, 1, 2, 511, 512, 513, 1022, 1023})
    for (const int guess : {0, 300, 512, 1023})
      CHECK(last_rung_at_one(rungs, guess, [&](int rung) { return rung <= at ? 1.0 : 0.0; }) == at);
  CHECK(last_rung_at_one(rungs, 700, [](int) { return 0.0; }) == 0);
}
