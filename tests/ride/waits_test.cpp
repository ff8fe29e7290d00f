/// Arriving, waiting and going on; stretches and turns of a ride.

#include <catch2/catch.hpp>

#include <algorithm>

#include "leewheel/ride_facts.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// A climb to a landmark in the middle, where the first waits for the second.
Scenario two_on_a_climb(double second_W) {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::grades({0.06, 0.0}, 800.0), {800.0}),
                             {scenes::plain_rider("Una", 330.0), scenes::plain_rider("Vera", second_W)});
  s.ride.regroup_at_m = {800.0};
  return s;
}

std::vector<const Event*> told(const RideResult& result, EventKind kind) {
  std::vector<const Event*> found;
  for (const Event& event : result.events)
    if (event.kind == kind) found.push_back(&event);
  return found;
}

}  // namespace

TEST_CASE("at a regroup point a rider arrives by stopping and goes on with the others", "[waits]") {
  const RideResult result = ride_to_end(two_on_a_climb(190.0));
  const RiderResult &una = result.riders[0], &vera = result.riders[1];
  const std::vector<const Event*> waits = told(result, EventKind::waits), on = told(result, EventKind::regrouped);
  REQUIRE(waits.size() == 1);
  REQUIRE(on.size() == 1);
  CHECK(una.landmarks[0].time_s == waits[0]->time_s);
  CHECK(una.landmarks[0].go_on_s() == on[0]->time_s);
  CHECK(una.landmarks[0].waited_s == una.waited_s);
  CHECK(una.waited_s > 60.0);
  CHECK(una.landmarks[0].regained_J >= 0.0);
  CHECK(vera.landmarks[0].time_s == on[0]->time_s);  // behind the landmark, in file behind Una
  CHECK(vera.landmarks[0].waited_s == 0.0);
  CHECK(una.landmarks[1].waited_s == 0.0);
  REQUIRE(una.waits.size() == 1);
  CHECK(una.waits[0].go_on_s - una.waits[0].arrive_s == una.waited_s);
}

TEST_CASE("waits change no time of the front wheel at a timing point", "[waits]") {
  const RideResult result = [] {
    Ride ride(two_on_a_climb(190.0), {.timing_points_m = {800.0}});
    while (ride.end() == RideEnd::riding) ride.step();
    return ride.result();
  }();
  CHECK(result.riders[1].timing[0].time_s > result.riders[1].landmarks[0].time_s);
  CHECK(result.riders[0].timing[0].waited_s == 0.0);
}

TEST_CASE("riding and waiting add up to the way from door to door, stretch by stretch", "[waits]") {
  Scenario s = two_on_a_climb(190.0);
  s.ride.stops = {{1200.0, 120.0, "water"}};  // beside no landmark
  const RideResult result = ride_to_end(s);
  const RideFacts facts = facts_of(s, result);
  for (std::size_t i = 0; i < 2; ++i) {
    double riding_s = 0.0, waited_s = 0.0;
    for (const StretchRidden& r : facts.riders[i].stretches) riding_s += r.riding_s, waited_s += r.waited_s;
    CHECK(riding_s == Approx(result.riders[i].riding_s()).epsilon(1e-12));
    CHECK(waited_s == Approx(result.riders[i].waited_s).epsilon(1e-12));
    CHECK(facts.riders[i].stretches[1].waited_s >= 120.0);
    CHECK(facts.riders[i].stretches[1].go_on_s == facts.riders[i].stretches[1].arrive_s);
  }
}

TEST_CASE("at a stop all stand, and go on together when the last has had it", "[waits]") {
  Scenario s = two_on_a_climb(190.0);
  s.ride.regroup_at_m.clear();
  s.ride.stops = {{800.0, 120.0, "water"}};
  const RideResult result = ride_to_end(s);
  CHECK(result.riders[1].landmarks[0].waited_s == 120.0);
  CHECK(result.riders[0].landmarks[0].go_on_s() == result.riders[1].landmarks[0].go_on_s());
  const std::vector<const Event*> on = told(result, EventKind::regrouped);
  REQUIRE(on.size() == 1);
  CHECK(on[0]->because.reason == Reason::stop_over);
  CHECK(on[0]->because.values[0] == 120.0);
  CHECK(on[0]->because.values[1] == result.riders[0].waited_s);
}

TEST_CASE("a wait that is given up is told with who left and who came later", "[waits]") {
  Scenario s = two_on_a_climb(150.0);
  s.riders.push_back(scenes::plain_rider("Wim", 330.0));
  s.tactics.regroup_wait_s = 60.0;
  const RideResult result = ride_to_end(s);
  const std::vector<const Event*> leaves = told(result, EventKind::leaves);
  REQUIRE(leaves.size() == 1);
  CHECK(leaves[0]->riders.size() == 2);
  CHECK(leaves[0]->because.reason == Reason::waited_enough);
  const std::vector<WaitOfRide> waits = waits_of(s, result);
  REQUIRE(waits.size() == 1);
  CHECK(waits[0].name == s.road.landmarks()[0].name);
  REQUIRE(waits[0].given_up.size() == 1);
  CHECK(waits[0].given_up[0].left == leaves[0]->riders);
  REQUIRE(waits[0].given_up[0].late.size() == 1);
  CHECK(waits[0].given_up[0].late[0].rider == 1);
  CHECK(waits[0].given_up[0].late[0].later_s == result.riders[1].landmarks[0].time_s - leaves[0]->time_s);
}

TEST_CASE("a rider alone stops at a stop and at no regroup point", "[waits]") {
  Scenario s = two_on_a_climb(190.0);
  s.riders.pop_back();
  CHECK(ride_to_end(s).riders[0].waited_s == 0.0);
  s.ride.stops = {{1200.0, 120.0, ""}};
  CHECK(ride_to_end(s).riders[0].waited_s == 120.0);
  CHECK(ride_to_end(alone(s, 0)).riders[0].waited_s == 0.0);
}

TEST_CASE("waiting places are the stops, and the regroup points that are beside none", "[waits]") {
  RideSettings ride;
  ride.regroup_at_m = {500.0, 1000.0, 3000.0};
  ride.stops = {{1040.0, 60.0, "water"}, {2000.0, 600.0, "cake"}};
  std::vector<double> at_m;
  for (const PlannedStop& place : waiting_places(ride)) at_m.push_back(place.at_m);
  CHECK(at_m == std::vector<double>{500.0, 1040.0, 2000.0, 3000.0});
}

TEST_CASE("a waiting place beside no landmark gets one", "[waits]") {
  Scenario s = two_on_a_climb(190.0);
  s.ride.regroup_at_m = {760.0, 1200.0};
  const std::vector<Landmark> marks = with_named_waits(s).road.landmarks();
  REQUIRE(marks.size() == 2);
  CHECK(marks[1].name == "km 1.2");
}

// ---- stretches and turns

TEST_CASE("who leads another all the way takes one turn", "[facts]") {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::flat_road(2000.0), {800.0}),
                             {scenes::plain_rider("Una"), scenes::plain_rider("Vera")});
  s.ride.formation = Formation::one_in_front;
  s.ride.start_order = {"Una", "Vera"};
  const RideResult result = ride_to_end(s);
  const RideFacts facts = facts_of(s, result);
  CHECK(facts.riders[0].turns == 1);
  CHECK(facts.riders[1].turns == 0);
  CHECK(facts.riders[0].front_s > 0.95 * result.riders[0].finish_time_s);
}

// ---- the same of results made up here

namespace {

Passage at(const std::string& name, double distance_m, double time_s, double front_s, double follow_s, std::size_t turns,
           bool leads_on) {
  Passage p{name, distance_m, time_s, 200.0, 1e4, 200.0 * time_s, 0.0, 200.0 * time_s, 0.0};
  p.front_s = front_s, p.follow_s = follow_s, p.turns = turns, p.leads_on = leads_on;
  return p;
}

}  // namespace

TEST_CASE("nobody is in front where a stretch is not ridden in a line, and a turn led on from there counts", "[facts]") {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::flat_road(2000.0), {1000.0}),
                             {scenes::plain_rider("Una"), scenes::plain_rider("Vera")});
  s.ride.kind = RideKind::together;
  RideResult result;
  result.riders.resize(2);
  const std::string mark = s.road.landmarks()[0].name;
  result.riders[0].landmarks = {at(mark, 1000.0, 200.0, 40.0, 0.0, 1, true),
                                at("finish", 2000.0, 400.0, 230.0, 0.0, 2, false)};
  result.riders[1].landmarks = {at(mark, 1000.0, 200.0, 0.0, 40.0, 0, false),
                                at("finish", 2000.0, 400.0, 0.0, 230.0, 0, false)};
  const RideFacts facts = facts_of(s, result);
  CHECK_FALSE(facts.stretches[0].in_a_line());  // 80 of 400 s
  CHECK(facts.stretches[1].in_a_line());
  const std::vector<StretchRidden>& una = facts.riders[0].stretches;
  CHECK(una[0].front_s == 0.0);
  CHECK(una[0].turns == 0);
  CHECK(una[1].front_s == 190.0);
  CHECK(una[1].turns == 2);
  CHECK(facts.riders[0].front_s == 190.0);
  CHECK(facts.riders[0].turns == 2);
  s.ride.kind = RideKind::steady;  // where this line saves nothing, so that everyone climbs freely
  CHECK_FALSE(facts_of(s, result).stretches[1].in_a_line());
  CHECK(facts_of(s, result).riders[0].front_s == 0.0);
}
