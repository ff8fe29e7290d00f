/// Who is near: who is in the way, and whose wheel overlaps.

#include "model/near.hpp"

#include <catch2/catch.hpp>

#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

namespace {

/// Rider 1 that far behind rider 0 and that far aside of him.
OnRoad two(double ahead_m, double aside_m) {
  OnRoad field(2);
  field.riders.x_m[1] = field.riders.x_m[0] - ahead_m;
  field.riders.y_m[1] = field.riders.y_m[0] + aside_m;
  return field;
}

RiderIndex in_the_way(OnRoad field) {
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  return field.riders.blocker[1];
}

double overlap_s(OnRoad field) {
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  return field.riders.overlap_s[1];
}

}  // namespace

TEST_CASE("a wheel beside another's within 0.6 m counts as an overlap for as long as it lasts", "[near]") {
  CHECK(overlap_s(two(1.0, 0.59)) == 0.5);
  CHECK(overlap_s(two(1.0, -0.59)) == 0.5);
  CHECK(overlap_s(two(1.0, 0.61)) == 0.0);
}

TEST_CASE("wheels overlap from half a metre behind to a bicycle's length", "[near]") {
  CHECK(overlap_s(two(0.49, 0.55)) == 0.0);  // alongside
  CHECK(overlap_s(two(0.51, 0.55)) == 0.5);
  CHECK(overlap_s(two(1.69, 0.55)) == 0.5);
  CHECK(overlap_s(two(1.71, 0.55)) == 0.0);
}

TEST_CASE("who rides slower than 1 m/s brings nobody down", "[near]") {
  OnRoad field = two(1.0, 0.55);
  field.riders.v_mps[1] = 1.01;
  CHECK(overlap_s(field) == 0.5);
  field.riders.v_mps[1] = 0.99;
  CHECK(overlap_s(field) == 0.0);
}

TEST_CASE("two wheels beside a third are one overlap", "[near]") {
  OnRoad field(3);
  for (RiderIndex i = 0; i < 2; ++i) field.riders.y_m[i] = i == 0 ? -1.5 : -0.4;
  field.riders.x_m[1] = 500.0;
  field.riders.x_m[2] = 499.0;
  field.riders.y_m[2] = -0.95;
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  CHECK(field.riders.overlap_s[2] == 0.5);
  CHECK(field.riders.overlap_s[0] == 0.0);
}

TEST_CASE("a rider ahead less than half a metre aside is in the way, one further aside is not", "[near]") {
  CHECK(in_the_way(two(5.0, 0.49)) == 0);
  CHECK(in_the_way(two(5.0, -0.49)) == 0);
  CHECK(in_the_way(two(5.0, 0.51)) == nobody);
  CHECK(in_the_way(two(5.0, beside_m)) == nobody);  // as close as steering lets anyone come
}

TEST_CASE("a rider alongside is not ahead, nor is one more than 60 m on in the way", "[near]") {
  CHECK(in_the_way(two(0.84, 0.0)) == nobody);
  CHECK(in_the_way(two(0.86, 0.0)) == 0);
  CHECK(in_the_way(two(59.9, 0.0)) == 0);
  CHECK(in_the_way(two(60.1, 0.0)) == nobody);
}

TEST_CASE("the nearest in the way counts, past others who are aside", "[near]") {
  OnRoad field(4);
  field.riders.y_m[2] += 0.6;
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  CHECK(field.riders.blocker[3] == 1);
  CHECK(field.riders.blocker[2] == nobody);  // everyone ahead is aside of him
  CHECK(field.riders.blocker[0] == nobody);
}

TEST_CASE("the eighth rider ahead is looked at, the ninth is not", "[near]") {
  const std::size_t aside = GENERATE(7u, 8u);  // riders between, alongside one another
  OnRoad field(aside + 2);
  for (std::size_t i = 1; i <= aside; ++i) {
    field.riders.x_m[i] = 480.0 - 0.1 * static_cast<double>(i);
    field.riders.y_m[i] = -0.3;
  }
  field.riders.x_m[aside + 1] = 478.0;
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  CHECK(field.riders.blocker[aside + 1] == (aside == 7 ? 0 : nobody));
}

TEST_CASE("room sideways is that of the lane where the rider is", "[near]") {
  OnRoad field(1);
  look_around(field.riders, field.riders, field.track, field.order, 0.5);
  const Lane lane = lane_at(field.scenario, 500.0);
  CHECK(field.riders.y_low_m[0] == lane.low_m);
  CHECK(field.riders.y_high_m[0] == lane.high_m);
}
