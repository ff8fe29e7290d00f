/// The second as a whole: who goes first, and the dangers of deciding at once.

#include <algorithm>

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Riders on a wheel whose rider has no wheel to take: aside, going back, waiting.
int wheels_of_nobody(const Scene& scene) {
  int found = 0;
  for (const Memory& memory : scene.memory) {
    if (memory.wheel == nobody) continue;
    const Memory& wheel = scene.memory[memory.wheel];
    found += wheel.side != 0 || wheel.role == Role::drifting_back || wheel.role == Role::waiting;
  }
  return found;
}

}  // namespace

TEST_CASE("riders who meet in one second form one line at once, each behind the next", "[decide]") {
  Scene scene(4, 2.0);
  scene.second();
  CHECK(scene.memory[0].role == Role::front);
  for (RiderIndex i = 1; i < 4; ++i) {
    CHECK(scene.memory[i].role == Role::following);
    CHECK(scene.memory[i].wheel == i - 1);
  }
  CHECK(scene.lines.size[0] == 4);
}

TEST_CASE("commands reach the columns that the motion reads", "[decide]") {
  Scene scene(2, 2.0);
  scene.second();
  CHECK(scene.riders.free_W[0] == scene.memory[0].front_W);
  CHECK(scene.riders.free_W[0] == Approx(250.0).margin(0.4));
  CHECK(scene.riders.most_W[0] == Approx(900.0));
  CHECK(scene.riders.pace_mps[0] == 0.0);
  CHECK(scene.riders.most_W[1] == Approx(337.5));
  CHECK(scene.riders.front_of[1] == 0);
  CHECK(scene.riders.wish_gap_m[1] == Approx(0.3));
}

// ---- two take one wheel

TEST_CASE("of two who come to one wheel one behind the other the nearer takes it, and the other takes his", "[decide]") {
  Scene scene(3, 3.0);
  scene.riders.x_m[2] = scene.riders.x_m[1] - 0.31;
  scene.riders.y_m[2] = scene.riders.y_m[1] + 0.9;
  scene.second();
  CHECK(scene.memory[1].wheel == 0);
  CHECK(scene.memory[2].wheel == 1);
  CHECK(scene.lines.size[0] == 3);
}

TEST_CASE("two exactly side by side share a wheel until one is 0.31 m ahead, then ride in one file", "[decide]") {
  Scene scene(3, 3.0);
  scene.riders.x_m[2] = scene.riders.x_m[1];
  scene.riders.y_m[2] = scene.riders.y_m[1] + 0.9;
  scene.second();
  CHECK(scene.memory[1].wheel == 0);
  CHECK(scene.memory[2].wheel == 0);
  scene.riders.x_m[2] -= 0.31;
  scene.second();
  CHECK(scene.memory[1].wheel == 0);
  CHECK(scene.memory[2].wheel == 1);
}

// ---- two wait for each other

TEST_CASE("of two riders alone in a ride together only the one ahead eases, whichever it is", "[decide]") {
  const double apart_m = GENERATE(6.0, 30.0, 200.0);
  Scene scene(2, apart_m);
  scene.kind = RideKind::together;
  scene.settings.chase_spare_share = 0.0;  // nobody comes up by a chase
  for (Outlook& outlook : scene.outlook) outlook.hold_limit_W = 100.0;
  scene.seconds(30);
  CHECK(scene.memory[0].eases_for_group);
  CHECK_FALSE(scene.memory[1].eases_for_group);
}

TEST_CASE("a rider who eased and was passed by the group rides on, and neither waits for the other again within a minute",
          "[decide]") {
  Scene scene(3, 30.0);
  scene.settings.chase_spare_share = 0.0;
  for (Outlook& outlook : scene.outlook) outlook.hold_limit_W = 100.0;  // no wheel pays
  scene.holds_wheel(2, 1).gap_m(2, 0.5).has_role(1, Role::front, 0.0);
  scene.outlook[2].hold_limit_W = 1000.0;
  scene.plans(1, 1000.0);
  scene.second();
  REQUIRE(scene.memory[0].eases_for_group);
  scene.riders.x_m[0] = scene.riders.x_m[2] - 20.0;
  for (int second = 0; second < 60; ++second) {
    scene.second();
    CHECK_FALSE(scene.memory[0].eases_for_group);
    CHECK_FALSE(scene.memory[1].eases_for_group);
  }
  CHECK(scene.count_told(EventKind::waits, 0) == 1);
  CHECK(scene.count_told(EventKind::waits, 1) == 0);
}

TEST_CASE("who stands at a regroup point is not waited for by those who come", "[decide]") {
  Scene scene(3, 40.0);  // too long a group to roll through
  scene.kind = RideKind::together;
  scene.regroup_at_m = {scene.riders.x_m[0] + 1.0};
  scene.riders.v_mps[0] = 0.0;
  scene.second();
  CHECK(scene.memory[0].role == Role::waiting);
  CHECK_FALSE(scene.memory[0].eases_for_group);
  for (RiderIndex i = 0; i < 3; ++i) {
    scene.riders.x_m[i] = scene.regroup_at_m[0] - 1.0 - 2.5 * i;
    scene.riders.v_mps[i] = 0.0;
  }
  scene.seconds(2);
  for (const Memory& memory : scene.memory) CHECK(memory.next_regroup == 1);  // all there: all go on
}

// ---- a wheel is taken that lets go in the same second

TEST_CASE("a wheel that lets go and moves to the edge in this second is not taken in it; the one ahead is", "[decide]") {
  // Rider 1 lets go of rider 0, with rider 2 within 5 m behind; rider 2 has no wheel yet.
  Scene scene(3);
  scene.formation = Formation::one_in_front;
  scene.in_line(0, 1).gap_m(2, 2.0).costs(1, 300.0, 290.0);
  scene.plans(0, 1000.0);
  scene.memory[1].asked_W = 290.0;
  scene.settings.dwell_s = 0.0;
  scene.second();
  REQUIRE(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].side == -1);
  CHECK(scene.memory[2].wheel == 0);
  CHECK(wheels_of_nobody(scene) == 0);
}

TEST_CASE("a wheel that lets go and stays in line is taken in the same second, and leads", "[decide]") {
  Scene scene(3);
  scene.formation = Formation::one_in_front;
  scene.in_line(0, 1).gap_m(2, 6.0).costs(1, 300.0, 290.0);
  scene.plans(0, 1000.0);
  scene.memory[1].asked_W = 290.0;
  scene.settings.dwell_s = 0.0;
  scene.second();
  CHECK(scene.count_told(EventKind::lets_go, 1) == 1);
  CHECK(scene.memory[1].role == Role::front);
  CHECK(scene.memory[2].wheel == 1);
  CHECK(scene.lines.front_of == std::vector<RiderIndex>{0, 1, 1});
}

TEST_CASE("when the front changes everyone of the line is behind the new one in the same second", "[decide]") {
  Scene scene(4);
  scene.in_line().has_role(0, Role::front, 45.0);
  scene.second();
  CHECK(scene.memory[0].role == Role::drifting_back);
  CHECK(scene.memory[1].role == Role::front);
  CHECK(scene.lines.front_of == std::vector<RiderIndex>{1, 1, 1, 1});
  CHECK(wheels_of_nobody(scene) == 0);
  scene.second();
  CHECK(scene.memory[1].role == Role::front);  // once a second, not twice
  CHECK(wheels_of_nobody(scene) == 0);
}

// ---- two swap sides for ever

TEST_CASE("two nearly equal racers do not go past each other for ever", "[decide]") {
  // Each could go 0.14 m/s faster than the other rides: below the margin of 1.5 % nobody moves out.
  Scene scene(2, 2.0);
  scene.kind = RideKind::race;
  scene.formation = Formation::one_in_front;
  int changes = 0;
  for (int second = 0; second < 300; ++second) {
    const int side_before[] = {scene.memory[0].side, scene.memory[1].side};
    for (RiderIndex i = 0; i < 2; ++i) scene.alone_mps(i, 10.14);
    scene.second();
    for (RiderIndex i = 0; i < 2; ++i) changes += scene.memory[i].side != side_before[i];
  }
  CHECK(changes == 0);
}

TEST_CASE("a racer whose speed comes and goes within eight seconds moves out and back at most once a dwell_s", "[decide]") {
  // Faster by 0.5 m/s for 4 s, slower by 0.5 m/s for 4 s: the reason never lasts.
  Scene scene(2, 4.0);
  scene.kind = RideKind::race;
  scene.outlook[1].hold_limit_W = 100.0;  // takes no wheel
  int changes = 0;
  for (int second = 0; second < 300; ++second) {
    const int before = scene.memory[1].side;
    scene.alone_mps(1, second / 4 % 2 == 0 ? 10.5 : 9.5);
    scene.second();
    changes += scene.memory[1].side != before;
  }
  CHECK(changes == 0);
}

TEST_CASE("a pass given up is not begun again before dwell_s", "[decide]") {
  Scene scene(2, 4.0);
  scene.kind = RideKind::race;
  scene.outlook[1].hold_limit_W = 100.0;
  scene.memory[1].side = +1;
  scene.alone_mps(1, 9.5);
  scene.second();
  REQUIRE(scene.memory[1].side == 0);
  scene.alone_mps(1, 10.5);
  for (int second = 0; second < 8; ++second) {
    scene.second();
    CHECK(scene.memory[1].side == 0);
  }
  scene.second();
  CHECK(scene.memory[1].side == +1);
}

TEST_CASE("a rider asked to let by and the one who passes do not dodge each other for ever", "[decide]") {
  // A lane with room on one side only: who passes takes the inside, who is passed the edge, and both stay there.
  Scene scene(2, 1.0);
  scene.kind = RideKind::race;
  scene.memory[1].side = +1;
  scene.alone_mps(1, 10.5);
  scene.outlook[1].hold_limit_W = 100.0;
  scene.riders.blocker[1] = 0;
  scene.riders.y_m[0] = -1.2;
  int changes = 0;
  double wish_before_m = 0.0;
  for (int second = 0; second < 60; ++second) {
    scene.riders.v_mps[1] = scene.riders.v_mps[0];  // held up
    scene.second();
    scene.move();
    const double wish_m = scene.riders.y_target_m[1];
    changes += second > 10 && std::abs(wish_m - wish_before_m) > 0.5;
    wish_before_m = wish_m;
  }
  CHECK(changes == 0);
}
