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

/// What those seconds leave in a result: each rider's time in front and behind in a line up to the landmark and after it.
RideResult ridden(const Scenario& s, const std::vector<std::vector<Someone>>& seconds) {
  RideResult result{};
  result.time_s = static_cast<double>(seconds.size());
  for (std::size_t i = 0; i < seconds.front().size(); ++i) {
    RiderResult rider{};
    rider.finished = true;
    rider.landmarks = {{s.road.landmarks().front().name, 400.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0},
                       {"finish", 1000.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0}};
    for (const std::vector<Someone>& riders : seconds)
      for (Passage& at : rider.landmarks) {
        const Someone& r = riders[i];
        if (r.distance_m > at.distance_m) continue;
        at.time_s += 1.0;
        at.front_s += r.role == Role::front && r.group != no_group;
        at.follow_s += r.role == Role::following;
        at.alone_J += r.alone_W;
        at.saved_J += r.alone_W - r.power_W;
      }
    result.riders.push_back(rider);
  }
  return result;
}

PlanResult described(const Scenario& s, const std::vector<std::vector<Someone>>& seconds, float cross_mps = 0.0f) {
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
  PlanResult plan{};
  description.into(plan, ridden(s, seconds));
  return plan;
}

/// A line of two whose second saves that many of 200 W.
std::vector<Someone> in_line(float saved_W) {
  return {{200, 0, Role::front}, {198, 0, Role::following, 200.0f - saved_W, 200.0f}};
}

}  // namespace

TEST_CASE("a stretch has the front's speed and power, the wind it meets, and what the line saves", "[lineup]") {
  const PlanResult plan = described(two_riders(), {in_line(60), in_line(60), in_line(60), in_line(60)});
  REQUIRE(plan.stretches.size() == 2);
  const LineupStretch& s = plan.stretches[0];
  CHECK(s.front_speed_mps == 9.0);
  CHECK(s.front_power_W == 200.0);
  CHECK(s.headwind_mps == 3.0);
  CHECK(s.in_a_line);
  CHECK(s.saved_share == Approx(60.0 / 400.0));
  CHECK(s.saved_W == Approx(30.0));  // one of two saves 60 W
  CHECK(s.front_s == std::vector<double>{4.0, 0.0});
  CHECK_FALSE(plan.stretches[1].in_a_line);
}

TEST_CASE("where everyone rides at the own pace nobody is in front of others", "[lineup]") {
  Scenario s = two_riders(0.06);
  s.ride.kind = RideKind::steady;
  const std::vector<std::vector<Someone>> seconds{in_line(10),
                                                  in_line(10)};  // saves 2.5 %, less than what ends free climbing
  const LineupStretch free = described(s, seconds).stretches[0];
  CHECK(free.form == LineupStretch::Form::own_pace);
  CHECK(free.front_s == std::vector<double>{0.0, 0.0});
  REQUIRE(free.groups.size() == 1);
  CHECK(free.groups[0].own_pace);
  CHECK(free.groups[0].turn_s == std::vector<double>{0.0, 0.0});
  s.tactics.free_climb_fraction = 1.01;  // nobody climbs freely
  CHECK(described(s, seconds).stretches[0].front_s == std::vector<double>{2.0, 0.0});
}

TEST_CASE("where nobody rides in a line nothing is saved", "[lineup]") {
  const std::vector<Someone> apart{{200, alone_id, Role::alone}, {100, alone_id, Role::alone}};
  const LineupStretch s = described(two_riders(), {apart, apart}).stretches[0];
  CHECK(s.form == LineupStretch::Form::own_pace);
  CHECK(s.saved_W == 0.0);
  CHECK(s.saved_share == 0.0);
}

TEST_CASE("who leads nobody is not in front", "[lineup]") {
  const std::vector<Someone> apart{{200, alone_id, Role::front}, {100, alone_id, Role::alone}};
  CHECK(described(two_riders(), {apart, in_line(60)}).stretches[0].front_s == std::vector<double>{1.0, 0.0});
}

TEST_CASE("who waits longest at a regroup point and who comes last are told as the ride tells its waits", "[lineup]") {
  const Scenario s = two_riders();
  GroupDescription description(s);
  RideResult result = ridden(s, {in_line(60)});
  result.riders[1].waits = {{600.0, 70.0, 95.0}};
  result.riders[0].waits = {{600.0, 90.0, 95.0}};
  PlanResult plan{};
  description.into(plan, result);
  REQUIRE(plan.waits.size() == 1);
  CHECK(plan.waits[0].first_waits_s == 25.0);
  CHECK(std::pair(plan.waits[0].first_rider, plan.waits[0].last_rider) == std::pair(1u, 0u));
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
