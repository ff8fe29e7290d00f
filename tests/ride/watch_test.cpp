#include "ride/watch.hpp"

#include <catch2/catch.hpp>
#include <vector>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario small_club() { return scenes::scene(scenes::grades({0.01, 0.05, 0.01}, 500.0), scenes::club(4)); }

/// What an observer was shown.
struct Seen {
  std::vector<double> time_s;
  std::vector<bool> whole;
  void operator()(const RideView& view) {
    time_s.push_back(view.time_s());
    whole.push_back(view.whole_interval);
  }
};

}  // namespace

TEST_CASE("an observer sees the start, every interval and the last state, and is told which are whole intervals",
          "[watch]") {
  Scenario s = small_club();
  s.ride.time_limit_s = 47.5;
  Seen seen;
  Ride ride(s);
  const RideResult result = watch(ride, {10.0}, seen);
  CHECK(result.end == RideEnd::time_limit);
  REQUIRE(seen.time_s.size() == 6);
  for (std::size_t k = 0; k < 5; ++k) CHECK(seen.time_s[k] == Approx(10.0 * static_cast<double>(k)));
  CHECK(seen.time_s.back() == result.time_s);
  CHECK(seen.whole == std::vector<bool>{false, true, true, true, true, false});
}

TEST_CASE("a ride that ends on a whole interval is not looked at twice there", "[watch]") {
  Scenario s = small_club();
  s.ride.time_limit_s = 40.0;
  Seen seen;
  Ride ride(s);
  watch(ride, {10.0}, seen);
  CHECK(seen.time_s.size() == 5);
  CHECK(seen.whole.back());
}

TEST_CASE("an interval of 0 looks after every step", "[watch]") {
  Scenario s = small_club();
  s.ride.time_limit_s = 5.0;
  Seen seen;
  Ride ride(s);
  watch(ride, {0.0}, seen);
  CHECK(seen.time_s.size() == 1 + ride.tick());
}

TEST_CASE("a ride is watched no further than asked, and the state there is seen", "[watch]") {
  const Scenario s = small_club();
  double last_m = 0.0;
  Ride ride(s);
  const RideResult result = watch(ride, {1.0, [](const Ride& now) { return now.first_distance_m() < 300.0; }},
                                  [&](const RideView& view) { last_m = view.ride.first_distance_m(); });
  CHECK(result.end == RideEnd::riding);
  CHECK(result.time_s == ride.time_s());
  CHECK(last_m == ride.first_distance_m());
  CHECK(last_m >= 300.0);
  CHECK(last_m < 300.0 + 20.0 * s.ride.step_s);  // the very step that took the first rider there
}

TEST_CASE("who does not want to go on sees the start and nothing is ridden", "[watch]") {
  Seen seen;
  Ride ride(small_club());
  watch(ride, {1.0, [](const Ride&) { return false; }}, seen);
  CHECK(seen.time_s == std::vector<double>{0.0});
  CHECK(ride.tick() == 0);
}

TEST_CASE("observers are called one after the other at each look", "[watch]") {
  Scenario s = small_club();
  s.ride.time_limit_s = 2.0;
  std::vector<int> calls;
  Ride ride(s);
  watch(
      ride, {1.0}, [&](const RideView&) { calls.push_back(1); }, [&](const RideView&) { calls.push_back(2); });
  CHECK(calls == std::vector<int>{1, 2, 1, 2, 1, 2});
}

TEST_CASE("a view names role, group and place of every rider, and who has reached the top", "[watch]") {
  std::size_t in_groups = 0, finished = 0;
  Ride ride(small_club());
  watch(ride, {1.0}, [&](const RideView& view) {
    REQUIRE(view.riders() == 4);
    finished = 0;
    for (std::size_t i = 0; i < view.riders(); ++i) {
      CHECK(static_cast<float>(view.role(i)) == view.now.role[i]);
      CHECK(static_cast<float>(view.group(i)) == view.now.group_id[i]);
      CHECK(view.on_road(i) == (view.distance_m(i) < 1500.0));
      in_groups += view.group(i) != no_group;
      finished += !view.on_road(i);
    }
  });
  CHECK(in_groups == 690);  // riders in a group, summed over the looks
  CHECK(finished == 4);
}

TEST_CASE("watching changes nothing of a ride", "[watch]") {
  for (const std::uint64_t seed : {3u, 14u, 15u}) {
    const Scenario s = scenes::random_scenario(seed);
    Ride by_hand(s);
    while (by_hand.end() == RideEnd::riding) by_hand.step();
    Seen seen;
    Ride watched(s);
    const std::uint64_t expected = scenes::hash_of(by_hand.result());
    CHECK(scenes::hash_of(watch(watched, {0.0}, seen)) == expected);
    CHECK(scenes::hash_of(ride_to_end(s)) == expected);
  }
}
