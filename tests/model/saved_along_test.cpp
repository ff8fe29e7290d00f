#include "leewheel/saved_along.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace leewheel;

TEST_CASE("a piece of road holds the mean over the time spent there", "[saved]") {
  SavedAlong along(1200.0, 2);  // pieces of 10 m
  CHECK(along.piece_m() == 10.0);
  along.add(0, 3.0, 200.0, 150.0, 3.0);
  along.add(0, 9.9, 200.0, 190.0, 1.0);
  along.add(0, 25.0, 300.0, 310.0, 1.0);
  along.add(1, 5.0, 100.0, 100.0, 4.0);
  const auto first = along.of(0);
  REQUIRE(first.size() == 120);
  CHECK(first[0].alone_W == Approx(200.0));
  CHECK(first[0].saved_W == Approx((3 * 50.0 + 10.0) / 4));
  CHECK(first[1].saved_W == first[0].saved_W);  // never seen there: as before
  CHECK(first[2].saved_W == Approx(-10.0));     // company cost
  CHECK(first[119].alone_W == Approx(300.0));
  const auto mean = along.mean();
  CHECK(mean[0].alone_W == Approx(150.0));
  CHECK(mean[0].saved_W == Approx(20.0));
  CHECK(along.scale_W() == 350.0);  // 310 W were ridden on one piece
}

TEST_CASE("places beyond the ends of the road count to its first and last piece", "[saved]") {
  SavedAlong along(1200.0, 1);
  along.add(0, -5.0, 200.0, 150.0, 1.0);
  along.add(0, 1203.0, 120.0, 120.0, 1.0);
  CHECK(along.of(0).front().saved_W == Approx(50.0));
  CHECK(along.of(0).back().alone_W == Approx(120.0));
}

TEST_CASE("whole watts add up: now and saved make alone", "[saved]") {
  for (double power_W = 100.0; power_W < 103.0; power_W += 0.17)
    for (double saved_W = -3.0; saved_W < 90.0; saved_W += 0.31) {
      const WholeWatts watts = whole_watts(power_W, power_W + saved_W);
      REQUIRE(watts.now + watts.saved == watts.alone);
      REQUIRE(watts.now == std::lround(power_W));
      REQUIRE(std::abs(watts.saved - saved_W) <= 1.0);
    }
}
