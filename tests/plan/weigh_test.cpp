#include "leewheel/weigh.hpp"

#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

const auto to_the_end = [](std::size_t) { return true; };

std::vector<RiderSettings> equals(std::size_t count, double critical_power_W) {
  std::vector<RiderSettings> riders;
  for (std::size_t k = 0; k < count; ++k) {
    riders.push_back(scenes::plain_rider(std::string("rider ") + static_cast<char>('a' + k), critical_power_W));
    riders.back().target_effort = 0.9;
  }
  return riders;
}

/// Northwards into a northerly.
Scenario headwind_levels() {
  Scenario s = scenes::scene(scenes::flat_road(4000.0), equals(5, 250.0));
  scenes::set_wind(s, 6.0, 0.0);
  return s;
}
Scenario steep_wood() {
  Scenario s = scenes::scene(scenes::constant_grade(2500.0, 0.09, Exposure::wood), equals(5, 250.0));
  scenes::set_wind(s, 6.0, 0.0);
  return s;
}
/// The first rider goes off ahead of the group, then rides as before.
Scenario off_the_front(Scenario s) {
  s.ride.start_order = {s.riders[0].name};
  s.plans.assign(s.riders.size(), {});
  s.plans[0] = {{0.0, 1.3}, {500.0, 0.9}};
  s.instructions = {{0, 0.0, 500.0, Choice::alone}};
  return s;
}

WeighSettings settings_for(std::size_t rider, double from_m, double to_m, std::size_t runs = 8) {
  WeighSettings settings;
  settings.riders = {rider};
  settings.from_m = from_m;
  settings.to_m = to_m;
  settings.runs = runs;
  return settings;
}
const WayWeighed& way(const Weighing& w, Choice choice) { return w.ways[way_of(choice)]; }
Weighing weighed(const Scenario& scenario, const WeighSettings& settings) {
  return weigh(scenario, settings, to_the_end).front();
}

bool same(const Weighing& a, const Weighing& b) {
  return a.best == b.best && a.company == b.company && a.verdict == b.verdict &&
         std::equal(
             a.ways.begin(), a.ways.end(), b.ways.begin(), b.ways.end(), [](const WayWeighed& p, const WayWeighed& q) {
               return p.gain_s.low == q.gain_s.low && p.gain_s.mean == q.gain_s.mean && p.gain_s.high == q.gain_s.high &&
                      p.time_s.mean == q.time_s.mean && p.power_W.mean == q.power_W.mean;
             });
}

}  // namespace

// The trade's own rule, common practice, no source: sit in where the wind is in the face, let the wheel go where it is steep.
TEST_CASE("sitting in pays on levels into the wind", "[weigh]") {
  const Weighing w = weighed(headwind_levels(), settings_for(2, 500.0, 4000.0));
  REQUIRE(w.verdict == Verdict::pays);
  // Sitting in gains 4 s more than taking turns, which nobody feels; then the turns are said, since not all can sit in.
  CHECK(w.best == way_of(Choice::takes_turns));
  CHECK(way(w, Choice::sits_in).gain_s.mean > way(w, Choice::takes_turns).gain_s.mean);
  CHECK(way(w, Choice::sits_in).gain_s.low > 0.0);
  CHECK(way(w, Choice::sits_in).saved_W.low > 0.0);
  CHECK(w.reason.air_share > 0.8);
}

TEST_CASE("the reason is that of the stretch, not of the road before it", "[weigh]") {
  Scenario s = scenes::scene(scenes::grades({0.0, 0.08}, 1500.0), equals(3, 250.0));
  scenes::set_wind(s, 3.0, 0.0);
  const Weighing w = weighed(s, settings_for(1, 1600.0, 2900.0, 1));
  CHECK(w.reason.speed_mps == Approx(1300.0 / way(w, Choice::alone).time_s.mean).epsilon(0.02));  // seconds, not metres
  CHECK(w.reason.power_W == Approx(way(w, Choice::alone).power_W.mean).epsilon(0.02));
  CHECK(w.reason.grade == Approx(std::sin(std::atan(0.08))).epsilon(1e-3));
}

TEST_CASE("in a steep wood equals part by their legs of the day, and no wheel of the plan is within reach", "[weigh]") {
  const Weighing w = weighed(steep_wood(), settings_for(2, 500.0, 2500.0));
  CHECK(w.verdict == Verdict::nobody_there);
  CHECK(w.reason.air_share < 0.05);
  Scenario same_legs = steep_wood();
  same_legs.uncertainty.critical_power_share = same_legs.uncertainty.drag_area_share = 0.0;
  same_legs.uncertainty.rolling_share = same_legs.uncertainty.mass_kg = 0.0;
  const Weighing together = weighed(same_legs, settings_for(2, 500.0, 2500.0));
  const WayWeighed& behind = way(together, Choice::sits_in);
  CHECK(behind.behind_share > 0.9);                        // there is a wheel, and
  CHECK(behind.gain_s.mean < 0.015 * behind.time_s.mean);  // it is worth about a hundredth
}

TEST_CASE("a rider off the front in the wind gains by waiting for the group", "[weigh]") {
  Scenario s = headwind_levels();
  s.road = scenes::flat_road(8000.0);
  const Weighing w = weighed(off_the_front(s), settings_for(0, 600.0, 8000.0));
  CHECK(way(w, Choice::waits_behind).gain_s.low > 0.0);
  CHECK(w.verdict == Verdict::pays);
}

TEST_CASE("waiting for a slower group on a steep climb is slower and gains nothing", "[weigh]") {
  Scenario s = steep_wood();
  for (std::size_t k = 1; k < s.riders.size(); ++k) s.riders[k].critical_power_W = 170.0;
  const Weighing w = weighed(off_the_front(s), settings_for(0, 600.0, 2500.0));
  CHECK(way(w, Choice::waits_behind).time_s.mean > w.ways[as_planned].time_s.mean + w.felt_s);
  CHECK(std::abs(way(w, Choice::waits_behind).gain_s.mean) < 0.5);
  CHECK(w.best != way_of(Choice::waits_behind));
}

TEST_CASE("where nobody is behind waiting changes nothing and is not advised", "[weigh]") {
  const Weighing w = weighed(headwind_levels(), settings_for(2, 0.0, 4000.0, 4));
  CHECK(way(w, Choice::waits_behind).same_as_planned == 1.0);
  CHECK(w.best != way_of(Choice::waits_behind));
}

TEST_CASE("the first day is the scenario as it stands; gain and saving are those of that day", "[weigh]") {
  const Scenario s = headwind_levels();
  const Weighing w = weighed(s, settings_for(2, 0.0, 4000.0, 1));
  const WayWeighed &planned = w.ways[as_planned], &alone_there = way(w, Choice::alone), &sits_in = way(w, Choice::sits_in);
  const double front_m = Ride(s).first_distance_m();  // the riders in front start further on: all are timed from there
  const auto from_there_s = [&](const Scenario& ridden, std::size_t rider) {
    const RiderResult result = ride_to_end(ridden, {.timing_points_m = {front_m}}).riders[rider];
    return result.finish_time_s - result.timing[0].time_s;
  };
  REQUIRE(front_m > 5.0);
  CHECK(planned.time_s.mean == from_there_s(s, 2));
  CHECK(alone_there.time_s.mean == from_there_s(alone(s, 2), 0));
  CHECK(alone_there.gain_s.mean == 0.0);
  CHECK(sits_in.gain_s.mean == sits_in.alone_time_s.mean - sits_in.time_s.mean);
  CHECK(sits_in.saved_W.mean == sits_in.alone_power_W.mean - sits_in.power_W.mean);
}

TEST_CASE("the wait at a regroup point belongs to no stretch", "[weigh]") {
  Scenario s = scenes::scene(scenes::constant_grade(2000.0, 0.06), equals(2, 250.0));
  s.riders[1].critical_power_W = 180.0;
  s.ride.regroup_at_m = {1000.0};
  const RiderResult first = ride_to_end(s, {.timing_points_m = {Ride(s).first_distance_m(), 940.0, 1005.0}}).riders[0];
  REQUIRE(first.waited_s > 30.0);
  const auto planned_s = [&](double from_m, double to_m) {
    return weighed(s, settings_for(0, from_m, to_m, 1)).ways[as_planned].time_s.mean;
  };
  CHECK(planned_s(0.0, 1000.0) == first.timing[1].time_s - first.timing[0].time_s);
  CHECK(planned_s(1000.0, 2000.0) == first.finish_time_s - first.timing[2].time_s);
}

TEST_CASE("a weighing is the same on one thread and on two", "[weigh][determinism]") {
  const auto on = [](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return weighed(headwind_levels(), settings_for(1, 500.0, 4000.0, 6));
  };
  CHECK(same(on(1), on(2)));
}

TEST_CASE("a weighing that is stopped counts whole days only", "[weigh]") {
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
  const WeighSettings settings = settings_for(0, 500.0, 2500.0, 4);
  REQUIRE(steps_of_weighing(settings) == 8);  // a day as planned for all, then a day for the rider
  CHECK(weigh(steep_wood(), settings, [](std::size_t done) { return done < 5; }).front().days == 1);
  CHECK(weigh(steep_wood(), settings, [](std::size_t done) { return done < 3; }).front().days == 0);
}

TEST_CASE("the answers to all riders are those to each", "[weigh]") {
  const Scenario s = headwind_levels();
  WeighSettings settings = settings_for(0, 500.0, 4000.0, 3);
  settings.riders = {4, 0, 2};
  settings.to_finish = false;
  const std::vector<Weighing> all = weigh(s, settings, to_the_end);
  REQUIRE(all.size() == 3);
  for (const Weighing& one : all) CHECK(same(one, weighed(s, settings_for(one.rider, 500.0, 4000.0, 3))));
  CHECK(all[0].rider == 4);
}

TEST_CASE("a rider whom everyone has left is told that nobody is there, and what a wheel would save", "[weigh]") {
  Scenario s = headwind_levels();
  s.ride.kind = RideKind::free;
  s.riders[4].critical_power_W = 140.0;
  const Weighing left = weighed(s, settings_for(4, 1500.0, 4000.0, 3));
  CHECK(left.verdict == Verdict::nobody_there);
  CHECK(left.reach_days == 0);
  CHECK(left.reason.wheel_saves_W > 15.0);
  const Weighing kept = weighed(s, settings_for(2, 1500.0, 4000.0, 3));
  CHECK(kept.verdict == Verdict::pays);
  CHECK(kept.reach_days == 2);
}

TEST_CASE("a rider told to sit in takes no turn, and one told to ride alone takes no wheel", "[tactics][orders]") {
  Scenario s = headwind_levels();
  const auto in_front_s = [&](Choice choice) {
    s.instructions = {{2, 300.0, 4000.0, choice}};
    Ride ride(s);
    RideSample now;
    double front_s = 0.0, wheel_s = 0.0;
    while (ride.end() == RideEnd::riding) {
      ride.step();
      if (ride.tick() % 10 != 0) continue;
      ride.sample(now);
      if (now.distance_m[2] < 500.0f || now.distance_m[2] > 3900.0f) continue;
      front_s += now.role[2] == static_cast<float>(Role::front);
      wheel_s += now.role[2] == static_cast<float>(Role::following);
    }
    return std::pair(front_s, wheel_s);
  };
  const auto [sitting_front_s, sitting_wheel_s] = in_front_s(Choice::sits_in);
  CHECK(sitting_front_s <= 2.0);
  CHECK(sitting_wheel_s > 300.0);
  CHECK(in_front_s(Choice::alone).second == 0.0);
  CHECK(in_front_s(Choice::takes_turns).first > 40.0);
}

TEST_CASE("an order for another stretch of road changes nothing before it", "[tactics][orders]") {
  Scenario s = headwind_levels();
  Ride plain(s);
  s.instructions = {{1, 3000.0, 4000.0, Choice::lets_go}};
  Ride ordered(s);
  RideSample a, b;
  while (plain.first_distance_m() < 2900.0) {
    plain.step();
    ordered.step();
  }
  plain.sample(a);
  ordered.sample(b);
  CHECK(scenes::hash_of(a) == scenes::hash_of(b));
}
