/// What a second of riding does to W', fatigue and heart rate.

#include "model/recover.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

namespace {

/// A second at that power.
void ride_second(OnRoad& field, double power_W) {
  field.riders.ledgers.pedal_J[0] += power_W;
  field.riders.power_W[0] = power_W;
  recover(field.riders, field.riders, field.scenario.ride, field.order, 1.0);
}

/// A second of the heart at that power, from that share of the highest rate.
double beaten(double from, double power_W) {
  OnRoad field(1);
  field.riders.heart_share[0] = from;
  field.riders.power_W[0] = power_W;
  beat(field.riders, field.riders, field.order, 1.0);
  return field.riders.heart_share[0];
}

}  // namespace

TEST_CASE("W' falls by the work above critical power and fills by the law of the ride", "[recover]") {
  OnRoad field(1);
  ride_second(field, 350.0);
  CHECK(field.riders.wbal_J[0] == Approx(20000.0 - 100.0));
  ride_second(field, 150.0);
  CHECK(field.riders.wbal_J[0] == Approx(20000.0 - 100.0 * std::exp(-1.0 / 200.0)));
  field.scenario.ride.recovery_law = RecoveryLaw::steeper;
  field.riders.wbal_J[0] = 10000.0;
  ride_second(field, 150.0);
  CHECK(field.riders.wbal_J[0] == Approx(20000.0 - 10000.0 * std::exp(-1.0 / (2287.2 * std::pow(100.0, -0.688)))));
}

TEST_CASE("the least W' is remembered while it fills again", "[recover]") {
  OnRoad field(1);
  ride_second(field, 450.0);
  ride_second(field, 100.0);
  ride_second(field, 100.0);
  CHECK(field.riders.wbal_least_J[0] == Approx(19800.0));
  CHECK(field.riders.wbal_J[0] == Approx(19802.978));
}

TEST_CASE("time above three quarters of critical power counts as heavy", "[recover]") {
  OnRoad field(1);
  ride_second(field, 188.0);
  ride_second(field, 187.0);
  CHECK(field.riders.heavy_s[0] == 1.0);
}

TEST_CASE("strength fades with heavy riding only where the ride has fatigue, and W' with it", "[recover]") {
  OnRoad field(1);
  field.riders.heavy_s[0] = 120.0 * 60.0;
  ride_second(field, 100.0);
  CHECK(field.riders.critical_W[0] == 250.0);
  field.scenario.ride.fatigue = true;
  ride_second(field, 100.0);
  CHECK(field.riders.critical_W[0] == Approx(250.0 * 236.0 / 260.0));
  CHECK(field.riders.wbal_J[0] == Approx(20000.0 * 13.8 / 17.9));
  CHECK(field.riders.peak_per_J[0] == Approx((900.0 - 250.0 * 236.0 / 260.0) / (20000.0 * 13.8 / 17.9)));
}

TEST_CASE("W' never falls below nothing, though heat takes critical power from under a rider at its limit", "[recover]") {
  OnRoad field(1);
  field.riders.wbal_J[0] = 0.0;
  field.riders.heat_share[0] = 0.1;
  ride_second(field, 250.0);  // what was critical power a second ago
  CHECK(field.riders.critical_W[0] == 225.0);
  CHECK(field.riders.wbal_J[0] == 0.0);
}

TEST_CASE("the integral law gives at the end of a ride what the published integral gives for it", "[recover]") {
  OnRoad field(1);
  field.scenario.ride.recovery_law = RecoveryLaw::integral;
  for (int minute = 0; minute < 12; ++minute)
    for (int second = 0; second < 60; ++second) ride_second(field, minute % 2 == 0 ? 350.0 : 150.0);
  CHECK(field.riders.wbal_J[0] == Approx(1683.0).margin(1.0));  // worked apart from this code
  CHECK(wbal_by_law_J(field.riders, field.scenario.ride, 0)[1] == field.riders.wbal_J[0]);
}

TEST_CASE("the other laws go along second by second, and the ride's own is the ride's", "[recover]") {
  OnRoad field(1);
  for (int second = 0; second < 60; ++second) ride_second(field, second % 2 == 0 ? 350.0 : 150.0);
  double differential_J = 20000.0, steeper_J = 20000.0;
  for (int second = 0; second < 60; ++second) {
    const double power_W = second % 2 == 0 ? 350.0 : 150.0;
    const Strength fresh = field.riders.settings[0].strength();
    differential_J = wbal_after_J(RecoveryLaw::differential, fresh, differential_J, power_W, 1.0);
    steeper_J = wbal_after_J(RecoveryLaw::steeper, fresh, steeper_J, power_W, 1.0);
  }
  const WbalByLaw left_J = wbal_by_law_J(field.riders, field.scenario.ride, 0);
  CHECK(left_J[0] == field.riders.wbal_J[0]);
  CHECK(left_J[0] == Approx(differential_J));
  CHECK(left_J[1] == Approx(20000.0 - field.riders.spent[0].spent_J()));
  CHECK(left_J[2] == Approx(steeper_J));
}

TEST_CASE("within a second W' is that of the work so far", "[recover]") {
  OnRoad field(1);
  ride_second(field, 200.0);
  const double pedal_J = field.riders.ledgers.pedal_J[0];
  CHECK(wbal_at_J(field.riders, field.scenario.ride, 0, pedal_J, 0.0) == 20000.0);
  for (const RecoveryLaw law : {RecoveryLaw::differential, RecoveryLaw::integral}) {
    field.scenario.ride.recovery_law = law;
    CHECK(wbal_at_J(field.riders, field.scenario.ride, 0, pedal_J + 0.4 * 650.0, 0.4) == Approx(20000.0 - 0.4 * 400.0));
  }
}

TEST_CASE("heart rate rises towards 0.35 and 0.57 times the effort with 55 s and falls with 75 s", "[recover]") {
  const double towards = 0.35 + 0.57 * 0.8;  // at 200 of 250 W
  CHECK(beaten(0.5, 200.0) == Approx(0.5 + (towards - 0.5) / 55.0));
  CHECK(beaten(0.9, 200.0) == Approx(0.9 + (towards - 0.9) / 75.0));
  CHECK(beaten(0.9, 0.0) == Approx(0.9 + (0.35 - 0.9) / 75.0));
  CHECK(beaten(0.9, 1000.0) == Approx(0.9 + (1.0 - 0.9) / 55.0));  // never above the highest
}
