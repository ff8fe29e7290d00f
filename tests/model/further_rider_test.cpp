#include "leewheel/further_rider.hpp"

#include <catch2/catch.hpp>

#include "leewheel/rider.hpp"

using namespace leewheel;

namespace {

SeenRider seen(double distance_m, double speed_mps, double cross_mps = 0.0) {
  const double air_W = 0.5 * 1.2 * (0.32 + 0.0044) * speed_mps * speed_mps * speed_mps;  // still air along the road
  return {distance_m, 0.5, speed_mps, 0.0, cross_mps, 0.32, 1.0, air_W, air_W / 0.976 + 60.0};
}

FurtherRider behind_one(const WakeLaw& law, double speed_mps, double cross_mps = 0.0) {
  FurtherRider further;
  further.join(law, {in_bunch(seen(100.0, speed_mps, cross_mps), RiderSettings{}, wake_base(law), 0.2)});
  return further;
}

}  // namespace

TEST_CASE("a further rider has the drag that the law gives a rider there", "[wake]") {
  const WakeLaw law = SuperposedWakes{};
  FurtherRider further = behind_one(law, 8.0);
  const double x[] = {100.0, 97.5}, y[] = {0.5, 0.7}, area[] = {0.32, 0.32}, along[] = {8.0, 8.0}, cross[] = {0.0, 0.0},
               turbulence[] = {0.03, 0.03};
  double factor[2], side[2];
  wake_factors(law, {x, y, area, along, cross, turbulence}, {factor, side});
  CHECK(further.drag_share(97.5, 0.7) == factor[1]);
  CHECK(further.drag_share(140.0, 0.5) == 1.0);  // far ahead of everybody
}

TEST_CASE("what a place is worth is the drag taken off, at the cranks, and no more than the power alone", "[wake]") {
  const WakeLaw law = SuperposedWakes{};
  FurtherRider further = behind_one(law, 8.0);
  const double open_W = 0.5 * 1.2 * 0.32 * 8.0 * 8.0 * 8.0 / 0.976;
  CHECK(further.saved_W(97.5, 0.6) == Approx(0.4 * open_W));
  SeenRider coasting = seen(100.0, 15.0);
  coasting.alone_W = 0.0;
  further.join(law, {in_bunch(coasting, RiderSettings{}, wake_base(law), 0.2)});
  CHECK(further.saved_W(97.5, 0.6) == 0.0);
}

TEST_CASE("close behind is straight behind in still air and aside in a crosswind", "[wake]") {
  const WakeLaw law = SuperposedWakes{};
  FurtherRider still = behind_one(law, 8.0), windy = behind_one(law, 8.0, 4.0);
  const WorthBehind straight = worth_behind(still, 100.0, 0.5), aside = worth_behind(windy, 100.0, 0.5);
  CHECK(straight.lateral_m == Approx(0.5));
  CHECK(straight.distance_m == Approx(100.0 - 1.7 - close_gap_m));
  CHECK(aside.lateral_m > 0.9);  // the air goes to the left, and the wake with it
  FurtherRider slow = behind_one(law, 2.5);
  CHECK(worth_behind(slow, 100.0, 0.5).saved_W < 0.05 * straight.saved_W);  // the third power of the speed
}

TEST_CASE("nobody on the road saves nobody anything", "[wake]") {
  const WakeLaw law = SuperposedWakes{};
  FurtherRider further;
  further.join(law, {});
  CHECK(further.drag_share(10.0, 0.0) == 1.0);
  CHECK(worth_behind(further, 10.0, 0.0).saved_W == 0.0);
}
