/// A ride beside another on the same road.

#include "viz/view/ghost.hpp"

#include <catch2/catch.hpp>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;
using synthetic::six;
using synthetic::six_riders;

TEST_CASE("a ride compared with itself differs by nothing", "[ghost]") {
  Replay replay = six_riders(), ghost = six_riders();
  const View now = view_at(replay, 200.5);
  const auto d = difference(ghost, now, "Cato");
  REQUIRE(d.has_value());
  CHECK(d->time_s == Approx(0).margin(0.01));
  CHECK(d->pedal_J == Approx(0).margin(2));
  CHECK_FALSE(difference(ghost, now, "Nobody").has_value());
  CHECK(ghost_at(ghost, now, "Cato", GhostBy::place).time_s == Approx(200.5).margin(0.01));
}

TEST_CASE("a faster ride is ahead of a slower one at the same place", "[ghost]") {
  Replay fast(synthetic::source({6, 500, 4000, 2}), "fast"), slow = six_riders();
  const View now = view_at(fast, 200);
  const auto d = difference(slow, now, "Anouk");
  REQUIRE(d.has_value());
  CHECK(d->time_s == Approx(40).margin(0.2));  // 600/500 of 200 s
  CHECK(d->pedal_J < 0);
  CHECK_THAT(difference_words(d, "Anouk"), Catch::Contains("earlier") && Catch::Contains("less"));
}

TEST_CASE("two rides are on one road only if length and climb agree", "[ghost]") {
  const Road road(synthetic::head(six).road);
  CHECK_FALSE(road_difference(road, road).has_value());
  RoadProfile higher = synthetic::head(six).road;
  for (double& z : higher.elevation_m) z += 300.0;  // another zero of heights is no other road
  CHECK_FALSE(road_difference(Road(higher), road).has_value());
  RoadProfile bump = synthetic::head(six).road;
  bump.elevation_m[bump.elevation_m.size() / 2] += 6.0;
  CHECK_THAT(road_difference(Road(bump), road).value_or(""), Catch::Contains("above the start at 2.00 km"));
  RoadProfile shorter = synthetic::head(six).road;
  const std::size_t points = shorter.elevation_m.size() - 30;
  shorter.elevation_m.resize(points), shorter.heading_rad.resize(points), shorter.rolling.resize(points),
      shorter.width_m.resize(points);
  shorter.abreast.resize(points), shorter.exposure_left.resize(points), shorter.exposure_right.resize(points);
  CHECK_THAT(road_difference(Road(shorter), road).value_or(""), Catch::Equals("a road of 3.97 km, expected 4.00 km"));
}
