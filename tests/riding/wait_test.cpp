/// Easing for a group behind.

#include "riding/wait.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Rider 0 alone; riders 1 and 2 in a line behind, which rides as fast as he could alone.
Scene group_behind_by(double gap_m) {
  Scene scene(3);
  scene.in_line(1, 2).gap_m(1, gap_m);
  return scene;
}

RiderIndex group_of(Scene& scene) {
  RiderIndex behind = nobody;
  scene.let(0, [&](const View& v, Proposal&) { behind = group_behind(v); });
  return behind;
}

}  // namespace

TEST_CASE("a group from 5 to 60 m behind is worth easing for, and up to 90 m for who eases already", "[wait]") {
  Scene scene = group_behind_by(30.0);
  CHECK(group_of(scene) == 1);
  CHECK(group_of(scene.gap_m(1, 4.9)) == nobody);
  CHECK(group_of(scene.gap_m(1, 5.1)) == 1);
  CHECK(group_of(scene.gap_m(1, 59.9)) == 1);
  CHECK(group_of(scene.gap_m(1, 60.1)) == nobody);
  scene.memory[0].eases_for_group = true;
  CHECK(group_of(scene.gap_m(1, 89.9)) == 1);
  CHECK(group_of(scene.gap_m(1, 90.1)) == nobody);
}

TEST_CASE("a group is waited for that rides more than 95 % of the rider's own speed", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.riders.v_mps[1] = 9.51;
  CHECK(group_of(scene) == 1);
  scene.riders.v_mps[1] = 9.49;
  CHECK(group_of(scene) == nobody);
}

TEST_CASE("a rider alone behind is no group, but in a ride together nobody is left behind", "[wait]") {
  Scene scene(2, 30.0);
  CHECK(group_of(scene) == nobody);
  scene.kind = RideKind::together;
  CHECK(group_of(scene) == 1);
  CHECK(group_of(scene.gap_m(1, 500.0)) == 1);
  CHECK(group_of(scene.gap_m(1, 5.1)) == 1);
  CHECK(group_of(scene.gap_m(1, 4.9)) == nobody);
}

TEST_CASE("in a ride together the rider next behind is waited for, not the first of the line", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.kind = RideKind::together;
  std::swap(scene.riders.x_m[1], scene.riders.x_m[2]);  // who leads has fallen behind the next
  CHECK(group_of(scene) == 2);
}

TEST_CASE("nobody eases for a rider of the same line, for the other group by strength, or behind everyone", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.lines.front_of[1] = 0;
  CHECK(group_of(scene) == nobody);
  scene.lines.front_of[1] = 1;
  scene.riders.squad[1] = 1;
  CHECK(group_of(scene) == nobody);
  Scene last(1);
  CHECK(group_of(last) == nobody);
}

TEST_CASE("a rider alone eases for the group behind, told with its gap", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.second();
  CHECK(scene.memory[0].eases_for_group);
  CHECK(scene.memory[0].role == Role::alone);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::waits, 0, 1}});
  CHECK_THAT(scene.told[0].because, Is(Reason::waits_for_group, 1, {30.0}));
  CHECK_THAT(scene.memory[0].why, Is(Reason::waits_for_group, 1, {30.0}));
  scene.second();
  CHECK(scene.told.empty());  // once
}

TEST_CASE("a rider eases after more than 16 s alone, twice dwell_s", "[wait]") {
  Scene scene = group_behind_by(30.0);
  CHECK_FALSE(scene.has_role(0, Role::alone, 16.0).ask(group_comes, 0).holds);
  CHECK(scene.has_role(0, Role::alone, 16.1).ask(group_comes, 0).holds);
}

TEST_CASE("only a rider alone, aside of nobody and leading nobody eases for a group", "[wait]") {
  Scene scene = group_behind_by(30.0);
  CHECK(scene.ask(group_comes, 0).holds);
  scene.lines.size[0] = 2;
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
  scene.lines.size[0] = 1;
  scene.memory[0].side = GENERATE(+1, -1);
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
  scene.memory[0].side = 0;
  scene.memory[0].eases_for_group = true;
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
  scene.memory[0].eases_for_group = false;
  CHECK_FALSE(scene.has_role(0, Role::front).ask(group_comes, 0).holds);
}

TEST_CASE("nobody eases in a race or a free ride, nor where everyone climbs freely", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.kind = GENERATE(RideKind::race, RideKind::free);
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
  scene.kind = RideKind::steady;
  scene.outlook[0].climbs_freely = true;
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
}

TEST_CASE("nobody eases again before a minute has passed", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.memory[0].no_wait_until_s = start_s;
  CHECK_FALSE(scene.ask(group_comes, 0).holds);
  scene.memory[0].no_wait_until_s = start_s - 0.1;
  CHECK(scene.ask(group_comes, 0).holds);
}

TEST_CASE("with the group there a rider rides on at his or her own pace, and does not ease again for a minute", "[wait]") {
  Scene scene = group_behind_by(4.9);
  scene.memory[0].eases_for_group = true;
  scene.outlook[1].hold_limit_W = 100.0;  // the group does not take his wheel
  scene.second();
  CHECK_FALSE(scene.memory[0].eases_for_group);
  CHECK_THAT(scene.memory[0].why, Is(Reason::own_pace));
  CHECK(scene.memory[0].no_wait_until_s == start_s + 60.0);
  CHECK(scene.told.empty());
}

TEST_CASE("who eases goes on easing while the group comes, and gives up once it is lost or the climb is free", "[wait]") {
  Scene scene = group_behind_by(30.0);
  scene.memory[0].eases_for_group = true;
  CHECK_FALSE(scene.ask(group_is_gone, 0).holds);
  CHECK(scene.gap_m(1, 90.1).ask(group_is_gone, 0).holds);
  scene.gap_m(1, 30.0);
  scene.outlook[0].climbs_freely = true;
  CHECK(scene.ask(group_is_gone, 0).holds);
  scene.memory[0].side = 1;  // judged again when back in line
  CHECK_FALSE(scene.ask(group_is_gone, 0).holds);
  scene.memory[0].side = 0;
  scene.memory[0].eases_for_group = false;
  CHECK_FALSE(scene.ask(group_is_gone, 0).holds);
}

TEST_CASE("who eases for a group takes a wheel all the same when one pays", "[wait]") {
  Scene scene(4);
  scene.in_line(2, 3).gap_m(1, 5.0).gap_m(2, 30.0);
  scene.second();
  CHECK(scene.memory[1].role == Role::following);
  CHECK_FALSE(scene.memory[1].eases_for_group);
}
