/// One step across the road.

#include "model/steer.hpp"

#include <catch2/catch.hpp>

#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

namespace {
double steered_m(OnRoad& field, RiderIndex i, double step_s = 0.1) {
  const double before_m = field.riders.y_m[i];
  steer(field.riders, field.riders, field.order, step_s);
  return field.riders.y_m[i] - before_m;
}
}  // namespace

TEST_CASE("a wished place is taken up in a second, with at most 0.5 m/s", "[steer]") {
  OnRoad field(1);
  field.riders.y_target_m[0] = -1.5 + 0.3;
  CHECK(steered_m(field, 0) == Approx(0.03));
  field.riders.y_m[0] = -1.5;
  field.riders.y_target_m[0] = -1.5 - 1.2;
  CHECK(steered_m(field, 0) == Approx(-0.05));
}

TEST_CASE("who rides slowly moves across by at most 15 % of the speed", "[steer]") {
  OnRoad field(1);
  field.riders.v_mps[0] = 2.0;
  field.riders.y_target_m[0] = -0.5;
  CHECK(steered_m(field, 0) == Approx(0.03));
}

TEST_CASE("a step longer than a second ends at the wished place, and nobody steers finer than a millimetre", "[steer]") {
  OnRoad field(1);
  field.riders.y_target_m[0] = -1.4;
  CHECK(steered_m(field, 0, 2.0) == Approx(0.1));
  field.riders.y_target_m[0] = field.riders.y_m[0] + 0.0009;
  CHECK(steered_m(field, 0) == 0.0);
}

TEST_CASE("nobody leaves the lane, but a rider outside may come back slowly", "[steer]") {
  OnRoad field(1);
  field.riders.y_m[0] = -0.22;
  field.riders.y_target_m[0] = 2.0;
  CHECK(steered_m(field, 0) == Approx(0.02));
  field.riders.y_m[0] = 0.5;
  CHECK(steered_m(field, 0) == 0.0);
  field.riders.y_target_m[0] = -1.0;
  CHECK(steered_m(field, 0) == Approx(-0.05));
  field.riders.y_m[0] = -2.98;
  field.riders.y_target_m[0] = -5.0;
  CHECK(steered_m(field, 0) == Approx(-0.02));
}

TEST_CASE("nobody comes nearer than half a metre to a rider alongside, ahead or behind", "[steer]") {
  const double x_m = GENERATE(501.72, 498.28), side = GENERATE(1.0, -1.0);
  OnRoad field(2);
  field.riders.x_m[1] = x_m;
  if (x_m > 500.0) field.order = {1, 0};
  field.riders.y_m[1] = -1.5 + side * 0.52;
  field.riders.y_target_m[1] = field.riders.y_m[1];
  field.riders.y_target_m[0] = -1.5 + side * 1.0;
  CHECK(steered_m(field, 0) == Approx(side * 0.02));
  field.riders.y_m[0] = -1.5;
  field.riders.x_m[1] = x_m > 500.0 ? 501.74 : 498.26;  // clear of him
  CHECK(steered_m(field, 0) == Approx(side * 0.05));
}

TEST_CASE("a rider nearer than half a metre already may move away and not nearer", "[steer]") {
  OnRoad field(2);
  field.riders.x_m[1] = 499.0;
  field.riders.y_m[1] = field.riders.y_target_m[1] = -1.2;
  field.riders.y_target_m[0] = -1.0;
  CHECK(steered_m(field, 0) == 0.0);
  field.riders.y_target_m[0] = -2.0;
  CHECK(steered_m(field, 0) == Approx(-0.05));
}

TEST_CASE("a gap between two riders alongside narrower than a metre is not entered", "[steer]") {
  OnRoad field(3);
  field.riders.x_m[1] = field.riders.x_m[2] = 499.0;
  field.riders.y_m[1] = field.riders.y_target_m[1] = -1.05;
  field.riders.y_m[2] = field.riders.y_target_m[2] = -2.02;
  field.riders.y_target_m[0] = -1.8;
  CHECK(steered_m(field, 0) == Approx(-0.02));
}
