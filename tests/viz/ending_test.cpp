/// What a ride came to.

#include "viz/view/ending.hpp"

#include <catch2/catch.hpp>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;

TEST_CASE("a ride ends with who is home when, what company saved, and who carried whom", "[ending]") {
  // Six in 570 s; the second group 9 m and 4 % of the way since 150 s behind. At 600 s four of six wheels saved 42 W all the time, two 1 W.
  const auto results = ending_results(Replay(synthetic::source(synthetic::six), "six"));
  REQUIRE(results.size() == 3);
  CHECK(results[0] == "Anouk is home first, after 9:30; Fenn last, 0:20 later.");
  CHECK(results[1] == "Company saved 14 % of the work, 102 kJ in all; Bram most, 25 kJ.");
  CHECK(results[2].starts_with("On balance Anouk carried the others most, "));
}

TEST_CASE("what a ride does not tell is left out", "[ending]") {
  const auto one = ending_results(Replay(synthetic::source({1, 600, 4000, 1}), "one"));
  REQUIRE(one.size() == 1);
  CHECK(one[0] == "Anouk is home after 9:30.");
}
