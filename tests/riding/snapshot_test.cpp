/// What a snapshot says of a rider: reserve, company, wind, what a wheel is worth.

#include <cmath>

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

TEST_CASE("W' is to spare only above the reserve of 15 %", "[snapshot]") {
  Scene scene(1);
  scene.riders.wbal_J[0] = 3500.0;
  CHECK(scene.now().spare_J(0) == Approx(500.0));
  scene.riders.wbal_J[0] = 2900.0;
  CHECK(scene.now().spare_J(0) == Approx(-100.0));
}

TEST_CASE("a rider is followed by someone 4.9 m behind, not by someone 5.1 m behind, and the last by nobody", "[snapshot]") {
  Scene scene(2);
  CHECK(scene.gap_m(1, 4.9).now().is_followed(0));
  CHECK_FALSE(scene.gap_m(1, 5.1).now().is_followed(0));
  CHECK_FALSE(scene.gap_m(1, 4.9).now().is_followed(1));
}

TEST_CASE("a crosswind counts from 2.5 m/s, from either side", "[snapshot]") {
  Scene scene(1);
  const double side = GENERATE(1.0, -1.0);
  scene.riders.wind_cross_mps[0] = side * 2.6;
  CHECK(scene.now().in_crosswind(0));
  scene.riders.wind_cross_mps[0] = side * 2.4;
  CHECK_FALSE(scene.now().in_crosswind(0));
}

TEST_CASE("an instruction holds for its choice alone and until carried out", "[snapshot]") {
  Scene scene(2);
  scene.is_told(1, Choice::sits_in);
  CHECK(scene.now().is_instructed(1, Choice::sits_in));
  CHECK_FALSE(scene.now().is_instructed(1, Choice::takes_turns));
  CHECK_FALSE(scene.now().is_instructed(0, Choice::sits_in));
  scene.memory[1].carried_out = true;
  CHECK_FALSE(scene.now().is_instructed(1, Choice::sits_in));
}

TEST_CASE("a rider sits in from the second turn skipped, not from the first, or when told to", "[snapshot]") {
  Scene scene(2);
  Memory as_of;
  as_of.skipped_turns = 1;
  CHECK_FALSE(scene.now().sits_in(0, as_of));
  as_of.skipped_turns = 2;
  CHECK(scene.now().sits_in(0, as_of));
  scene.is_told(1, Choice::sits_in);
  CHECK(scene.now().sits_in(1, Memory{}));
}

TEST_CASE("the wheel held is judged by its own wake where that is better than the usual, any other by the usual",
          "[snapshot]") {
  Scene scene(1);
  scene.riders.drag_factor[0] = 0.5;
  CHECK(scene.now().wheel_factor(0, Role::following) == 0.5);
  CHECK(scene.now().wheel_factor(0, Role::alone) == 0.64);
  CHECK(scene.now().wheel_factor(0, Role::chasing) == 0.64);
  scene.riders.drag_factor[0] = 0.9;  // a gap that opened for a moment
  CHECK(scene.now().wheel_factor(0, Role::following) == 0.64);
}

TEST_CASE("the price of a speed is that of air, tyres, bearings and slope, worked by hand", "[snapshot]") {
  const Cost cost{0.6, 0.3, 0.01, -2.0, 9.0, 4.0, 20.0, 0.976, 80.0};  // headwind 2 m/s, 3 m/s across
  const double air_N = 0.6 * (0.3 * 0.7 + 0.01) * 10.0 * std::sqrt(109.0);
  CHECK(cost.power_W(8.0, 0.7) == Approx((air_N + 4.0 + 0.091 + 0.0087 * 8.0 + 20.0) * 8.0 / 0.976).epsilon(1e-12));
  const Cost down{0.6, 0.3, 0.0, 0.0, 0.0, 4.0, -40.0, 0.976, 80.0};  // nobody pedals: no loss in the chain
  CHECK(down.power_W(5.0, 1.0) == Approx((0.6 * 0.3 * 25.0 + 4.0 + 0.091 + 0.0435 - 40.0) * 5.0).epsilon(1e-12));
}

TEST_CASE("second by second the speed of a power settles where it costs that power", "[snapshot]") {
  const Cost cost{0.6, 0.3, 0.01, -2.0, 9.0, 4.0, 20.0, 0.976, 80.0};
  double v = 3.0;
  for (int second = 0; second < 12; ++second) v = cost.speed_mps(250.0, 0.7, v);
  CHECK(cost.power_W(v, 0.7) == Approx(250.0).epsilon(1e-9));
}

TEST_CASE("where power falls with speed the next faster speed is tried, and no speed leaves 0.3 to 30 m/s", "[snapshot]") {
  const Cost down{0.6, 0.3, 0.0, 0.0, 0.0, 4.0, -40.0, 1.0, 80.0};
  CHECK(down.speed_mps(0.0, 1.0, 3.0) == 3.5);
  const Cost flat{0.6, 0.3, 0.0, 0.0, 0.0, 4.0, 0.0, 1.0, 80.0};
  CHECK(flat.speed_mps(-1000.0, 1.0, 5.0) == 0.3);
  CHECK(flat.speed_mps(1e6, 1.0, 5.0) == 30.0);
}
