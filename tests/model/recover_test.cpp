/// What a second of riding does to W', fatigue and heart rate.

#include "model/recover.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

namespace {

/// A second at that power.
void ride_second(OnRoad& field, double power_W, bool compare_laws = false) {
  field.riders.ledgers.pedal_J[0] += power_W;
  field.riders.power_W[0] = power_W;
  recover(field.riders, field.riders, field.scenario.ride, field.order, 1.0, compare_laws);
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
  field.scenario.ride.recovery_law = RecoveryLaw::integral;
  field.riders.wbal_J[0] = 10000.0;
  ride_second(field, 150.0);
  CHECK(field.riders.wbal_J[0] == Approx(20000.0 - 10000.0 * std::exp(-1.0 / (546.0 * std::exp(-1.0) + 316.0))));
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

TEST_CASE("the laws of recovery are compared over ten seconds of mean power, and only then", "[recover]") {
  OnRoad field(1);
  field.riders.wbal_by_law_J[0].fill(10000.0);
  field.riders.pedal_before_J[0] = field.riders.pedal_by_law_J[0] = 0.0;
  for (int second = 1; second < 10; ++second) ride_second(field, 150.0);
  CHECK(field.riders.wbal_by_law_J[0][0] == 10000.0);
  ride_second(field, 150.0, true);
  CHECK(field.riders.wbal_by_law_J[0][0] == Approx(20000.0 - 10000.0 * std::exp(-10.0 / 200.0)));
  CHECK(field.riders.wbal_by_law_J[0][1] == Approx(20000.0 - 10000.0 * std::exp(-10.0 / (546.0 * std::exp(-1.0) + 316.0))));
  CHECK(field.riders.pedal_by_law_J[0] == 1500.0);
}

TEST_CASE("heart rate rises towards 0.35 and 0.57 times the effort with 55 s and falls with 75 s", "[recover]") {
  const double towards = 0.35 + 0.57 * 0.8;  // at 200 of 250 W
  CHECK(beaten(0.5, 200.0) == Approx(0.5 + (towards - 0.5) / 55.0));
  CHECK(beaten(0.9, 200.0) == Approx(0.9 + (towards - 0.9) / 75.0));
  CHECK(beaten(0.9, 0.0) == Approx(0.9 + (0.35 - 0.9) / 75.0));
  CHECK(beaten(0.9, 1000.0) == Approx(0.9 + (1.0 - 0.9) / 55.0));  // never above the highest
}
