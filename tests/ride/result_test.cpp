/// What a ride records and what its result says.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario two_on_a_flat_road() {
  Scenario s = scenes::scene(scenes::flat_road(2000.0), {scenes::plain_rider("a"), scenes::plain_rider("b", 200.0)});
  s.ride.formation = Formation::one_in_front;
  s.ride.start_order = {"a", "b"};
  return s;
}

}  // namespace

TEST_CASE("the sheltered share is the time with a drag factor below 0.95 over the rider's time", "[result]") {
  Scenario s = two_on_a_flat_road();
  s.riders[1].critical_power_W = 150.0;  // comes off, and finishes a good while after the other
  s.ride.kind = RideKind::race;
  Ride ride(s);
  RideSample now;
  std::vector<double> sheltered_s(2, 0.0);
  while (ride.end() == RideEnd::riding) {
    ride.step();
    ride.sample(now);
    for (std::size_t i = 0; i < 2; ++i) sheltered_s[i] += now.drag_factor[i] < 0.95f ? ride.step_s() : 0.0;
  }
  const RideResult result = ride.result();
  REQUIRE(result.riders[1].finish_time_s > result.riders[0].finish_time_s + 10.0);
  for (std::size_t i = 0; i < 2; ++i) {
    const double share = sheltered_s[i] / result.riders[i].finish_time_s;
    CHECK(result.riders[i].sheltered_share == Approx(share).margin(2.0 * ride.step_s() / result.riders[i].finish_time_s));
  }
  CHECK(result.riders[0].sheltered_share < 0.01);
  CHECK(result.riders[1].sheltered_share > 0.01);
}

TEST_CASE("mean power is the work over the riding time", "[result]") {
  Scenario s = two_on_a_flat_road();
  for (const bool waits : {false, true}) {
    if (waits) s.ride.stops = {{1000.0, 90.0, "water"}};
    const RideResult result = ride_to_end(s);
    for (const RiderResult& r : result.riders) {
      CHECK(r.mean_power_W == Approx(r.ledger.pedal_J / (r.finish_time_s - r.waited_s)).epsilon(1e-12));
      CHECK(r.waited_s >= (waits ? 90.0 : 0.0));
      CHECK(r.waited_s <= (waits ? 100.0 : 0.0));
    }
  }
}

TEST_CASE("time with others is that in a group, and a rider alone has none", "[result]") {
  Ride ride(two_on_a_flat_road());
  RideSample now;
  double with_others_s = 0.0;
  while (ride.end() == RideEnd::riding) {
    ride.step();
    ride.sample(now);
    if (ride.tick() % 10 == 0) with_others_s += now.group_id[1] >= 0.0f;
  }
  CHECK(ride.result().riders[1].in_group_s == Approx(with_others_s).margin(1.0));
  CHECK(with_others_s == 200.0);
  const RideResult alone = ride_to_end(scenes::scene(scenes::flat_road(500.0), {scenes::plain_rider("a")}));
  CHECK(alone.riders[0].in_group_s == 0.0);
}

TEST_CASE("a group's span keeps its largest size and everyone who was ever in it", "[result]") {
  // On a climb three come apart one after another.
  std::vector<RiderSettings> riders;
  for (const double cp_W : {300.0, 230.0, 170.0})
    riders.push_back(scenes::plain_rider(std::string(1, static_cast<char>('a' + riders.size())), cp_W));
  const RideResult result = ride_to_end(scenes::scene(scenes::grades({0.0, 0.08}, 1000.0), riders));
  REQUIRE(result.groups.size() == 1);
  CHECK(result.groups[0].largest == 3);
  CHECK(result.groups[0].riders == std::vector<std::uint32_t>{0, 1, 2});
  CHECK(result.groups[0].to_s < result.time_s - 60.0);
}

TEST_CASE("a passage is timed within the step, where the rider was", "[result]") {
  Scenario s = scenes::scene(scenes::flat_road(1000.0), {scenes::plain_rider("a")});
  s.ride.start_speed_mps = 10.0;
  s.ride.step_s = 1.0;
  const std::vector<double> marks_m{301.0, 303.0, 305.0, 307.0, 309.0};
  const std::vector<Passage> timed = ride_to_end(s, {.timing_points_m = marks_m}).riders[0].timing;
  REQUIRE(timed.size() == 5);
  for (std::size_t k = 1; k < timed.size(); ++k) CHECK(timed[k].time_s - timed[k - 1].time_s == Approx(0.2).margin(0.02));
}

TEST_CASE("work, books and W' end at the line, not with the step or the second", "[result]") {
  // 350 W of 250 all the way: 350 J a second of work and 100 J a second of W', as long as the ride takes.
  Scenario s = scenes::scene(scenes::grades({0.0, 0.02}, 250.0), {scenes::plain_rider("a")});
  s.riders[0].target_effort = 1.4;
  s.ride.start_speed_mps = 8.0;
  s.ride.step_s = GENERATE(0.1, 0.3, 1.0);
  const RiderResult r = ride_to_end(s, {.timing_points_m = {333.0}}).riders[0];
  CHECK(r.ledger.pedal_J == Approx(350.0 * r.finish_time_s).epsilon(1e-9));
  CHECK(r.mean_power_W == Approx(350.0).epsilon(1e-9));
  CHECK(r.ledger.error() < 1e-9);
  CHECK(r.wbal_end_J == Approx(20000.0 - 100.0 * r.finish_time_s).epsilon(1e-9));
  CHECK(r.wbal_least_J == r.wbal_end_J);
  CHECK(r.wbal_end_by_law_J[0] == r.wbal_end_J);
  CHECK(r.landmarks.back().wbal_J == Approx(r.wbal_end_J).epsilon(1e-9));
  CHECK(r.landmarks.back().pedal_J == Approx(r.ledger.pedal_J).epsilon(1e-9));
  CHECK(r.timing[0].pedal_J == Approx(350.0 * r.timing[0].time_s).epsilon(1e-9));
  CHECK(r.timing[0].wbal_J == Approx(20000.0 - 100.0 * r.timing[0].time_s).epsilon(1e-9));
}

TEST_CASE("in the step in which a rider finishes nobody holds that rider's wheel any more", "[result]") {
  Ride ride(two_on_a_flat_road());
  RideSample now;
  do {
    ride.step();
    ride.sample(now);
  } while (now.role[0] != static_cast<float>(Role::finished));
  REQUIRE(now.role[1] != static_cast<float>(Role::finished));
  CHECK(now.wheel_of[1] == -1.0f);
}

TEST_CASE("riders who wait at a regroup point do not end the ride, riders who cannot go on do after two minutes",
          "[result]") {
  Scenario s = two_on_a_flat_road();
  s.ride.start_speed_mps = 0.0;
  s.plans = {{}, {PlanStep{0.0, 0.0}}};  // rider b never sets off
  s.tactics.chase_reach_m = 0.0;
  s.tactics.take_below = 0.3;
  s.ride.regroup_at_m = {500.0};
  s.tactics.regroup_wait_s = 600.0;
  Ride ride(s);
  while (ride.end() == RideEnd::riding && ride.time_s() < 500.0) ride.step();
  CHECK(ride.end() == RideEnd::riding);
  CHECK(ride.result().riders[0].waited_s > 300.0);
  s.ride.regroup_at_m.clear();
  const RideResult result = ride_to_end(s);
  CHECK(result.end == RideEnd::rider_stalled);
  CHECK(result.time_s == Approx(result.riders[0].finish_time_s + 120.0).margin(1.5));
}
