#include "leewheel/groups.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "leewheel/wake.hpp"

using namespace leewheel;

namespace {

/// Riders set on the road by hand, looked at once a second.
class Roadside {
 public:
  explicit Roadside(std::size_t riders) : groups_({}, riders), riders_(riders) {}

  /// Wheel gaps to the rider ahead, from the second rider on; the first stands where it was and rides at `speed_mps`.
  void look(const std::vector<double>& gaps_m, double speed_mps = 8.0, double last_slower_mps = 0.0) {
    front_m_ += speed_mps;
    double x_m = front_m_;
    for (std::size_t k = 0; k < riders_.size(); ++k) {
      if (k > 0) x_m -= gaps_m[k - 1] + bicycle_length_m;
      riders_[k] = {x_m, speed_mps - (k + 1 == riders_.size() ? last_slower_mps : 0.0), riders_[k].riding || time_s_ == 0.0};
    }
    std::vector<std::uint32_t> order;
    for (std::uint32_t k = 0; k < riders_.size(); ++k)
      if (riders_[k].riding) order.push_back(k);
    time_s_ += 1.0;
    groups_.update(
        time_s_, 1.0, riders_, order,
        [](std::uint32_t rider) {
          return Because{Reason::own_pace, rider};
        },
        events);
  }
  void look_for(int seconds, const std::vector<double>& gaps_m) {
    for (int k = 0; k < seconds; ++k) look(gaps_m);
  }
  void finish(std::uint32_t rider) { riders_[rider].riding = false; }
  std::int32_t group(std::uint32_t rider) const { return groups_.group_of()[rider]; }
  int count(EventKind kind) const {
    return static_cast<int>(std::count_if(events.begin(), events.end(), [&](const Event& e) { return e.kind == kind; }));
  }
  const Event& last() const { return events.back(); }

  std::vector<Event> events;

 private:
  Groups groups_;
  std::vector<GroupRider> riders_;
  double front_m_ = 1000.0, time_s_ = 0.0;
};

/// Deterministic noise between -1 and 1, of one sign no longer than two seconds.
double noise(int k) { return 2.0 * std::fmod(0.5 + 0.618034 * k, 1.0) - 1.0; }

}  // namespace

// The thresholds are the program's own defaults (assumed): joined below max(2 m, 0.5 s v) for 3 s, left above
// max(6 m, 1.0 s v) for 5 s; at 8 m/s these are 4 m and 8 m.

TEST_CASE("two riders close together for three seconds form a group, and not sooner", "[groups]") {
  Roadside road(2);
  road.look_for(2, {1.0});
  CHECK(road.group(0) == no_group);
  road.look_for(1, {1.0});
  CHECK(road.group(0) != no_group);
  CHECK(road.group(0) == road.group(1));
  REQUIRE(road.events.size() == 1);
  CHECK(road.last().kind == EventKind::formed);
}

TEST_CASE("a gap between the thresholds neither makes nor breaks a group", "[groups]") {
  Roadside road(2);
  road.look_for(60, {6.0});
  CHECK(road.group(1) == no_group);
  road.look_for(3, {1.0});
  road.look_for(60, {6.0});
  CHECK(road.group(1) != no_group);
}

TEST_CASE("a rider who rushes past is not joined", "[groups]") {
  Roadside road(2);
  for (int k = 0; k < 10; ++k) road.look({1.0}, 8.0, 1.5);
  CHECK(road.group(0) == no_group);
}

TEST_CASE("a gap that crosses a threshold to and fro, never for the time it takes, makes no event", "[groups]") {
  const double threshold_m = GENERATE(4.0, 8.0), spread_m = GENERATE(0.1, 0.5, 1.5);
  Roadside road(2);
  road.look_for(5, {threshold_m == 4.0 ? 20.0 : 1.0});  // apart before they might join, together before they might part
  road.events.clear();
  for (int k = 0; k < 600; ++k) road.look({threshold_m + spread_m * noise(k)});
  CHECK(road.events.empty());
}

TEST_CASE("a gap that grows steadily drops the rider once", "[groups]") {
  Roadside road(3);
  road.look_for(5, {1.0, 1.0});
  const std::int32_t group = road.group(0);
  for (int k = 0; k < 100; ++k) road.look({1.0, 1.0 + 0.3 * k + 0.4 * noise(k)});
  CHECK(road.count(EventKind::dropped) == 1);
  CHECK(road.last().riders == std::vector<std::uint32_t>{2});
  CHECK(road.last().group == group);
  CHECK(road.group(2) == no_group);
  CHECK(road.group(1) == group);
}

TEST_CASE("a rider who leaves in front pulls away and is not called dropped", "[groups]") {
  Roadside road(3);
  road.look_for(5, {1.0, 1.0});
  road.look_for(10, {30.0, 1.0});
  CHECK(road.count(EventKind::pulled_away) == 1);
  CHECK(road.count(EventKind::dropped) == 0);
  CHECK(road.last().riders == std::vector<std::uint32_t>{0});
}

TEST_CASE("the larger part of a split keeps the name and gets it back on merging", "[groups]") {
  Roadside road(6);
  const std::vector<double> together(5, 1.0), split{1.0, 1.0, 1.0, 40.0, 1.0};
  road.look_for(5, together);
  const std::int32_t whole = road.group(0);
  road.look_for(10, split);
  CHECK(road.count(EventKind::split) == 1);
  CHECK(road.last().riders == std::vector<std::uint32_t>{4, 5});
  CHECK(road.group(0) == whole);
  const std::int32_t rear = road.group(4);
  CHECK(rear != no_group);
  CHECK(rear != whole);
  road.look_for(10, together);
  CHECK(road.count(EventKind::merged) == 1);
  CHECK(road.last().riders == std::vector<std::uint32_t>{4, 5});
  for (std::uint32_t k = 0; k < 6; ++k) CHECK(road.group(k) == whole);
  road.look_for(10, split);
  CHECK(road.group(4) != rear);  // a name is never used twice
}

TEST_CASE("a rider who comes back joins the group that was left, but not within the rest", "[groups]") {
  Roadside road(3);
  road.look_for(5, {1.0, 1.0});
  const std::int32_t group = road.group(0);
  road.look_for(10, {1.0, 30.0});  // off after five of them
  road.look_for(9, {1.0, 1.0});
  CHECK(road.count(EventKind::joined) == 0);
  road.look_for(3, {1.0, 1.0});
  CHECK(road.count(EventKind::joined) == 1);
  CHECK(road.group(2) == group);
}

TEST_CASE("a group of two that breaks has one rider dropped and no group left", "[groups]") {
  Roadside road(2);
  road.look_for(5, {1.0});
  road.look_for(10, {30.0});
  CHECK(road.group(0) == no_group);
  CHECK(road.count(EventKind::dropped) == 1);
  CHECK(road.last().riders == std::vector<std::uint32_t>{1});
}

TEST_CASE("finishing takes a rider out of the group without a word about dropping", "[groups]") {
  Roadside road(3);
  road.look_for(5, {1.0, 1.0});
  road.finish(0);
  road.look_for(3, {1.0, 1.0});
  CHECK(road.group(0) == no_group);
  CHECK(road.group(1) == road.group(2));
  CHECK(road.count(EventKind::dropped) + road.count(EventKind::pulled_away) == 0);
}

TEST_CASE("an event of groups gives the reason of its first rider, a new group that of its meeting", "[groups]") {
  Roadside road(6);
  const std::vector<double> together(5, 1.0);
  road.look_for(5, together);
  road.look_for(10, {1.0, 1.0, 30.0, 1.0, 30.0});
  road.look_for(10, together);
  road.look_for(10, {30.0, 1.0, 1.0, 1.0, 1.0});
  std::vector<std::pair<EventKind, Reason>> told;
  for (const Event& event : road.events) told.emplace_back(event.kind, event.because.reason);
  CHECK(told == std::vector<std::pair<EventKind, Reason>>{{EventKind::formed, Reason::within_reach},
                                                          {EventKind::split, Reason::own_pace},
                                                          {EventKind::dropped, Reason::own_pace},
                                                          {EventKind::merged, Reason::groups_met},
                                                          {EventKind::joined, Reason::own_pace},
                                                          {EventKind::pulled_away, Reason::own_pace}});
  std::vector<std::uint32_t> whose;
  for (const Event& event : road.events)
    if (event.because.reason == Reason::own_pace) whose.push_back(event.because.other);
  CHECK(whose == std::vector<std::uint32_t>{3, 5, 5, 0});  // riders 3 and 4 split off, 5 is dropped and joins, 0 goes ahead
}

TEST_CASE("at 8 m/s contact begins below 4 m and ends above 8 m", "[groups]") {
  const auto joined = [](double gap_m) {
    Roadside road(2);
    road.look_for(10, {gap_m});
    return road.group(0) != no_group;
  };
  CHECK(joined(3.9));
  CHECK_FALSE(joined(4.1));
  const auto stays = [](double gap_m) {
    Roadside road(2);
    road.look_for(5, {1.0});
    road.look_for(60, {gap_m});
    return road.group(0) != no_group;
  };
  CHECK(stays(7.9));
  CHECK_FALSE(stays(8.1));
}

TEST_CASE("standing riders are in contact up to 2 m and come apart above 6 m", "[groups]") {
  const auto together = [](double first_m, double then_m) {
    Roadside road(2);
    for (int k = 0; k < 10; ++k) road.look({first_m}, 0.1);
    for (int k = 0; k < 10; ++k) road.look({then_m}, 0.1);
    return road.group(0) != no_group;
  };
  CHECK(together(1.9, 1.9));
  CHECK_FALSE(together(2.1, 2.1));
  CHECK(together(1.0, 5.9));
  CHECK_FALSE(together(1.0, 6.1));
}

TEST_CASE("a rider 0.9 m/s slower is joined, one 1.1 m/s slower is not", "[groups]") {
  const double slower_mps = GENERATE(0.9, 1.1);
  Roadside road(2);
  for (int k = 0; k < 10; ++k) road.look({1.0}, 8.0, slower_mps);
  CHECK((road.group(0) != no_group) == (slower_mps < 1.0));
}

TEST_CASE("contact is broken in the fifth second beyond the threshold, and a nearer second in between begins afresh",
          "[groups]") {
  Roadside road(2);
  road.look_for(5, {1.0});
  road.look_for(4, {9.0});
  CHECK(road.group(1) != no_group);
  road.look_for(1, {7.0});
  road.look_for(4, {9.0});
  CHECK(road.group(1) != no_group);
  road.look_for(1, {9.0});
  CHECK(road.group(1) == no_group);
}

TEST_CASE("a rider who came off makes new contact after 15 s, wherever he was in the meantime", "[groups]") {
  Roadside road(2);
  road.look_for(5, {1.0});
  road.look_for(5, {9.0});
  REQUIRE(road.group(1) == no_group);
  road.look_for(14, {1.0});
  CHECK(road.group(1) == no_group);
  road.look_for(1, {1.0});
  CHECK(road.group(1) != no_group);
}

TEST_CASE("two who rush past between a wheel and its holder do not break their contact, three do", "[groups]") {
  // Everyone looks at the three riders ahead: a rotating line has two abreast, and one more for safety.
  const std::size_t passing = GENERATE(2u, 3u);
  Groups groups({}, passing + 2);
  std::vector<Event> events;
  std::vector<GroupRider> riders(passing + 2, {0.0, 8.0, true});
  std::vector<std::uint32_t> order(riders.size());
  std::iota(order.begin(), order.end(), 0u);
  for (int second = 1; second <= 10; ++second) {
    const double front_m = 1000.0 + 8.0 * second;
    riders.front().distance_m = front_m;
    for (std::size_t k = 1; k <= passing; ++k) riders[k] = {front_m - 0.5 * static_cast<double>(k), 8.0 + 1.5 * k, true};
    riders.back().distance_m = front_m - bicycle_length_m - 1.0;
    groups.update(
        second, 1.0, riders, order,
        [](std::uint32_t rider) {
          return Because{Reason::own_pace, rider};
        },
        events);
  }
  CHECK((groups.group_of().front() != no_group) == (passing == 2));
  CHECK(groups.group_of().front() == groups.group_of().back());
}
