#include <catch2/catch.hpp>

#include "leewheel/ride.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

void check_same(const Passage& a, const Passage& b) {
  CHECK(a.distance_m == b.distance_m);
  CHECK(a.time_s == b.time_s);
  CHECK(a.power_W == b.power_W);
  CHECK(a.wbal_J == b.wbal_J);
  CHECK(a.pedal_J == b.pedal_J);
  CHECK(a.saved_J == b.saved_J);
  CHECK(a.alone_J == b.alone_J);
  CHECK(a.sheltered_s == b.sheltered_s);
}

}  // namespace

TEST_CASE("riders are timed at a distance exactly as at a landmark there, and at the top as at the finish",
          "[ride][timing]") {
  const Road plain = scenes::grades({0.01, 0.06}, 600.0);
  const std::vector<double> marks_m{300.0, 750.0};
  const RideResult by_landmark = ride_to_end(scenes::scene(scenes::with_landmarks(plain, marks_m), scenes::club(3)));
  const RideResult timed =
      ride_to_end(scenes::scene(plain, scenes::club(3)), {.timing_points_m = {300.0, 750.0, plain.length_m()}});
  for (std::size_t i = 0; i < 3; ++i) {
    const std::vector<Passage>&expected = by_landmark.riders[i].landmarks, &found = timed.riders[i].timing;
    REQUIRE(expected.size() == 3);
    REQUIRE(found.size() == 3);
    for (std::size_t k = 0; k < 3; ++k) check_same(found[k], expected[k]);
    CHECK(found.back().time_s == timed.riders[i].finish_time_s);
    CHECK(timed.riders[i].landmarks.size() == 1);  // the finish: a timing point is no landmark
  }
}

TEST_CASE("a point that a rider does not reach is not in the list", "[ride][timing]") {
  Scenario s = scenes::scene(scenes::flat_road(5000.0), {scenes::plain_rider("Una")});
  s.ride.time_limit_s = 60.0;
  const RiderResult rider = ride_to_end(s, {.timing_points_m = {50.0, 100.0, 4000.0}}).riders[0];
  REQUIRE(rider.timing.size() == 2);
  CHECK(rider.timing[0].distance_m == 50.0);
  CHECK(rider.timing[1].distance_m == 100.0);
  CHECK(rider.timing[0].time_s < rider.timing[1].time_s);
}

TEST_CASE("timing points and books of debts change nothing of a ride", "[ride][timing]") {
  for (const std::uint64_t seed : {4u, 8u}) {
    const Scenario s = scenes::random_scenario(seed);
    const double length_m = s.road.length_m();
    Ride plain(s), timed(s, {.notes_debts = false, .timing_points_m = {0.2 * length_m, 0.21 * length_m, 0.9 * length_m}});
    RideSample a, b;
    while (plain.end() == RideEnd::riding) {
      plain.step();
      timed.step();
      plain.sample(a);
      timed.sample(b);
      REQUIRE(scenes::hash_of(a) == scenes::hash_of(b));
    }
    CHECK(timed.end() == plain.end());
    CHECK(timed.result().debts.empty());
  }
}
