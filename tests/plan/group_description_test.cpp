/// What a plan needs between two landmarks, from moments of a ride made up here.

#include "plan/group_description.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

struct Someone {
  float distance_m, group;
  Role role;
  float power_W = 200.0f, alone_W = 200.0f;
};
constexpr float alone_id = no_group;
constexpr float ahead_mps = -3.0f;  // of the wind along: in the face

/// Two riders on 1,000 m at that grade, to a landmark at 400 m and on; a regroup point at 600 m.
Scenario two_riders(double grade = 0.0) {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::constant_grade(1000.0, grade), {400.0}), scenes::club(2));
  s.ride.regroup_at_m = {600.0};
  return s;
}

Lineup described(const Scenario& s, const std::vector<std::vector<Someone>>& seconds, float cross_mps = 0.0f) {
  static const Ride ride(scenes::scene(scenes::flat_road(1000.0), scenes::club(1)));
  GroupDescription description(s);
  for (const std::vector<Someone>& riders : seconds) {
    RideSample now;
    for (const Someone& r : riders) {
      now.distance_m.push_back(r.distance_m);
      now.group_id.push_back(r.group);
      now.role.push_back(static_cast<float>(r.role));
      now.power_W.push_back(r.power_W);
      now.alone_power_W.push_back(r.alone_W);
    }
    now.speed_mps = std::vector<float>(riders.size(), 9.0f);
    now.wind_along_mps = std::vector<float>(riders.size(), ahead_mps);
    now.wind_cross_mps = std::vector<float>(riders.size(), cross_mps);
    description(RideView{ride, now, true});
  }
  RideResult result{};
  const auto event = [&](EventKind kind, std::uint32_t rider) {
    result.events.push_back({kind, 0.0, 0.0, {rider}, no_group, {}});
  };
  event(EventKind::ends_turn, 0), event(EventKind::ends_turn, 1), event(EventKind::ends_turn, 0);
  event(EventKind::follows, 1), event(EventKind::lets_go, 1);
  Lineup lineup{};
  description.into(lineup, result);
  return lineup;
}

/// A line of two whose second saves that many of 200 W.
std::vector<Someone> in_line(float saved_W) {
  return {{200, 0, Role::front}, {198, 0, Role::following, 200.0f - saved_W, 200.0f}};
}

}  // namespace

TEST_CASE("a stretch has the front's speed and power, the wind it meets, and what the line saves", "[lineup]") {
  const Lineup lineup = described(two_riders(), {in_line(60), in_line(60), in_line(60), in_line(60)});
  REQUIRE(lineup.stretches.size() == 2);
  const LineupStretch& s = lineup.stretches[0];
  CHECK(s.front_speed_mps == 9.0);
  CHECK(s.front_power_W == 200.0);
  CHECK(s.headwind_mps == 3.0);
  CHECK(s.in_line_share == 1.0);
  CHECK(s.saved_share == Approx(60.0 / 400.0));
  CHECK(s.front_s == std::vector<double>{4.0, 0.0});
  CHECK(lineup.stretches[1].in_line_share == 0.0);
}

TEST_CASE("turns are those that ended, seconds in front those of the whole road", "[lineup]") {
  const Lineup lineup =
      described(two_riders(), {in_line(60), in_line(60), {{500, 0, Role::following}, {501, 0, Role::front}}});
  REQUIRE(lineup.pulls.size() == 2);
  CHECK(std::pair(lineup.pulls[0].turns, lineup.pulls[1].turns) == std::pair<std::size_t, std::size_t>(2, 1));
  CHECK(std::pair(lineup.pulls[0].in_front_s, lineup.pulls[1].in_front_s) == std::pair(2.0, 1.0));
}

TEST_CASE("who waits within 40 m of a regroup point waits there, and is in no line", "[lineup]") {
  const Someone behind{300, alone_id, Role::alone};
  const Lineup lineup = described(two_riders(), {{{561, alone_id, Role::waiting}, behind},
                                                 {{599, alone_id, Role::waiting}, behind},
                                                 {{559, alone_id, Role::waiting}, behind}});
  REQUIRE(lineup.waits.size() == 1);
  CHECK(lineup.waits[0].first_waits_s == 2.0);
  CHECK(std::pair(lineup.waits[0].first_rider, lineup.waits[0].last_rider) == std::pair(0u, 1u));
  CHECK(lineup.stretches[1].in_line_share == 0.0);
}

TEST_CASE("the form of a stretch: each alone, an echelon in a wind across, two abreast uphill where a line saves little",
          "[lineup]") {
  using Form = LineupStretch::Form;
  const std::vector<Someone> apart{{200, alone_id, Role::alone}, {100, alone_id, Role::alone}};
  const auto form = [](const Scenario& s, const std::vector<std::vector<Someone>>& seconds, float cross_mps = 0.0f) {
    return described(s, seconds, cross_mps).stretches[0].form;
  };
  const Scenario flat = two_riders(), hill = two_riders(0.05);
  CHECK(form(flat, {apart, apart, in_line(60)}) == Form::own_pace);  // a third of the time in a line
  CHECK(form(flat, {apart, in_line(60)}) == Form::single_file);      // half of it
  const auto cross_mps = static_cast<float>(flat.tactics.echelon_cross_mps);
  CHECK(form(flat, {in_line(60)}, cross_mps - 0.1f) == Form::single_file);
  CHECK(form(flat, {in_line(60)}, -cross_mps - 0.1f) == Form::echelon);
  REQUIRE(hill.road.abreast(200.0) >= 2);
  REQUIRE(hill.road.width_m(200.0) >= 5.0);
  CHECK(form(hill, {in_line(33)}) == Form::single_file);  // saves 8.25 % of the power alone
  CHECK(form(hill, {in_line(31)}) == Form::two_abreast);  // 7.75 %
  CHECK(form(flat, {in_line(31)}) == Form::single_file);
  Scenario circling = flat;
  circling.ride.formation = Formation::circulating;
  CHECK(form(circling, {in_line(60)}) == Form::circulating);
}
