#include "leewheel/what_ifs.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "leewheel/further_rider.hpp"
#include "leewheel/ride.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario three_into_the_wind() {
  Scenario scenario = scenes::scene(scenes::constant_grade(1500.0, 0.01), scenes::club(3));
  scenes::set_wind(scenario, 5.0, 0.0);  // the road goes north
  scenario.ride.kind = RideKind::together;
  return scenario;
}

const RecordedRide& ride(const WhatIfs& all, std::size_t wind, CompanyCase company) {
  return all.rides[wind][static_cast<std::size_t>(company)];
}

}  // namespace

TEST_CASE("a ride recorded for the page is the ride that is ridden", "[what_ifs]") {
  const Scenario scenario = three_into_the_wind();
  const WhatIfs all = ride_what_ifs(scenario, 1'000'000);
  const RideResult result = ride_to_end(scenario);
  CHECK(all.interval_s == 1.0);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(all.as_planned().finish_s[i] == result.riders[i].finish_time_s);
    CHECK(all.as_planned().saved_J[i] == result.riders[i].ledger.saved_J);
    CHECK(ride(all, 1, CompanyCase::alone).finish_s[i] == ride_to_end(alone(scenario, i)).riders[0].finish_time_s);
    CHECK(ride(all, 1, CompanyCase::alone).saved_J[i] == Approx(0.0).margin(1e-6));
    CHECK(ride(all, 0, CompanyCase::alone).finish_s[i] < ride(all, 1, CompanyCase::alone).finish_s[i]);
    CHECK(ride(all, 1, CompanyCase::alone).finish_s[i] < ride(all, 2, CompanyCase::alone).finish_s[i]);
  }
  CHECK(all.opposite_order == std::vector<std::uint32_t>(all.planned_order.rbegin(), all.planned_order.rend()));
  const RideSample& start = ride(all, 1, CompanyCase::opposite_order).samples.front();
  CHECK(start.distance_m[all.opposite_order[0]] > start.distance_m[all.opposite_order[2]]);
}

TEST_CASE("what a place is worth rests on the same watts as what riders save", "[what_ifs]") {
  const Scenario scenario = three_into_the_wind();
  const WhatIfs all = ride_what_ifs(scenario, 1'000'000);
  const RecordedRide& recorded = all.as_planned();
  const std::size_t k = recorded.samples.size() / 2;
  const RideSample& s = recorded.samples[k];
  const std::uint32_t last = all.planned_order[2];
  REQUIRE(s.drag_factor[last] < 0.8);
  const BunchRider rider =
      in_bunch({s.distance_m[last], s.lateral_m[last], s.speed_mps[last], s.wind_along_mps[last], s.wind_cross_mps[last],
                s.drag_area_m2[last], s.drag_factor[last], s.air_W[last], s.alone_power_W[last]},
               scenario.riders[last], wake_base(scenario.wake), 0.2);
  const double saved_W = s.alone_power_W[last] - s.power_W[last];
  CHECK((1.0 - s.drag_factor[last]) * rider.open_air_W == Approx(saved_W).epsilon(0.01));
  CHECK(recorded.worth[k][last].saved_W > 0.9 * saved_W);  // close behind the last is no worse a place than the last's
  CHECK(recorded.worth[k][last].saved_W < rider.open_air_W);
}

TEST_CASE("samples lie further apart where there would be too many", "[what_ifs]") {
  const Scenario scenario = three_into_the_wind();
  const WhatIfs all = ride_what_ifs(scenario, 3000);
  CHECK(all.interval_s > 1.0);
  std::size_t values = 0;
  for (const auto& winds : all.rides)
    for (const RecordedRide& one : winds) values += 3 * one.samples.size();
  CHECK(values < 3000);
  const RecordedRide& planned = all.as_planned();
  CHECK(planned.samples[1].time_s - planned.samples[0].time_s == Approx(all.interval_s));
  CHECK(planned.samples.back().time_s == Approx(ride_to_end(scenario).time_s));
}

TEST_CASE("no wind has no gusts, and half more has half more of both", "[what_ifs]") {
  Scenario scenario = three_into_the_wind();
  scenario.wind.forecast[0].gust_mps = 8.0;
  CHECK_FALSE(in_wind(scenario, 0.0).wind.gusty());
  CHECK(in_wind(scenario, 1.5).wind.forecast[0].speed_mps == Approx(7.5));
  CHECK(*in_wind(scenario, 1.5).wind.forecast[0].gust_mps == Approx(12.0));
}
