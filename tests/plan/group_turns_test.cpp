/// Turns as a rule, from moments of a ride made up here.

#include "plan/group_turns.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// A second of a ride: who is in which group, and who leads; riders one behind the other in that order.
struct Second {
  std::vector<float> group;
  std::vector<std::size_t> leaders;
};

std::vector<GroupTurns> turns(const std::vector<Second>& seconds, bool own_pace = false,
                              Formation formation = Formation::turns) {
  static const Ride ride(scenes::scene(scenes::flat_road(1000.0), scenes::club(1)));
  const std::size_t riders = seconds.front().group.size();
  Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(riders));
  scenario.ride.formation = formation;
  TurnsTally tally(scenario);
  for (std::size_t t = 0; t < seconds.size(); ++t) {
    RideSample now;
    now.time_s = static_cast<double>(t);
    for (std::size_t i = 0; i < riders; ++i) {
      const auto& leaders = seconds[t].leaders;
      const bool leads = std::find(leaders.begin(), leaders.end(), i) != leaders.end();
      now.distance_m.push_back(100.0f - 2.0f * static_cast<float>(i));
      now.group_id.push_back(seconds[t].group[i]);
      now.role.push_back(static_cast<float>(leads ? Role::front : Role::following));
    }
    tally(RideView{ride, now, true});
  }
  return tally.on(0, own_pace);
}

void add(std::vector<Second>& seconds, std::size_t count, const Second& second) {
  seconds.insert(seconds.end(), count, second);
}

}  // namespace

TEST_CASE("lengths of turns are told in round numbers", "[lineup]") {
  CHECK(round_turn_s(8.0) == 10.0);
  CHECK(round_turn_s(37.0) == 45.0);
  CHECK(round_turn_s(36.0) == 30.0);
  CHECK(round_turn_s(68.0) == 60.0);
  CHECK(round_turn_s(130.0) == 120.0);
}

TEST_CASE("the line is told from who leads first, each with a length, and who leads little sits in", "[lineup]") {
  std::vector<Second> seconds;
  const std::vector<float> one{0, 0, 0};
  for (int round = 0; round < 2; ++round) {
    add(seconds, 29, {one, {1}});
    add(seconds, 62, {one, {0}});
  }
  add(seconds, 6, {one, {2}});
  const std::vector<GroupTurns> found = turns(seconds);
  REQUIRE(found.size() == 1);
  CHECK(found[0].line == std::vector<std::uint32_t>{1, 0, 2});
  CHECK(found[0].turn_s == std::vector<double>{30.0, 60.0, 0.0});
  CHECK_FALSE(found[0].own_pace);
  CHECK_FALSE(found[0].stays_in_front());
}

TEST_CASE("who leads nearly all the time stays in front", "[lineup]") {
  std::vector<Second> seconds;
  add(seconds, 90, {{0, 0}, {1}});
  add(seconds, 10, {{0, 0}, {0}});
  const std::vector<GroupTurns> found = turns(seconds);
  REQUIRE(found.size() == 1);
  CHECK(found[0].stays_in_front());
  CHECK(found[0].line == std::vector<std::uint32_t>{1, 0});
}

TEST_CASE("where the first stays in front nobody is told a turn, whoever else led for a while", "[lineup]") {
  std::vector<Second> seconds;
  add(seconds, 40, {{0, 0, 0}, {2}});
  add(seconds, 60, {{0, 0, 0}, {1}});
  const std::vector<GroupTurns> found = turns(seconds, false, Formation::one_in_front);
  REQUIRE(found.size() == 1);
  CHECK(found[0].stays_in_front());
  CHECK(found[0].line == std::vector<std::uint32_t>{1, 0, 2});
}

TEST_CASE("spells of ten seconds in front are turns only where the line circulates", "[lineup]") {
  std::vector<Second> seconds;
  for (int round = 0; round < 4; ++round) {
    add(seconds, 10, {{0, 0}, {1}});
    add(seconds, 30, {{0, 0}, {0}});
  }
  CHECK(turns(seconds)[0].turn_s == std::vector<double>{30.0, 0.0});
  CHECK(turns(seconds, false, Formation::circulating)[0].turn_s == std::vector<double>{10.0, 30.0});
}

TEST_CASE("turns are told group by group, and riders of different groups never add up", "[lineup]") {
  std::vector<Second> seconds;
  add(seconds, 40, {{0, 0, 1, 1, no_group}, {0, 2}});
  add(seconds, 20, {{0, 0, 1, 1, no_group}, {1, 3}});
  const std::vector<GroupTurns> found = turns(seconds);
  REQUIRE(found.size() == 3);
  CHECK(found[0].line == std::vector<std::uint32_t>{0, 1});
  CHECK(found[0].turn_s == std::vector<double>{45.0, 20.0});
  CHECK(found[1].line == std::vector<std::uint32_t>{2, 3});
  CHECK(found[2].line == std::vector<std::uint32_t>{4});
  CHECK(found[2].own_pace);
}

TEST_CASE("riders together for less than half of the stretch are no group there", "[lineup]") {
  std::vector<Second> seconds;
  add(seconds, 49, {{0, 0}, {0}});
  add(seconds, 51, {{no_group, no_group}, {}});
  CHECK(turns(seconds).size() == 2);
  add(seconds, 2, {{0, 0}, {0}});
  CHECK(turns(seconds).size() == 1);
}

TEST_CASE("there are no turn times where everyone rides at the own pace", "[lineup]") {
  std::vector<Second> seconds;
  add(seconds, 60, {{0, 0}, {0}});
  const std::vector<GroupTurns> found = turns(seconds, true);
  REQUIRE(found.size() == 1);
  CHECK(found[0].own_pace);
  CHECK(found[0].turn_s == std::vector<double>{0.0, 0.0});
}
