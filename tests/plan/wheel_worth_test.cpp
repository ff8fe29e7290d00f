#include "leewheel/wheel_worth.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {
const RiderSettings rider = scenes::plain_rider("plain");
WheelPlace at(double grade, double headwind_mps = 0.0) {
  WheelPlace place;
  place.grade = grade;
  place.headwind_mps = headwind_mps;
  return place;
}
}  // namespace

TEST_CASE("at one speed a wheel saves its share of the air's share of the power", "[wheel_worth]") {
  for (const double grade : {0.0, 0.04, 0.09})
    for (const double wind_mps : {0.0, 4.0}) {
      const WheelWorth w = wheel_worth_at_speed(rider, at(grade, wind_mps), {}, 6.0);
      CHECK(w.saved_percent / 100.0 == Approx((1.0 - w.drag_factor) * w.air_share).epsilon(1e-12));
    }
}

TEST_CASE("at one power a wheel is worth less the steeper it is, and more the more wind is in the face", "[wheel_worth]") {
  double before_s = 1e9;
  for (const double grade : {0.0, 0.02, 0.04, 0.08, 0.12}) {
    const WheelWorth calm = wheel_worth_at_power(rider, at(grade), {}, 230.0),
                     windy = wheel_worth_at_power(rider, at(grade, 5.0), {}, 230.0);
    CHECK(calm.saved_s_per_km < before_s);
    CHECK(windy.saved_s_per_km > calm.saved_s_per_km);
    before_s = calm.saved_s_per_km;
  }
}

TEST_CASE("at the grade where a wheel stops paying it saves just the least", "[wheel_worth]") {
  const auto grade = grade_where_it_stops_paying(rider, at(0.0), {}, 230.0);
  REQUIRE(grade);
  const WheelWorth w = wheel_worth_at_power(rider, at(*grade), {}, 230.0);
  CHECK(std::min(w.saved_percent / least_worth_percent, w.saved_W / least_worth_W) ==
        Approx(1.0).epsilon(0.005));  // the search ends within 0.001 % of grade
}

TEST_CASE("what a wheel is worth follows the wake law: beyond the reach of the law of one wheel it is worth nothing",
          "[wheel_worth]") {
  WheelPlace place;
  place.gap_m = 4.0;
  CHECK(wheel_drag_factor(RiderSettings{}, place, SuperposedWakes{}, 10.0) < 0.9);
  CHECK(wheel_drag_factor(RiderSettings{}, place, WheelGapWake{}, 10.0) == 1.0);
  place.gap_m = 1.0;
  CHECK(wheel_drag_factor(RiderSettings{}, place, WheelGapWake{}, 10.0) == Approx(0.6548));
}

TEST_CASE("without a draft a wheel never pays", "[wheel_worth]") {
  SuperposedWakes none;
  none.wake_scale = 0.0;
  CHECK(grade_where_it_stops_paying(rider, at(0.0), none, 230.0) == 0.0);
}

TEST_CASE("where the rider coasts a wheel saves nothing", "[wheel_worth]") {
  const WheelWorth w = wheel_worth_at_speed(rider, at(-0.10), {}, 8.0);
  REQUIRE(w.power_W < 0.0);
  CHECK(w.saved_W == 0.0);
  CHECK(w.saved_percent == 0.0);
}
