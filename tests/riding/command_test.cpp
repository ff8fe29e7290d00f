/// What a rider does until the next second.

#include "riding/command.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {
Command command(Scene& scene, RiderIndex i) { return command_for(scene.settling(), i); }
}  // namespace

TEST_CASE("riding freely a rider gives the plan, and three quarters of it to ease", "[command]") {
  Scene scene(1);
  CHECK(command(scene, 0).free_W == 200.0);
  scene.memory[0].eases = true;
  CHECK(command(scene, 0).free_W == 150.0);
  scene.memory[0].eases = false;
  scene.memory[0].eases_for_group = true;
  CHECK(command(scene, 0).free_W == 150.0);
  scene.has_role(0, Role::waiting);
  CHECK(command(scene, 0).free_W == 0.0);
}

TEST_CASE("in a ride together who eases for riders behind rides at three quarters of the next one's speed", "[command]") {
  Scene scene(2, 20.0);
  scene.memory[0].eases_for_group = true;
  scene.riders.v_mps[1] = 9.0;
  CHECK(command(scene, 0).free_W == 150.0);
  scene.kind = RideKind::together;
  CHECK(command(scene, 0).free_W == Approx(cost_at(scene.now(), 0).power_W(6.75, 1.0)));
  scene.riders.v_mps[1] = 20.0;
  CHECK(command(scene, 0).free_W == 150.0);
}

TEST_CASE("the most that a rider gives depends on what he does", "[command]") {
  // Critical power 250 W, plan 200 W, limit for a wheel 220 W, 900 W with all of W' left.
  Scene scene(2);
  scene.in_line(0, 1);
  const auto most_W = [&](Role role) { return command(scene.has_role(0, role), 0).most_W; };
  CHECK(most_W(Role::front) == Approx(900.0));
  CHECK(most_W(Role::following) == Approx(1.35 * 250.0));
  CHECK(most_W(Role::chasing) == Approx(1.15 * 250.0));
  CHECK(most_W(Role::waiting) == 0.0);
  CHECK(most_W(Role::alone) == Approx(900.0));
  CHECK(most_W(Role::drifting_back) == Approx(1.35 * 250.0));
}

TEST_CASE("what a rider will give for a wheel counts where it is more than the surge or the chase allow", "[command]") {
  Scene scene(2);
  scene.in_line(0, 1);
  scene.outlook[1].hold_limit_W = 400.0;
  CHECK(command(scene, 1).most_W == 400.0);
  CHECK(command(scene.has_role(1, Role::chasing), 1).most_W == 400.0);
}

TEST_CASE("nobody gives more than W' allows, whatever he means to do", "[command]") {
  Scene scene(2);
  scene.in_line(0, 1);
  scene.riders.wbal_J[0] = scene.riders.wbal_J[1] = 0.0;
  scene.memory[0].front_W = 300.0;
  CHECK(command(scene, 0).free_W == 250.0);
  CHECK(command(scene, 0).most_W == 250.0);
  CHECK(command(scene, 1).most_W == 220.0);
  scene.outlook[1].hold_limit_W = 300.0;
  CHECK(command(scene, 1).most_W == 250.0);
}

TEST_CASE("a slower pace is asked for with as much again, a faster one as it is, and never below 1 m/s", "[command]") {
  Scene scene(1);
  CHECK(promptly_mps(scene.now(), 0, 9.0) == 8.0);
  CHECK(promptly_mps(scene.now(), 0, 11.0) == 11.0);
  CHECK(promptly_mps(scene.now(), 0, 2.0) == 1.0);
}

TEST_CASE("the first of a line gives the line's power in front, or its own plan where it rides by that; nobody else does",
          "[command]") {
  Scene scene(2);
  scene.in_line();
  scene.memory[0].front_W = 270.0;
  CHECK(command(scene, 0).free_W == 270.0);
  scene.memory[0].front_W = 0.0;  // downhill
  CHECK(command(scene, 0).free_W == 0.0);
  scene.memory[0].front_W = own_plan;
  CHECK(command(scene, 0).free_W == 200.0);
  scene.memory[1].front_W = 270.0;  // of a line once led
  CHECK(command(scene, 1).free_W == 200.0);
  scene.has_role(0, Role::alone).memory[0].front_W = 270.0;
  CHECK(command(scene, 0).free_W == 200.0);
}

TEST_CASE("only who goes back is given a pace, the first none", "[command]") {
  Scene scene(4);
  scene.in_line(1, 3).has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  scene.memory[0].side = +1;
  CHECK(command(scene, 1).pace_mps == 0.0);
  CHECK(command(scene, 0).pace_mps == Approx(10.0));  // not yet clear of the line
  CHECK(command(scene, 2).pace_mps == 0.0);
}

TEST_CASE("nobody speeds up by more than 0.5 m/s2 and what the descent gives", "[command]") {
  Scene scene(2);
  scene.in_line();
  const double mass_kg = scene.riders.moving_mass_kg[1];
  scene.road[0].slope_N = -mass_kg;  // where the wheel is
  CHECK(command(scene, 1).most_mps2 == 0.5);
  scene.road[1].slope_N = -0.2 * mass_kg;
  CHECK(command(scene, 1).most_mps2 == Approx(0.7));
  scene.road[1].slope_N = 0.2 * mass_kg;
  CHECK(command(scene, 1).most_mps2 == 0.5);
  scene.settings.comfort_acceleration_mps2 = 0.3;
  scene.second();
  CHECK(scene.riders.most_mps2[1] == Approx(0.3));
}

TEST_CASE("with W' down to the reserve nobody surges to stay on a wheel or to reach one", "[command]") {
  Scene scene(2);
  scene.in_line().has_role(1, GENERATE(Role::following, Role::chasing));
  const bool chases = scene.memory[1].role == Role::chasing;
  scene.riders.wbal_J[1] = 3001.0;
  CHECK(command(scene, 1).most_W == Approx((chases ? 1.15 : 1.35) * 250.0));
  scene.riders.wbal_J[1] = 2999.0;
  CHECK(command(scene, 1).most_W == 220.0);
  scene.kind = RideKind::race;  // there the reserve is smaller
  CHECK(command(scene, 1).most_W == Approx((chases ? 1.15 : 1.35) * 250.0));
  scene.riders.wbal_J[1] = 999.0;
  CHECK(command(scene, 1).most_W == 220.0);
}

TEST_CASE("who leads a second echelon leaves room to the first", "[command]") {
  Scene scene(4);
  scene.in_line(0, 1).in_line(2, 3).gap_m(2, 5.0);
  scene.memory[2].no_follow_until_s = start_s + 1.0;
  scene.riders.v_mps[1] = 9.0;
  CHECK(command(scene, 2).pace_mps == Approx(9.0));
  scene.has_role(2, Role::alone);
  CHECK(command(scene, 2).pace_mps == Approx(9.0));
  scene.has_role(2, Role::chasing);
  CHECK(command(scene, 2).pace_mps == 0.0);
  scene.has_role(2, Role::alone);
  scene.memory[2].no_follow_until_s = start_s;
  CHECK(command(scene, 2).pace_mps == 0.0);
}
