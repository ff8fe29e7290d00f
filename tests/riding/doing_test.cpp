/// What a rider is doing while a group changes.

#include "riding/doing.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {
Because told_of(Scene& scene, RiderIndex i) {
  scene.now();  // wheels into the columns
  return doing(scene.riders, scene.settings, scene.memory[i], scene.outlook[i], i);
}
}  // namespace

TEST_CASE("a rider within 25 m of a stop is told as at the regroup point, one 26 m away is not", "[doing]") {
  Scene scene(1);
  scene.riders.stop_at_m[0] = scene.riders.x_m[0] + 24.9;
  CHECK_THAT(told_of(scene, 0), Is(Reason::at_regroup_point));
  scene.riders.stop_at_m[0] = scene.riders.x_m[0] + 25.1;
  CHECK_THAT(told_of(scene, 0), Is(Reason::at_start));
}

TEST_CASE("a free climb is told with the rider's own speed, before everything but the regroup point", "[doing]") {
  Scene scene(2);
  scene.in_line().outlook[1].climbs_freely = true;
  scene.riders.wbal_J[1] = 0.0;
  scene.riders.power_W[1] = 300.0;
  CHECK_THAT(told_of(scene, 1), Is(Reason::climbs_freely, nobody, {10.0}));
  scene.has_role(1, Role::waiting);
  CHECK_THAT(told_of(scene, 1), Is(Reason::nothing_left, nobody, {300.0}));
}

TEST_CASE("a rider with less than 2 % of W' at more than 95 % of critical power has nothing left", "[doing]") {
  Scene scene(1);
  const auto reason = [&](double wbal_J, double power_W) {
    scene.riders.wbal_J[0] = wbal_J;
    scene.riders.power_W[0] = power_W;
    return told_of(scene, 0);
  };
  CHECK_THAT(reason(399.0, 240.0), Is(Reason::nothing_left, nobody, {240.0}));
  CHECK_THAT(reason(401.0, 240.0), Is(Reason::at_start));
  CHECK_THAT(reason(399.0, 237.0), Is(Reason::at_start));
}

TEST_CASE("on a wheel a rider is told with gap, cost and limit, just taken without them", "[doing]") {
  Scene scene(2);
  scene.in_line();
  CHECK_THAT(told_of(scene, 1), Is(Reason::behind_wheel, 0, {0.5, 150.0, 220.0}));
  CHECK_THAT(told_of(scene.gap_m(1, -0.2), 1), Is(Reason::behind_wheel, 0, {0.0, 150.0, 220.0}));
  scene.memory[1].asked_W = 0.9;
  CHECK_THAT(told_of(scene, 1), Is(Reason::on_wheel, 0));
}

TEST_CASE("who let a wheel go is told as back with it within 6 m, but the cost of it comes first", "[doing]") {
  Scene scene(2, 4.2);
  scene.memory[1].let_go_of = 0;
  CHECK_THAT(told_of(scene, 1), Is(Reason::back_with, 0));
  CHECK_THAT(told_of(scene.gap_m(1, 4.4), 1), Is(Reason::let_wheel_go, 0));
  scene.memory[1].why = {Reason::wheel_too_costly, 0, {208.0, 200.0}};
  CHECK_THAT(told_of(scene, 1), Is(Reason::wheel_too_costly, 0, {208.0, 200.0}));
}

TEST_CASE("who goes back or leads is told so, anyone else by the reason of what he does", "[doing]") {
  Scene scene(1);
  CHECK_THAT(told_of(scene.has_role(0, Role::drifting_back), 0), Is(Reason::comes_back));
  CHECK_THAT(told_of(scene.has_role(0, Role::front), 0), Is(Reason::leads, nobody, {10.0}));
  scene.has_role(0, Role::alone).memory[0].why = {Reason::gap_opened, 3};
  CHECK_THAT(told_of(scene, 0), Is(Reason::gap_opened, 3));
}
