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

TEST_CASE("to hold a wheel a rider gives critical power without reserve, and at least a tenth more than planned",
          "[outlook]") {
  Scene scene = planning();
  scene.riders.wbal_J[0] = 1000.0;
  CHECK(outlook(scene).hold_limit_W == 250.0);
  scene.riders.settings[0].target_effort = 0.96;
  CHECK(outlook(scene).hold_limit_W == Approx(1.1 * 0.96 * 250.0));
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

TEST_CASE("where wheels are worthless everyone climbs freely in a steady ride alone, and gives 3 % more than planned",
          "[outlook]") {
  Scene scene = planning();
  scene.costs(0, 200.0, 199.0);
  scene.kind = GENERATE(RideKind::steady, RideKind::together, RideKind::race);
  const bool steady = scene.kind == RideKind::steady;
  const Outlook out = outlook(scene);
  CHECK(out.wheel_worthless);
  CHECK(out.climbs_freely == steady);
  CHECK(out.hold_limit_W == Approx(steady ? 206.0 : 250.0 + 17000.0 / scene.road[0].easing_at_m * 10.0).margin(1.0));
}

TEST_CASE("a rider's own speed is what the plan holds alone, the speed held on a wheel what 95 % of the limit holds there",
          "[outlook]") {
  Scene scene = planning();
  scene.riders.wbal_J[0] = 3000.0;  // a limit of 250 W
  scene.costs(0, 200.0, 0.8 * 200.0, 8.0);
  scene.outlook[0].own_speed_mps = 8.0;
  CHECK(outlook(scene).own_speed_mps == Approx(8.0));
  scene.costs(0, 300.0, 0.95 * 250.0, 9.0);
  scene.outlook[0].hold_speed_mps = 9.0;
  CHECK(outlook(scene).hold_speed_mps == Approx(9.0));
  scene.riders.drag_factor[0] = 0.5;  // a better wake than the usual counts on a wheel held, and there alone
  CHECK(outlook(scene).hold_speed_mps == Approx(9.0));
  scene.has_role(0, Role::following);
  CHECK(outlook(scene).hold_speed_mps > 9.1);
}

TEST_CASE("a wheel is priced at its speed, or at the pace of its line when that is lower", "[outlook]") {
  Scene scene(3);
  scene.in_line(0, 1);
  scene.costs(2, 250.0, 150.0, 10.0);
  const Cost cost = cost_at(scene.now(), 2);
  const auto asked_W = [&](double pace_mps) {
    scene.memory[0].line_pace_mps = pace_mps;
    return asked_by_wheel_W(scene.now(), 2, Role::alone, 1);
  };
  CHECK(asked_W(0.0) == Approx(150.0));
  CHECK(asked_W(11.0) == Approx(150.0));
  CHECK(asked_W(9.0) == Approx(cost.power_W(9.0, 0.64)));
  CHECK(asked_W(9.0) < 135.0);
}

TEST_CASE("the share in front is what the plan leaves over the wheel, as part of what the front costs more", "[outlook]") {
  Scene scene(1);
  scene.costs(0, 250.0, 150.0);
  const auto share = [&](double planned_W) {
    scene.outlook[0].planned_W = planned_W;
    return pull_share(scene.now(), 0, Role::alone, 10.0);
  };
  CHECK(share(200.0) == Approx(0.5));
  CHECK(share(160.0) == Approx(0.1));
  CHECK(share(140.0) == 0.0);
  CHECK(share(260.0) == 1.0);
  scene.costs(0, 250.0, 249.5);  // a wheel that saves less than a watt: all or nothing
  CHECK(share(250.1) == 1.0);
  CHECK(share(249.9) == 0.0);
  scene.costs(0, 250.0, 150.0).is_told(0, Choice::sits_in);
  CHECK(share(260.0) == 0.0);
}

TEST_CASE("for turns a wheel is taken to save a fifth of the drag at least", "[outlook]") {
  Scene scene(1);
  scene.costs(0, 250.0, 150.0);
  scene.settings.unknown_wheel_factor = 0.95;
  scene.riders.drag_factor[0] = 0.95;
  const double wheel_W = 250.0 - 100.0 * 0.2 / 0.36;  // at a factor of 0.8
  CHECK(pull_share(scene.now(), 0, Role::following, 10.0) == Approx((200.0 - wheel_W) / (250.0 - wheel_W)));
}
