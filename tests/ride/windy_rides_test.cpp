/// Whole rides in wind: gusts, stations, drag by yaw, cautions.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <set>

#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "support/scenes.hpp"

using namespace leewheel;
using Catch::Matchers::WithinRel;

namespace {

WindSettings steady(double speed_mps, double from_deg) {
  WindSettings settings;
  settings.forecast = {{0.0, speed_mps, rad_from_deg(from_deg)}};
  return settings;
}

WindSettings two_stations(double from_a_deg, double from_b_deg) {
  WindSettings settings;
  settings.stations = {{"a", 0.0, 0.0, {{0.0, 6.0, rad_from_deg(from_a_deg)}}},
                       {"b", 0.0, 10000.0, {{0.0, 6.0, rad_from_deg(from_b_deg)}}}};
  settings.forecast = settings.stations[0].forecast;
  return settings;
}

WindSettings gusty(double speed_mps, double from_deg) {
  WindSettings settings = steady(speed_mps, from_deg);
  settings.gusts = Gusts::on;
  return settings;
}

Scenario windy_ride(std::size_t riders, const WindSettings& wind) {
  Scenario s = scenes::scene(scenes::constant_grade(3000.0, 0.02), scenes::club(riders));
  s.wind = wind;
  return s;
}

}  // namespace

TEST_CASE("two who ride side by side meet gusts of their own, and one wind without gusts", "[ride]") {
  const bool gusts = GENERATE(true, false);
  Scenario s = scenes::scene(scenes::flat_road(1000.0), scenes::club(2));
  if (gusts)
    s.wind = gusty(6.0, 0.0);
  else
    scenes::set_wind(s, 6.0, 0.0);
  s.ride.start_abreast = 2;
  Ride ride(s);
  ride.step();
  RideSample now;
  ride.sample(now);
  REQUIRE(std::abs(now.distance_m[0] - now.distance_m[1]) < 0.2);
  REQUIRE(std::abs(now.lateral_m[0] - now.lateral_m[1]) > 0.5);
  CHECK((now.wind_along_mps[0] != now.wind_along_mps[1]) == gusts);
}

TEST_CASE("a ride towards a warmer station meets thinner air there", "[ride]") {
  // 10 and 30 degrees: 283.15/303.15. Against the same two stations both at the first's temperature.
  const auto finish_s = [](double second_C) {
    Scenario s = scenes::scene(scenes::flat_road(10000.0), scenes::club(1));
    s.wind = two_stations(0.0, 0.0);
    s.wind.stations[0].forecast[0].temperature_C = 10.0;
    s.wind.stations[1].forecast[0].temperature_C = second_C;
    return ride_to_end(s).riders[0].finish_time_s;
  };
  const double even = finish_s(10.0), warm_there = finish_s(30.0);
  CHECK(warm_there < even - 5.0);
  CHECK(finish_s(-10.0) > even + 5.0);
}

TEST_CASE("drag by yaw changes nothing in a wind from straight ahead and costs time in a crosswind", "[ride]") {
  const auto finish_s = [](double from_deg, bool yaw_drag) {
    WindSettings wind = steady(7.0, from_deg);
    wind.yaw_drag = yaw_drag;
    return ride_to_end(windy_ride(1, wind)).riders[0].finish_time_s;
  };
  // The heading's rounding leaves a yaw of 1e-16.
  CHECK_THAT(finish_s(0.0, true), WithinRel(finish_s(0.0, false), 1e-12));
  CHECK(finish_s(90.0, true) > finish_s(90.0, false) + 0.5);
}

TEST_CASE("a ride in gusts is the same however often it is ridden and differs with the seed", "[ride]") {
  Scenario scenario = windy_ride(5, gusty(8.0, 220.0));
  const std::uint64_t first = scenes::hash_of(ride_to_end(scenario));
  CHECK(scenes::hash_of(ride_to_end(scenario)) == first);
  scenario.ride.seed = 99;
  CHECK(scenes::hash_of(ride_to_end(scenario)) != first);
}

TEST_CASE("the order of riders in the file does not matter in gusts", "[ride]") {
  Scenario scenario = windy_ride(6, gusty(8.0, 220.0));
  const RideResult plain = ride_to_end(scenario);
  std::reverse(scenario.riders.begin(), scenario.riders.end());
  const RideResult turned = ride_to_end(scenario);
  for (std::size_t k = 0; k < 6; ++k) CHECK(plain.riders[k].finish_time_s == turned.riders[5 - k].finish_time_s);
}

TEST_CASE("the books close in gusty wind with hills, belts and stations", "[ride]") {
  Scenario scenario = scenes::scene(scenes::smooth_hills(4000.0), scenes::club(8));
  scenario.wind = two_stations(200.0, 240.0);
  scenario.wind.gusts = Gusts::on;
  scenario.wind.hills_from_road = true;
  scenario.wind.yaw_drag = true;
  scenario.wind.windbreaks = {
      {.from_m = 500.0, .to_m = 1500.0, .kind = ShelterKind::wall, .height_m = 2.0, .distance_m = 5.0}};
  scenario.wind.forecast[0].temperature_C = 25.0;
  for (const RiderResult& rider : ride_to_end(scenario).riders) {
    CHECK(rider.finished);
    CHECK(rider.ledger.error() < 1e-9);
  }
}

TEST_CASE("what is recorded of the wind holds the gust, and without gusts it is the mean", "[ride]") {
  const auto different = [](const WindSettings& wind) {
    Ride ride(windy_ride(1, wind));
    RideSample sample;
    std::set<float> seen;
    for (int k = 0; k < 600; ++k) {
      ride.step();
      ride.sample(sample);
      seen.insert(sample.wind_cross_mps[0]);
    }
    return seen.size();
  };
  CHECK(different(gusty(8.0, 270.0)) == 120);  // one each wake interval, of 600 steps
  CHECK(different(steady(8.0, 270.0)) == 1);
}

TEST_CASE("a hard gust from the side is told as a caution with its force, and not again within two minutes", "[ride]") {
  WindSettings wind = gusty(13.0, 270.0);
  wind.forecast[0].gust_mps = 21.0;
  const RideResult result = ride_to_end(windy_ride(1, wind));
  double last_s = -1000.0;
  std::size_t cautions = 0;
  for (const Event& event : result.events)
    if (event.kind == EventKind::caution && event.because.reason == Reason::gust_across) {
      ++cautions;
      CHECK(event.time_s - last_s >= 120.0);
      CHECK(event.because.values[0] >= 35.0);
      last_s = event.time_s;
    }
  CHECK(cautions == 5);  // in ten minutes
  CHECK(result.riders[0].largest_side_force_N >= 35.0);
}

TEST_CASE("in a calm gusts are calm too", "[ride]") {
  Scenario calm = windy_ride(2, steady(0.0, 0.0)), still = calm;
  still.wind.gusts = Gusts::on;
  CHECK(ride_to_end(calm).riders[0].finish_time_s == ride_to_end(still).riders[0].finish_time_s);
}
