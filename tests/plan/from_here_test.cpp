/// The rest of a ride that is under way.

#include "leewheel/from_here.hpp"

#include <catch2/catch.hpp>
#include <chrono>

#include "leewheel/ride_facts.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// 4 km, rising from the middle, with landmarks at 1, 2 and 3 km.
Scenario hill() {
  RoadProfile profile = scenes::flat_road(4000.0).profile();
  for (std::size_t k = 0; k < profile.elevation_m.size(); ++k)
    profile.elevation_m[k] = 0.05 * std::max(0.0, static_cast<double>(k) * profile.spacing_m - 2000.0);
  Scenario s = scenes::scene(scenes::with_landmarks(Road(profile), {1000.0, 2000.0, 3000.0}),
                             {scenes::plain_rider("Ada", 260.0), scenes::plain_rider("Ben", 230.0)});
  s.ride.regroup_at_m = {1000.0, 3000.0};
  s.plans = {{{0.0, 0.8}, {2500.0, 0.9}}, {}};
  s.wind.forecast = {{.time_s = 0.0, .speed_mps = 2.0}, {.time_s = 3600.0, .speed_mps = 8.0}};
  s.start = std::chrono::local_seconds(std::chrono::seconds(36000));
  return s;
}

RideNow halfway() { return {900.0, {{"Ada", 2100.0, 0.5, false}, {"Ben", 1600.0, 1.0, false}}}; }

}  // namespace

TEST_CASE("the rest of a ride has the road ahead, what is left, and the wind and clock that go on", "[from_here]") {
  const Scenario s = hill();
  const FromHere rest = from_here(s, halfway());
  CHECK(rest.cut_m == 1600.0);
  CHECK(rest.scenario.road.length_m() == Approx(2400.0));
  for (const double at_m : {0.0, 400.0, 1000.0, 2400.0})
    CHECK(rest.scenario.road.elevation_m(at_m) == s.road.elevation_m(1600.0 + at_m));
  REQUIRE(rest.scenario.road.landmarks().size() == 1);  // 2,000 m are behind Ada
  CHECK(rest.scenario.road.landmarks()[0].distance_m == Approx(1400.0));
  CHECK(rest.scenario.ride.regroup_at_m == std::vector<double>{1400.0});
  CHECK(rest.scenario.wind.forecast[1].time_s == 2700.0);
  CHECK(*rest.scenario.start - *s.start == std::chrono::seconds(900));
  REQUIRE(rest.scenario.plans[0].size() == 2);
  CHECK(rest.scenario.plans[0][0].from_m == 0.0);
  CHECK(rest.scenario.plans[0][0].effort == 0.8);
  CHECK(rest.scenario.plans[0][1].from_m == Approx(900.0));
}

TEST_CASE("riders begin where they are, with what they have left; a cracked one is weaker, a missing one is gone",
          "[from_here]") {
  RideNow now = halfway();
  now.riders[1].cracked = true;
  const FromHere rest = from_here(hill(), now);
  Ride ride(rest.scenario);
  RideSample sample;
  ride.sample(sample);
  CHECK(sample.distance_m[0] == Approx(500.0).margin(4.0));  // within a place in the start line
  CHECK(sample.distance_m[1] == Approx(0.0).margin(4.0));
  CHECK(sample.wbal_J[0] == Approx(0.5 * rest.scenario.riders[0].w_prime_J));
  CHECK(sample.wbal_J[1] == Approx(rest.scenario.riders[1].w_prime_J));
  CHECK(rest.scenario.riders[1].critical_power_W == Approx(cracked_share * 230.0));
  now.riders.pop_back();
  CHECK(from_here(hill(), now).scenario.riders.size() == 1);
}

TEST_CASE("W' left at the beginning is less under every law of recovery, and comes back", "[from_here]") {
  for (const RecoveryLaw law : {RecoveryLaw::differential, RecoveryLaw::integral}) {
    Scenario s = from_here(hill(), {0.0, {{"Ada", 0.0, 0.25, false}}}).scenario;
    s.ride.regroup_at_m.clear();
    s.plans = {{{0.0, 0.5}}};
    s.ride.recovery_law = law;
    const RiderResult rider = ride_to_end(s).riders[0];
    const double w_prime_J = s.riders[0].w_prime_J;
    CHECK(rider.wbal_least_J == Approx(0.25 * w_prime_J).epsilon(0.01));
    for (const double end_J : rider.wbal_end_by_law_J) {
      CHECK(end_J > 0.3 * w_prime_J);
      CHECK(end_J < w_prime_J);
    }
  }
}

TEST_CASE("a ride planned again from the start is the same ride", "[from_here]") {
  const Scenario s = hill();
  const Scenario again = from_here(s, {0.0, {{"Ada", 0.0, 1.0, false}, {"Ben", 0.0, 1.0, false}}}).scenario;
  CHECK(ride_to_end(again).time_s == ride_to_end(s).time_s);
}

TEST_CASE("a plan for the rest is told with places on the whole road, its first stretch from the first rider on",
          "[from_here]") {
  const Scenario s = hill();
  const FromHere rest = from_here(s, halfway());
  CHECK(rest.first_m == 2100.0);
  Lineup lineup{};
  PlanResult plan{};
  plan.plan.regroup_at_m = {1400.0};
  plan.waits = {{1400.0, "", 0, 1, 60.0}};
  for (const RoadStretch& where : stretches_of(rest.scenario.road)) {
    LineupStretch stretch{};
    stretch.where = where;
    plan.stretches.push_back(stretch);
  }
  lineup.table = {plan}, lineup.clubs = plan;
  const PlanResult told = on_whole_road(lineup, rest, s.road).best();
  CHECK(told.plan.regroup_at_m == std::vector<double>{3000.0});
  CHECK(told.waits[0].at_m == 3000.0);
  REQUIRE(told.stretches.size() == 2);
  CHECK(told.stretches[0].where.from == "here");
  CHECK(told.stretches[0].where.from_m == 2100.0);
  CHECK(told.stretches[0].where.to_m == Approx(3000.0));
  CHECK(told.stretches[0].grade == Approx(0.05));  // from the last rider on it would be 0.036
  CHECK(told.stretches[1].where.to_m == Approx(4000.0));
  Scenario planned = rest.scenario;
  planned.plans[0] = {{0.0, 0.8}, {900.0, 0.9}};
  const Scenario whole = on_whole_road(planned, rest, s.road);
  CHECK(whole.plans[0][1].from_m == 2500.0);
  CHECK(whole.ride.regroup_at_m == std::vector<double>{3000.0});
  CHECK(whole.road.length_m() == s.road.length_m());
}
