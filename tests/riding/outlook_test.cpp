/// What a rider will give here, and what a wheel is worth.

#include "riding/outlook.hpp"

#include "leewheel/motion.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

constexpr std::uint64_t seed = 7;

/// One rider of 250 W critical power who plans 200 W and does not wobble.
Scene planning(double effort = 0.8) {
  Scene scene(1);
  scene.riders.settings[0].target_effort = effort;
  scene.settings.effort_wobble = 0.0;
  return scene;
}

Outlook outlook(Scene& scene) {
  Outlook outlook = scene.outlook[0];
  assess(scene.now(), 0, seed, outlook);
  return outlook;
}

}  // namespace

TEST_CASE("the plan of a rider is the last step passed, and the target where there is none", "[outlook]") {
  Scene scene = planning();
  CHECK(outlook(scene).planned_W == 0.8 * 250.0);
  const double here_m = scene.riders.x_m[0];
  scene.riders.plans[0] = {{0.0, 0.7}, {here_m, 0.9}, {here_m + 1.0, 0.6}};
  CHECK(outlook(scene).planned_W == 0.9 * 250.0);
  scene.riders.x_m[0] -= 1.0;
  CHECK(outlook(scene).planned_W == 0.7 * 250.0);
}

TEST_CASE("a plan above critical power is ridden down to the reserve of W' and not below", "[outlook]") {
  Scene scene = planning(1.1);
  scene.riders.wbal_J[0] = 3000.0;
  CHECK(outlook(scene).planned_W == Approx(275.0));
  scene.riders.wbal_J[0] = 2999.0;
  CHECK(outlook(scene).planned_W == 250.0);
  scene.riders.settings[0].target_effort = 0.8;
  CHECK(outlook(scene).planned_W == 200.0);
}

TEST_CASE("the effort wobbles about the plan and is drawn anew every ten seconds", "[outlook]") {
  Scene scene = planning();
  scene.settings.effort_wobble = 0.02;
  scene.time_s = 1000.0;
  const Outlook first = outlook(scene);
  CHECK(first.wobble != 0.0);
  CHECK(first.planned_W == Approx(200.0 * (1.0 + 0.02 * first.wobble)));
  scene.outlook[0] = first;
  scene.time_s = 1009.9;
  CHECK(outlook(scene).wobble == first.wobble);
  scene.time_s = 1010.0;
  CHECK(outlook(scene).wobble != first.wobble);
  scene.outlook[0].wobble_block = UINT64_MAX;
  scene.riders.name_hash[0] += 1;
  scene.time_s = 1000.0;
  CHECK(outlook(scene).wobble != first.wobble);  // everyone has a wobble of his own
}

TEST_CASE("W' above the reserve is spread over five minutes, or over the time to where the road eases if that is longer",
          "[outlook]") {
  Scene scene = planning();
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 2900.0;  // 290 s at 10 m/s
  CHECK(outlook(scene).hold_limit_W == Approx(250.0 + 17000.0 / 300.0));
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 4000.0;
  CHECK(outlook(scene).hold_limit_W == Approx(250.0 + 17000.0 / 400.0));
  scene.riders.v_mps[0] = 0.1;  // standing: as if at 1 m/s
  CHECK(outlook(scene).hold_limit_W == Approx(250.0 + 17000.0 / 4000.0));
}

TEST_CASE("a wheel is worthless from 97 % of the power in front, and stays so down to 96.5 %", "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 0.971 * 200.0);
  CHECK(outlook(scene).wheel_worthless);
  scene.costs(0, 200.0, 0.969 * 200.0);
  CHECK_FALSE(outlook(scene).wheel_worthless);
  scene.outlook[0].wheel_worthless = true;
  scene.costs(0, 200.0, 0.966 * 200.0);
  CHECK(outlook(scene).wheel_worthless);
  scene.costs(0, 200.0, 0.964 * 200.0);
  CHECK_FALSE(outlook(scene).wheel_worthless);
}

TEST_CASE("a rider's own speed is what the plan holds alone", "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 0.8 * 200.0, 8.0);
  scene.outlook[0].own_speed_mps = 8.0;
  CHECK(outlook(scene).own_speed_mps == Approx(8.0));
}

TEST_CASE(
    "to hold a wheel a rider gives at least a tenth more than planned, and critical power once W' is down to the reserve",
    "[outlook]") {
  Scene scene = planning(1.06);
  scene.riders.wbal_J[0] = 3001.0;
  CHECK(outlook(scene).hold_limit_W == Approx(1.1 * 1.06 * 250.0));
  scene.riders.wbal_J[0] = 3000.0;
  CHECK(outlook(scene).hold_limit_W == 250.0);
  scene.riders.wbal_J[0] = 1000.0;
  CHECK(outlook(scene).hold_limit_W == 250.0);
}

TEST_CASE("W' is kept to 15 %, in a race to 5 %", "[outlook]") {
  Scene scene = planning(1.1);
  scene.kind = RideKind::race;
  scene.riders.plans[0] = {{0.0, 1.1}};
  scene.riders.wbal_J[0] = 1001.0;
  CHECK(outlook(scene).planned_W == Approx(275.0));
  scene.riders.wbal_J[0] = 999.0;
  CHECK(outlook(scene).planned_W == 250.0);
}

TEST_CASE("where wheels are worthless everyone climbs freely in steady rides alone, and gives 3 % more than planned",
          "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 199.0);
  scene.kind = GENERATE(RideKind::steady, RideKind::by_strength, RideKind::together, RideKind::free);
  const bool steady = scene.kind == RideKind::steady || scene.kind == RideKind::by_strength;
  const Outlook out = outlook(scene);
  CHECK(out.wheel_worthless);
  CHECK(out.climbs_freely == steady);
  CHECK(out.hold_limit_W == Approx(steady ? 206.0 : 250.0 + 17000.0 / scene.road[0].easing_at_m * 10.0).margin(1.0));
}

TEST_CASE("a free climb begins where the road does not ease for more than two minutes, and goes on to its end",
          "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 199.0);
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 1201.0;  // 120.1 s at 10 m/s
  CHECK(outlook(scene).climbs_freely);
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 1199.0;
  CHECK_FALSE(outlook(scene).climbs_freely);
  scene.outlook[0].climbs_freely = true;
  CHECK(outlook(scene).climbs_freely);
  scene.costs(0, 200.0, 150.0);  // a wheel is worth something again
  CHECK_FALSE(outlook(scene).climbs_freely);
}

// The margin of a free climb is given on top of critical power.
TEST_CASE("without W' to spare a rider gives no more than critical power on a free climb either", "[outlook]") {
  Scene scene = planning(1.0);
  scene.costs(0, 200.0, 199.0);
  scene.riders.wbal_J[0] = 2000.0;
  const Outlook out = outlook(scene);
  REQUIRE(out.climbs_freely);
  CHECK(out.hold_limit_W == 250.0);
}

TEST_CASE("standing at the foot of a climb it lasts as long as at 1 m/s", "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 199.0).riders.v_mps[0] = 0.1;
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 121.0;
  CHECK(outlook(scene).climbs_freely);
  scene.road[0].easing_at_m = scene.riders.x_m[0] + 119.0;
  CHECK_FALSE(outlook(scene).climbs_freely);
}

// ---- what a line may ask

namespace {
/// Outlook after a second in which the rider gave this power.
Outlook after_giving(Scene& scene, double power_W) {
  scene.riders.ledgers.pedal_J[0] = scene.outlook[0].given_J + power_W;
  return outlook(scene);
}
}  // namespace

TEST_CASE("what was given below the plan a line may ask over the next 300 s, what was above it spares", "[outlook]") {
  Scene scene = planning();
  Outlook out = after_giving(scene, 140.0);
  CHECK(out.debt_J == Approx(60.0));
  CHECK(out.line_W == Approx(200.0 + 60.0 / 300.0));
  scene.outlook[0] = out;
  out = after_giving(scene, 290.0);  // 90 W above
  CHECK(out.debt_J == Approx(-30.0));
  CHECK(out.line_W == Approx(200.0 - 30.0 / 300.0));
  CHECK(out.given_J == scene.riders.ledgers.pedal_J[0]);
}

TEST_CASE("debt is owed to the plan, not to its wobble", "[outlook]") {
  Scene scene = planning();
  scene.settings.effort_wobble = 0.1;
  const Outlook out = after_giving(scene, 200.0);
  CHECK(out.planned_W != 200.0);
  CHECK(out.line_W == 200.0);
}

TEST_CASE("a line asks at most a fifth more or less than the plan", "[outlook]") {
  Scene scene = planning();
  scene.outlook[0].debt_J = 11999.0;  // of 200 W * 0.2 * 300 s
  CHECK(after_giving(scene, 199.5).line_W == Approx(200.0 + 11999.5 / 300.0));
  CHECK(after_giving(scene, 100.0).line_W == Approx(240.0));
  scene.outlook[0].debt_J = -11999.0;
  CHECK(after_giving(scene, 300.0).line_W == Approx(160.0));
}

TEST_CASE("who waits owes nothing for it", "[outlook]") {
  Scene scene = planning();
  scene.outlook[0].debt_J = 30.0;
  scene.has_role(0, Role::waiting);
  const Outlook out = after_giving(scene, 0.0);
  CHECK(out.debt_J == 30.0);
  CHECK(out.given_J == scene.riders.ledgers.pedal_J[0]);
}

TEST_CASE("in a race nobody makes good what was left", "[outlook]") {
  Scene scene = planning();
  scene.riders.plans[0] = {{0.0, 0.8}};
  scene.outlook[0].debt_J = 6000.0;
  scene.kind = RideKind::race;
  CHECK(after_giving(scene, 100.0).line_W == 200.0);
  scene.kind = RideKind::free;
  CHECK(after_giving(scene, 100.0).line_W == Approx(200.0 + 6100.0 / 300.0));
}

TEST_CASE("a line asks no more than critical power of who has no W' to spare", "[outlook]") {
  Scene scene = planning(0.96);
  scene.outlook[0].debt_J = 6000.0;
  scene.riders.wbal_J[0] = 3000.0;
  CHECK(after_giving(scene, 240.0).line_W == Approx(260.0));
  scene.riders.wbal_J[0] = 2999.0;
  CHECK(after_giving(scene, 240.0).line_W == 250.0);
  scene.outlook[0].debt_J = 0.0;
  CHECK(after_giving(scene, 240.0).line_W == 240.0);
}

TEST_CASE("at first the shelter of the line is the mean of all the time behind, what was expected counting for a minute",
          "[outlook]") {
  Scene scene = planning();
  scene.has_role(0, Role::following);
  scene.outlook[0].behind_factor = 0.75;
  scene.outlook[0].behind_s = 60.0;
  scene.riders.drag_factor[0] = 0.45;
  CHECK(outlook(scene).behind_factor == Approx(0.75 - 0.3 / 61.0));
  scene.outlook[0].behind_s = 299.5;
  CHECK(outlook(scene).behind_s == 300.0);
}

TEST_CASE("the shelter of the line is what it was over 300 s behind, the way back included, and in front it stays",
          "[outlook]") {
  Scene scene = planning();
  scene.riders.drag_factor[0] = 0.94;
  for (const Role role : {Role::following, Role::drifting_back, Role::front, Role::alone, Role::chasing}) {
    INFO(role_names[static_cast<std::size_t>(role)]);
    const bool behind = role == Role::following || role == Role::drifting_back;
    scene.has_role(0, role);
    CHECK(outlook(scene).behind_factor == Approx(0.64 + (behind ? 0.3 / 300.0 : 0.0)));
  }
}

// ---- in a race

TEST_CASE("a racer gives critical power and spreads the W' to spare over the time to the finish", "[outlook]") {
  Scene scene = planning();
  scene.kind = RideKind::race;
  scene.road[0].slope_N = 12.5;  // half of 250 W at 10 m/s goes into height
  scene.road[0].to_finish_s = 950.0;
  CHECK(outlook(scene).planned_W == Approx(250.0 + 19000.0 / 950.0));
  scene.riders.wbal_J[0] = 10500.0;
  CHECK(outlook(scene).planned_W == Approx(250.0 + 9500.0 / 950.0));
  CHECK(outlook(scene).line_W == Approx(260.0));
  scene.riders.wbal_J[0] = 900.0;
  CHECK(outlook(scene).planned_W == Approx(250.0));
}

TEST_CASE("a racer gives a tenth of critical power more where all goes into height than on the level", "[outlook]") {
  Scene scene = planning();
  scene.kind = RideKind::race;
  scene.riders.wbal_J[0] = 1000.0;  // nothing to spare
  const auto planned_W = [&](double slope_N) {
    scene.road[0].slope_N = slope_N;
    return outlook(scene).plan_W;
  };
  CHECK(planned_W(0.0) == Approx(250.0 - 12.5));
  CHECK(planned_W(25.0) == Approx(250.0 + 12.5));
  CHECK(planned_W(100.0) == Approx(250.0 + 12.5));
  CHECK(planned_W(-12.5) == Approx(250.0 - 25.0));
  CHECK(planned_W(-25.0) == Approx(250.0 - 37.5));
  CHECK(planned_W(-100.0) == Approx(250.0 - 37.5));
  scene.outlook[0].own_speed_mps = 5.0;  // by the rider's own speed, not by that of the moment
  CHECK(planned_W(25.0) == Approx(250.0));
}

TEST_CASE("in the last 5 s the rest of W' is spread over 5 s still", "[outlook]") {
  Scene scene = planning();
  scene.kind = RideKind::race;
  scene.road[0].slope_N = 12.5;
  scene.riders.wbal_J[0] = 1000.0 + 600.0;
  scene.road[0].to_finish_s = 6.0;
  CHECK(outlook(scene).planned_W == Approx(350.0));
  scene.road[0].to_finish_s = 4.0;
  CHECK(outlook(scene).planned_W == Approx(250.0 + 120.0));
  scene.road[0].to_finish_s = 0.0;
  CHECK(outlook(scene).planned_W == Approx(250.0 + 120.0));
}

TEST_CASE("a racer with a plan of his own keeps to it, and in other kinds nobody spends W' by the finish", "[outlook]") {
  Scene scene = planning();
  scene.road[0].to_finish_s = 100.0;
  scene.kind = GENERATE(RideKind::free, RideKind::steady, RideKind::together, RideKind::by_strength);
  CHECK(outlook(scene).planned_W == 200.0);
  scene.kind = RideKind::race;
  CHECK(outlook(scene).planned_W == Approx(250.0 - 12.5 + 19000.0 / 100.0));
  scene.riders.plans[0] = {{0.0, 0.9}};
  CHECK(outlook(scene).planned_W == Approx(225.0));
}

// ---- what a wheel asks, and who can lead

TEST_CASE("a wheel is priced at its speed and as its line slows, but not as it speeds up", "[outlook]") {
  Scene scene(3);
  scene.in_line(0, 1);
  const auto asked_W = [&](double accel_mps2) {
    scene.riders.accel_mps2[0] = accel_mps2;
    return asked_by_wheel_W(scene.now(), 2, Role::alone, 1);
  };
  CHECK(asked_W(0.0) == Approx(150.0));
  CHECK(asked_W(0.3) == Approx(150.0));
  CHECK(asked_W(-0.05) == Approx(150.0 - scene.riders.moving_mass_kg[2] * 0.05 * 10.0));
  scene.riders.accel_mps2[1] = -0.5;  // of the wheel alone, who may just be closing a gap
  CHECK(asked_W(0.0) == Approx(150.0));
  scene.riders.v_mps[1] = 9.0;
  CHECK(asked_W(0.0) == Approx(cost_at(scene.now(), 2).power_W(9.0, 0.64)));
}

namespace {
double share(Scene& scene, double line_W, double accel_mps2 = 0.0) {
  scene.outlook[0].line_W = line_W;
  return pull_share(puller(scene.now(), 0, 0, 10.0), accel_mps2);
}
}  // namespace

TEST_CASE("the share in front is what the plan leaves over the wheel, as part of what the front costs more", "[outlook]") {
  Scene scene(1);
  scene.plans(0, 500.0);  // what a line may ask counts, not the plan
  CHECK(share(scene, 200.0) == Approx(0.5));
  CHECK(share(scene, 160.0) == Approx(0.1));
  CHECK(share(scene, 150.1) == Approx(0.001));
  CHECK(share(scene, 149.9) == 0.0);
  CHECK(share(scene, 249.9) == Approx(0.999));
  CHECK(share(scene, 250.1) == 1.0);
  scene.costs(0, 250.0, 249.5);  // a wheel that saves less than a watt: all or nothing
  CHECK(share(scene, 250.6) == 1.0);
  CHECK(share(scene, 249.4) == 0.0);
}

TEST_CASE("speeding up costs in front and behind, and leaves less of the plan for the front", "[outlook]") {
  Scene scene(1);
  const double accel_mps2 = 10.0 / (scene.riders.moving_mass_kg[0] * 10.0);  // 10 W
  CHECK(share(scene, 200.0, accel_mps2) == Approx(0.4));
  CHECK(share(scene, 200.0, -accel_mps2) == Approx(0.6));
  CHECK(share(scene, 159.0, accel_mps2) == 0.0);
  // Slowing so much that nobody behind need pedal: the front costs 80 W.
  CHECK(share(scene, 20.0, -17.0 * accel_mps2) == Approx(0.25));
}

TEST_CASE("the share in front is reckoned with the shelter of late, of which a wake never asks more than the wind",
          "[outlook]") {
  Scene scene(1);
  scene.outlook[0].behind_factor = 0.82;  // 200 W
  CHECK(share(scene, 225.0) == Approx(0.5));
  scene.outlook[0].behind_factor = 1.3;
  CHECK(share(scene, 251.1) == 1.0);
  CHECK(share(scene, 249.9) == 0.0);
}

TEST_CASE("who is told to sit in has no share in front", "[outlook]") {
  Scene scene(1);
  scene.is_told(0, Choice::sits_in);
  CHECK(share(scene, 260.0) == 0.0);
}
