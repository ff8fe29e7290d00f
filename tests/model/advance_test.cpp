/// What a rider wishes of the next moment, what comes of it, and that nobody is ridden through.

#include "model/advance.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "model/gap_law.hpp"
#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

// ---- wishes

TEST_CASE("a rider with nothing ahead wishes more than power will give", "[advance]") {
  OnRoad field(1);
  CHECK(field.wish_mps2(0) == Approx(4.0));
}

TEST_CASE("a pace is taken up in 3 s, upwards by no more than 0.5 m/s2", "[advance]") {
  OnRoad field(1);
  const auto wish_mps2 = [&](double v_mps, double pace_mps) {
    field.riders.v_mps[0] = v_mps;
    field.riders.pace_mps[0] = pace_mps;
    return field.wish_mps2(0);
  };
  CHECK(wish_mps2(10.0, 9.4) == Approx(-0.2));
  CHECK(wish_mps2(10.0, 10.15) == Approx(0.05));
  CHECK(wish_mps2(10.0, 11.4) == Approx(1.4 / 3.0));
  CHECK(wish_mps2(10.0, 12.0) == Approx(0.5));
  CHECK(wish_mps2(2.9, 9.0) == Approx(0.5));
}

TEST_CASE("a rider going back speeds up with the line, and does not slow down with it", "[advance]") {
  OnRoad field(2);
  field.riders.front_of[1] = 0;
  field.riders.pace_mps[1] = 9.4;
  field.riders.accel_mps2[0] = 0.3;
  CHECK(field.wish_mps2(1) == Approx(0.3 - 0.2));
  field.riders.accel_mps2[0] = -0.3;
  CHECK(field.wish_mps2(1) == Approx(-0.2));
  field.riders.accel_mps2[0] = 0.9;
  CHECK(field.wish_mps2(1) == Approx(0.5));
}

TEST_CASE("a wheel is held by the gap law, speeding up by at most 0.5 m/s2", "[advance]") {
  OnRoad field(3, scenes::flat_road(1000.0), 1.0);
  field.riders.wheel_of[2] = 1;
  field.riders.front_of[2] = 0;
  field.riders.wish_gap_m[2] = 0.6;
  field.riders.v_mps[1] = 9.9;
  field.riders.v_mps[0] = 9.8;
  field.riders.accel_mps2[1] = -0.3;
  CHECK(field.wish_mps2(2) == Approx(gap_law_mps2(field.scenario.tactics, {1.0, 0.6, 9.9, -0.3, 9.8}, 10.0)));
  field.gap_m(2, 11.0);
  CHECK(field.wish_mps2(2) == Approx(0.5));
}

TEST_CASE("a wheel's speed is seen a reaction time late, the first rider's at once", "[advance]") {
  OnRoad field(3, scenes::flat_road(1000.0), 1.0);
  field.riders.wheel_of[2] = 1;
  field.riders.front_of[2] = 0;
  field.riders.v_mps[0] = field.riders.v_mps[1] = 9.5;
  field.riders.past_mps = {10.0f, 10.0f, 10.0f, 9.0f, 9.25f, 9.0f};  // two steps of three riders
  field.time = {0.1, 7, 2};
  field.riders.accel_mps2[1] = -0.3;  // not seen
  CHECK(field.wish_mps2(2) == Approx(gap_law_mps2(field.scenario.tactics, {1.0, 0.0, 9.25, 0.0, 9.5}, 10.0)));
}

TEST_CASE("the speeds of a step are kept for whoever sees them late", "[advance]") {
  OnRoad field(2);
  field.time = {0.1, 3, 2};
  field.riders.v_mps[1] = 9.25;
  field.advance_step();
  CHECK(field.riders.past_mps == std::vector<float>{0.0f, 0.0f, 10.0f, 9.25f});
}

TEST_CASE("a limit of speed is met in 1.5 s, from 0.5 m/s below it", "[advance]") {
  // A bend of 20 m radius: sqrt(4 * 20) = 8.944 m/s.
  Stretch bend;
  bend.length_m = 1000.0, bend.bend_radius_m = 20.0;
  OnRoad field(1, Road(profile_from_stretches({bend}, 0.0)));
  const double limit_mps = field.track.cell(field.track.place(500.0)).speed_limit_mps;
  CHECK(limit_mps == Approx(8.944).margin(0.01));
  field.riders.v_mps[0] = 10.0;
  CHECK(field.wish_mps2(0) == Approx((limit_mps - 10.0) / 1.5));
  field.riders.v_mps[0] = limit_mps - 0.49;
  CHECK(field.wish_mps2(0) == Approx(0.49 / 1.5));
  field.riders.v_mps[0] = limit_mps - 0.51;
  CHECK(field.wish_mps2(0) == Approx(4.0));
}

TEST_CASE("a stop is planned with the comfortable braking, from half a metre a second below what that allows", "[advance]") {
  OnRoad field(1);
  const auto wish_mps2 = [&](double v_mps, double to_stop_m) {
    field.riders.v_mps[0] = v_mps;
    field.riders.stop_at_m[0] = field.riders.x_m[0] + to_stop_m;
    return field.wish_mps2(0);
  };
  const double allowed_mps = std::sqrt(2.0 * 1.5 * 30.0);
  CHECK(wish_mps2(allowed_mps + 0.1, 30.0) == Approx(-0.1 / 0.5));
  CHECK(wish_mps2(allowed_mps - 0.49, 30.0) == Approx(0.49 / 0.5));
  CHECK(wish_mps2(allowed_mps - 0.51, 30.0) == Approx(4.0));
  CHECK(wish_mps2(2.0, -1.0) == Approx(-2.0 / 0.5));  // past it
  CHECK(wish_mps2(20.0, 99.9) == Approx((std::sqrt(2.0 * 1.5 * 99.9) - 20.0) / 0.5));
  CHECK(wish_mps2(20.0, 100.1) == Approx(4.0));
}

TEST_CASE("behind a rider in the way nobody is faster than the comfortable braking could still take off", "[advance]") {
  OnRoad field(2, scenes::flat_road(1000.0), 3.03);  // 3 m of room
  field.riders.blocker[1] = 0;
  field.riders.v_mps[0] = 6.0;
  const double safe_mps = std::sqrt(36.0 + 2.0 * 1.5 * 3.0);
  field.riders.v_mps[1] = safe_mps + 0.1;
  CHECK(field.wish_mps2(1) == Approx(-0.1 / 0.2));
  field.riders.v_mps[1] = safe_mps - 0.01;
  CHECK(field.wish_mps2(1) == Approx(4.0));
  field.gap_m(1, 0.03).riders.v_mps[1] = 6.1;  // no room at all
  CHECK(field.wish_mps2(1) == Approx(-0.1 / 0.2));
}

TEST_CASE("wheels that overlap in one another's way come apart, by 0.3 m/s for each metre", "[advance]") {
  OnRoad field(2, scenes::flat_road(1000.0), -0.47);  // half a metre too near
  field.riders.blocker[1] = 0;
  field.riders.v_mps[0] = 6.0;
  field.riders.v_mps[1] = 5.84;
  CHECK(field.wish_mps2(1) == Approx(4.0));
  field.riders.v_mps[1] = 5.95;
  CHECK(field.wish_mps2(1) == Approx(-0.1 / 0.2));
}

// ---- a step along the road

TEST_CASE("time counts as sheltered below a drag factor of 0.95", "[advance]") {
  OnRoad field(3);
  field.riders.drag_factor[0] = 0.951;
  field.riders.drag_factor[1] = 0.949;
  field.riders.drag_factor[2] = 0.5;
  field.riders.on_road[2] = 0.0;
  field.advance_step();
  field.advance_step();
  CHECK(field.riders.sheltered_s[0] == 0.0);
  CHECK(field.riders.sheltered_s[1] == Approx(0.2));
  CHECK(field.riders.sheltered_s[2] == 0.0);  // at the top already
}

TEST_CASE("a rider without wheel and pace gives his or her own power, with either no more than the most", "[advance]") {
  OnRoad field(2);
  const auto power_W = [&](double pace_mps) {
    field.riders.pace_mps[0] = pace_mps;
    field.riders.free_W[0] = 150.0;
    field.riders.most_W[0] = 300.0;
    field.riders.v_mps[0] = 10.0;
    field.advance_step();
    return field.riders.power_W[0];
  };
  CHECK(power_W(0.0) == Approx(150.0));
  CHECK(power_W(20.0) == Approx(300.0));
  field.riders.most_W[1] = 120.0;
  field.riders.free_W[1] = 150.0;
  field.advance_step();
  CHECK(field.riders.power_W[1] == Approx(120.0));
}

TEST_CASE("W' at nothing leaves critical power, half of it half of what lies above", "[advance]") {
  OnRoad field(1);
  field.riders.free_W[0] = field.riders.most_W[0] = 2000.0;
  field.riders.wbal_J[0] = 0.0;
  field.advance_step();
  CHECK(field.riders.power_W[0] == Approx(250.0));
  field.riders.wbal_J[0] = 10000.0;
  field.riders.v_mps[0] = 10.0;
  field.advance_step();
  CHECK(field.riders.power_W[0] == Approx(575.0));
}

TEST_CASE("nobody brakes harder than the brakes and the road allow", "[advance]") {
  OnRoad field(1);
  field.riders.stop_at_m[0] = field.riders.x_m[0];
  field.advance_step();
  const double air_N = 0.6125 * 0.32 * 100.0, still_N = 0.004 * 83.0 * 9.80665 + 0.091 + 0.0087 * 10.0;
  CHECK(field.riders.accel_mps2[0] == Approx(-4.0 - (air_N + still_N) / 83.0).epsilon(0.01));
  CHECK(field.riders.power_W[0] == 0.0);
}

TEST_CASE("who climbs sits up below 7 m/s, fully at 5; on the flat goes to the drops from 9 m/s, fully at 11", "[advance]") {
  OnRoad field(1);
  field.riders.area_upright_m2[0] = 0.40;
  field.riders.area_drops_m2[0] = 0.28;
  const auto area_m2 = [&](double v_mps, double climbing) {
    field.riders.v_mps[0] = v_mps;
    field.riders.climbing[0] = climbing;
    field.advance_step();
    return field.riders.area_m2[0];
  };
  CHECK(area_m2(7.0, 1.0) == Approx(0.32));
  CHECK(area_m2(6.0, 1.0) == Approx(0.36));
  CHECK(area_m2(4.0, 1.0) == Approx(0.40));
  CHECK(area_m2(6.0, 0.5) == Approx(0.34));
  CHECK(area_m2(6.0, 0.0) == Approx(0.32));
  CHECK(area_m2(9.0, 0.0) == Approx(0.32));
  CHECK(area_m2(10.0, 0.0) == Approx(0.30));
  CHECK(area_m2(12.0, 0.0) == Approx(0.28));
  CHECK(area_m2(12.0, 1.0) == Approx(0.32));
}

TEST_CASE("what the same motion would cost alone leaves the others' wakes out and the wheels' own drag in", "[advance]") {
  OnRoad field(1);
  field.riders.drag_factor[0] = 0.6;
  field.riders.wheel_area_m2[0] = 0.01;
  field.riders.free_W[0] = 200.0;
  field.advance_step();
  const double saved_W = 0.6125 * 0.32 * 0.4 * 1000.0 / 0.976;  // of the body alone, at 10 m/s
  CHECK(field.riders.alone_W[0] - field.riders.power_W[0] == Approx(saved_W).epsilon(0.01));
}

TEST_CASE("where the lowest gear does not turn a rider walks on with the same power", "[advance]") {
  OnRoad field(1, scenes::constant_grade(1000.0, 0.30));
  field.riders.pedal_limit_N[0] = 100.0;  // the slope asks some 240 N
  field.riders.free_W[0] = 200.0;
  field.riders.v_mps[0] = 0.5;
  for (int step = 0; step < 100; ++step) field.advance_step();
  CHECK(field.riders.v_mps[0] == Approx(0.8223).epsilon(1e-3));
  CHECK(field.riders.power_W[0] == Approx(200.0));
}

// ---- nobody is ridden through

namespace {
/// Rider 1 has come `too_near_m` closer than bodies allow in this step.
OnRoad driven_in(double too_near_m, double aside_m = 0.0) {
  OnRoad field(2, scenes::constant_grade(1000.0, 0.05));
  field.riders.x_before_m[1] = field.riders.x_m[0] - body_length_m - 0.5;
  field.riders.x_before_m[0] = field.riders.x_m[0] - 0.9;
  field.riders.x_m[1] = field.riders.x_m[0] - body_length_m + too_near_m;
  field.riders.elevation_m[1] = field.track.elevation_m(field.riders.x_m[1]);
  field.riders.y_m[1] = field.riders.y_m[0] + aside_m;
  field.riders.v_mps[0] = 9.0;
  return field;
}
void keep(OnRoad& field) { keep_apart(field.riders, field.riders, field.riders.ledgers, field.track, field.order); }
}  // namespace

TEST_CASE("who would drive into the rider ahead is held 3 cm behind, at that rider's speed", "[advance]") {
  OnRoad field = driven_in(0.2);
  keep(field);
  CHECK(field.riders.x_m[1] == Approx(field.riders.x_m[0] - 1.73));
  CHECK(field.riders.v_mps[1] == 9.0);
  CHECK(field.riders.elevation_m[1] == Approx(field.track.elevation_m(field.riders.x_m[1])));
}

TEST_CASE("what being held takes goes into the brakes, in height and in speed", "[advance]") {
  OnRoad field = driven_in(0.2);
  const double before_m = field.riders.elevation_m[1];
  keep(field);
  const double rise_J = field.riders.weight_N[1] * (field.riders.elevation_m[1] - before_m);
  const double kinetic_J = 0.5 * field.riders.moving_mass_kg[1] * (81.0 - 100.0);
  CHECK(field.riders.ledgers.potential_J[1] == Approx(rise_J));
  CHECK(field.riders.ledgers.kinetic_J[1] == Approx(kinetic_J));
  CHECK(field.riders.ledgers.braking_J[1] == Approx(-rise_J - kinetic_J));
}

TEST_CASE("nobody is held behind a rider half a metre aside, nor set back behind where the step began", "[advance]") {
  OnRoad beside = driven_in(0.2, beside_m), close = driven_in(0.2, beside_m - 0.01), far_in = driven_in(2.0);
  const double before_m = beside.riders.x_m[1];
  keep(beside);
  CHECK(beside.riders.x_m[1] == before_m);
  keep(close);
  CHECK(close.riders.x_m[1] == Approx(close.riders.x_m[0] - 1.73));
  far_in.riders.x_before_m[1] = far_in.riders.x_m[0] - 1.0;
  keep(far_in);
  CHECK(far_in.riders.x_m[1] == far_in.riders.x_before_m[1]);
}

TEST_CASE("a slower rider who is held keeps that speed", "[advance]") {
  OnRoad field = driven_in(0.2);
  field.riders.v_mps[1] = 8.0;
  keep(field);
  CHECK(field.riders.v_mps[1] == 8.0);
}

TEST_CASE("behind a rider who was held the next is held too, in the same step", "[advance]") {
  OnRoad field(3);
  field.riders.x_before_m = {499.1, 497.3, 495.5, 0.0};
  field.riders.x_m = {500.0, 498.5, 496.7, 0.0};  // rider 1 too near by 23 cm, and rider 2 to where he is put
  keep(field);
  CHECK(field.riders.x_m[1] == Approx(498.27));
  CHECK(field.riders.x_m[2] == Approx(496.54));
}
