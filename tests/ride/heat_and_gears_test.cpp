/// Heat, which is off unless asked for, and ramps that the lowest gear is too high for.

#include <catch2/catch.hpp>

#include <cmath>

#include "../support/scenes.hpp"
#include "leewheel/heat.hpp"
#include "leewheel/low_gear.hpp"
#include "leewheel/motion.hpp"
#include "leewheel/units.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Scenario hot_climb(Exposure exposure = Exposure::open_slope) {
  Scenario s = scenes::scene(scenes::constant_grade(12000.0, 0.06, exposure), {scenes::plain_rider("Ada")});
  s.air.temperature_C = 32.0;
  s.air_station_altitude_m = s.road.elevation_m(6000.0);
  s.heat.on = true;
  return s;
}

double mean_power_W(const Scenario& s) { return ride_to_end(s).riders.front().mean_power_W; }

}  // namespace

TEST_CASE("heat takes what was measured in time trials", "[heat]") {
  // 40 km at 17, 22, 27 and 32 C: 329, 324, 322, 309 W (Peiffer & Abbiss 2011, IJSPP 6:208).
  CHECK(heat_loss_share(17.0, 0.0) == 0.0);
  CHECK_THAT(heat_loss_share(22.0, 0.0), WithinAbs(1.0 - 324.0 / 329.0, 0.001));
  CHECK_THAT(heat_loss_share(27.0, 0.0), WithinAbs(1.0 - 322.0 / 329.0, 0.001));
  CHECK_THAT(heat_loss_share(32.0, 0.0), WithinAbs(1.0 - 309.0 / 329.0, 0.001));
  // 39 C: 16 % fresh, 2 % after two weeks (Racinais et al. 2015, MSSE 47:601); eight rows of Junge et al. 2016, Temperature 3:539,
  // at 35 C lie between 13 and 18 %, in still or weak wind; ours is lower, as riders move.
  CHECK_THAT(heat_loss_share(39.0, 0.0), WithinAbs(0.16, 0.05));
  CHECK_THAT(heat_loss_share(39.0, 1.0), WithinAbs(0.02, 0.01));
  CHECK(heat_loss_share(70.0, 0.0) == 0.25);
}

TEST_CASE("the sun stands as high as the day and the clock say", "[heat]") {
  using namespace std::chrono;
  const double north_45_rad = rad_from_deg(45.0);
  const auto at = [&](month m, unsigned d, int hour) {
    return sun_height_sine(north_45_rad, local_days(2027y / m / day(d)) + hours(hour));
  };
  CHECK_THAT(at(June, 21, 12), WithinAbs(std::sin(rad_from_deg(90.0 - 45.0 + 23.45)), 0.001));
  CHECK_THAT(at(December, 21, 12), WithinAbs(std::sin(rad_from_deg(90.0 - 45.0 - 23.45)), 0.001));
  CHECK_THAT(at(March, 22, 12), WithinAbs(std::sin(rad_from_deg(45.0)), 0.01));
  CHECK(at(June, 21, 0) == 0.0);
  CHECK(at(June, 21, 9) < at(June, 21, 12));
}

TEST_CASE("in the heat a rider gives less, later, and less so when used to it or in the shade", "[heat]") {
  const Scenario hot = hot_climb();
  Scenario off = hot, cool = hot, used = hot, sunny = hot, wood = hot_climb(Exposure::wood);
  off.heat.on = false;
  cool.air.temperature_C = 15.0;
  used.heat.acclimatised = 1.0;
  sunny.start = wood.start = std::chrono::local_days(std::chrono::year(2027) / 7 / 1) + std::chrono::hours(11);
  const double fresh_W = mean_power_W(off);
  CHECK_THAT(mean_power_W(cool), WithinRel(fresh_W, 1e-3));
  CHECK(mean_power_W(hot) < 0.97 * fresh_W);
  CHECK(mean_power_W(hot) > 0.94 * fresh_W);  // the loss of 6 % comes on over the first quarter of an hour
  CHECK(mean_power_W(used) > 0.99 * fresh_W);
  CHECK(mean_power_W(sunny) < mean_power_W(hot) - 5.0);
  CHECK(mean_power_W(wood) > mean_power_W(sunny) + 4.0);
}

TEST_CASE("a ride without heat does not know its numbers", "[heat]") {
  Scenario plain = hot_climb(), other = plain;
  plain.heat = {};
  other.heat = {.on = false, .sun_C = 12.0, .warming_s = 60.0, .acclimatised = 0.5};
  CHECK(scenes::hash_of(ride_to_end(plain)) == scenes::hash_of(ride_to_end(other)));
}

TEST_CASE("a ramp too steep for the lowest gear is found, with the cadence of the steady speed there", "[gears]") {
  // 250 W on 18 %, by hand: 83 kg * 9.807 (0.1772 + 0.0039) = 147.4 N and 0.5 N of air, 244.0 W at the wheel, 1.65 m/s; 2.2 m a
  // turn make 45.0 a minute.
  Scenario s = scenes::scene(scenes::grades({0.05, 0.18, 0.05, 0.30, 0.0}, 300.0), {scenes::plain_rider("Ada")});
  const std::vector<LowGearRamp> ramps = low_gear_ramps(s, 0);
  REQUIRE(ramps.size() == 2);
  CHECK_THAT(ramps[0].from_m, WithinAbs(300.0, 12.0));
  CHECK_THAT(ramps[0].to_m, WithinAbs(600.0, 12.0));
  CHECK_THAT(ramps[0].cadence_rpm, WithinAbs(45.0, 0.3));
  CHECK(!ramps[0].walks());
  CHECK(ramps[1].walks());
  CHECK_THAT(ramps[1].power_W, WithinAbs(250.0, 1e-9));
  s.riders[0].lowest_development_m = 1.6;
  const std::vector<LowGearRamp> lower = low_gear_ramps(s, 0);
  REQUIRE(lower.size() == 1);
  CHECK_THAT(lower[0].from_m, WithinAbs(900.0, 12.0));
  s.riders[0].lowest_development_m = 0.9;
  CHECK(low_gear_ramps(s, 0).empty());
}
