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
  const auto d = difference(replay, ghost, 200.5, 2);
  REQUIRE(d.has_value());
  REQUIRE(d->here.has_value());
  CHECK(d->here->time_s == Approx(0).margin(1e-6));
  CHECK(d->here->work_J == Approx(0).margin(1e-3));
  CHECK(d->now.way_m == 0.0);
  CHECK(d->now.work_J == 0.0);
  CHECK(difference_words(d, "Cato", "itself", Units::metric) ==
        "Cato against itself (hollow), at this place: level, 0.0 kJ less work. At this time: 0 m ahead, 0.0 kJ less work.");
  CHECK(ghost_at(ghost, view_at(replay, 200.5), "Cato", GhostBy::place).time_s == Approx(200.5).margin(0.01));
  CHECK(ghost_at(ghost, view_at(replay, 200.5), "Cato", GhostBy::time).time_s == 200.5);
}

TEST_CASE("what is gained at the same place, at the same time and along the whole road", "[ghost]") {
  // 4 km in 475 s and in 570 s at even speeds; the invented riders do 180 J a second.
  Replay fast(synthetic::source({6, 500, 4000, 2}), "fast"), slow = six_riders();
  const auto d = difference(fast, slow, 200, 0);
  REQUIRE(d.has_value());
  REQUIRE(d->here.has_value());
  CHECK(d->here->time_s == Approx(40.0).margin(0.001));
  CHECK(d->here->work_J == Approx(7200.0).margin(0.2));
  CHECK(d->now.way_m == Approx(200 * (4000 / 475.0 - 4000 / 570.0)).margin(0.001));
  CHECK(d->now.work_J == 0.0);
  CHECK(difference_words(d, "Anouk", "the slow ride", Units::metric) ==
        "Anouk against the slow ride (hollow), at this place: 0:40 gained, 7.2 kJ less work. At this time: 281 m ahead, "
        "0.0 kJ less work.");
  const auto back = difference(slow, fast, 240, 0);
  CHECK_THAT(difference_words(back, "Anouk", "the fast ride", Units::imperial),
             Catch::Contains("0:40 lost, 7.2 kJ more work") && Catch::Contains("1105 ft behind"));

  const auto along = gained_along(fast, slow, 0);
  REQUIRE(along.size() == 121);
  CHECK(along.front()->time_s == 0.0);
  CHECK(along[60]->time_s == Approx(47.5).margin(0.001));
  CHECK(along[60]->work_J == Approx(8550.0).margin(0.2));
  CHECK(along.back()->time_s == Approx(95.0).margin(0.001));
  const auto home = difference(fast, slow, 500, 0);
  CHECK(home->here->time_s == Approx(95.0).margin(0.001));  // at the finish, though the clock runs on
  CHECK(home->here->work_J == Approx(17100.0).margin(0.2));
}

TEST_CASE("who was not there or never came by has gained nothing", "[ghost]") {
  Replay ride = six_riders(), two(synthetic::source({2, 600, 4000, 1}), "two");
  CHECK_FALSE(difference(ride, two, 200, 5).has_value());
  CHECK(difference_words({}, "Fenn", "two", Units::metric) == "Nobody is called Fenn in the other ride, two.");
  for (const auto& one : gained_along(ride, two, 5)) CHECK_FALSE(one.has_value());
}

TEST_CASE("the second ride is called by what tells it apart", "[ghost]") {
  const Replay ride(synthetic::source(six), "out/hill/trace.h5"), other(synthetic::source(six), "out/together/trace.h5");
  CHECK(ghost_name(ride, other) == "together/trace.h5");
  CHECK(ghost_name(ride, Replay(synthetic::source(six, "An invented ride, each rider alone"), "alone.h5")) ==
        "each rider alone");
  CHECK(ghost_name(ride, Replay(synthetic::source(six, "A recorded ride"), "ridden.h5")) == "A recorded ride");
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
