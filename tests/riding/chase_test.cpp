/// Taking a wheel that is near, chasing one that is not.

#include "riding/follow.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Rider 1 rides alone behind rider 0.
Scene two_apart(double gap_m, double asks_W = 150.0, double will_give_W = 220.0) {
  Scene scene(2);
  scene.gap_m(1, gap_m).costs(1, asks_W + 50.0, asks_W);
  scene.outlook[1].hold_limit_W = will_give_W;
  return scene;
}

}  // namespace

// ---- taking a wheel

TEST_CASE("a wheel 11.9 m ahead can be taken, one 12.1 m ahead cannot", "[follow]") {
  Scene scene = two_apart(11.9);
  CHECK(scene.ask(wheel_pays, 1).holds);
  CHECK_THAT(scene.ask(wheel_pays, 1).because, Is(Reason::wheel_within_reach, 0, {11.9}));
  CHECK_FALSE(scene.gap_m(1, 12.1).ask(wheel_pays, 1).holds);
}

TEST_CASE("a wheel is taken that asks less than 97 % of what the rider will give", "[follow]") {
  CHECK(two_apart(5.0, 193.9, 200.0).ask(wheel_pays, 1).holds);
  CHECK_FALSE(two_apart(5.0, 194.1, 200.0).ask(wheel_pays, 1).holds);
}

TEST_CASE("within a minute of letting go a wheel must ask less than 90 %, whosever it is", "[follow]") {
  const double asks_W = GENERATE(179.0, 181.0);
  Scene scene = two_apart(5.0, asks_W, 200.0);
  scene.memory[1].let_go_of = GENERATE(0u, 1u);  // of the rider ahead, or of someone else
  scene.memory[1].no_chase_until_s = start_s + 1.0;
  CHECK(scene.ask(wheel_pays, 1).holds == (asks_W < 180.0));
  scene.memory[1].no_chase_until_s = start_s;  // the minute is over
  CHECK(scene.ask(wheel_pays, 1).holds);
}

TEST_CASE("where everyone climbs freely the wheel let go must ask less than 90 % for good, another need not", "[follow]") {
  Scene scene = two_apart(5.0, 185.0, 200.0);
  scene.outlook[1].climbs_freely = true;
  scene.memory[1].let_go_of = 0;
  CHECK_FALSE(scene.ask(wheel_pays, 1).holds);
  scene.memory[1].let_go_of = 1;
  CHECK(scene.ask(wheel_pays, 1).holds);
}

TEST_CASE("only a rider alone or in front takes a wheel", "[follow]") {
  Scene scene = two_apart(5.0);
  for (const Role role : {Role::alone, Role::front, Role::drifting_back, Role::chasing, Role::waiting}) {
    INFO(role_names[static_cast<std::size_t>(role)]);
    CHECK(scene.has_role(1, role).ask(wheel_pays, 1).holds == (role == Role::alone || role == Role::front));
  }
}

TEST_CASE("a wheel taken is told after more than 20 s without one", "[follow]") {
  Scene scene = two_apart(5.0);
  const double alone_s = GENERATE(20.0, 21.0);
  scene.has_role(1, Role::alone, alone_s);
  scene.memory[1].let_go_of = 0;
  scene.second();
  CHECK(scene.memory[1].role == Role::following);
  CHECK(scene.memory[1].wheel == 0);
  CHECK(scene.memory[1].let_go_of == nobody);
  CHECK(scene.memory[1].asked_W == 0.0);
  CHECK_THAT(scene.memory[1].why, Is(Reason::wheel_within_reach, 0, {5.0}));
  CHECK(told_in(scene.told) == (alone_s > 20.0 ? std::vector<Told>{{EventKind::follows, 1, 0}} : std::vector<Told>{}));
}

// ---- chasing

TEST_CASE("a wheel beyond reach is chased within 60 m, and told with its gap and price of 60 J a metre", "[follow]") {
  Scene scene = two_apart(30.0);
  scene.second();
  CHECK(scene.memory[1].role == Role::chasing);
  CHECK(scene.memory[1].wheel == 0);
  CHECK(scene.memory[1].asked_W == 0.0);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::chases, 1, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::can_reach, 0, {30.0, 1800.0}));
}

TEST_CASE("a chase may cost half of the W' above the reserve and not more", "[follow]") {
  Scene scene = two_apart(30.0);  // 1,800 J
  scene.riders.wbal_J[1] = 3000.0 + 3601.0;
  CHECK(scene.ask(can_reach, 1).holds);
  scene.riders.wbal_J[1] = 3000.0 + 3599.0;
  CHECK_FALSE(scene.ask(can_reach, 1).holds);
}

TEST_CASE("the first of a group chases only where everyone goes their own way, in a free ride and a race", "[follow]") {
  Scene scene = two_apart(30.0);
  scene.lines.size[1] = 2;
  scene.kind = GENERATE(RideKind::together, RideKind::steady, RideKind::by_strength, RideKind::free, RideKind::race);
  CHECK(scene.ask(can_reach, 1).holds == (scene.kind == RideKind::race || scene.kind == RideKind::free));
  scene.lines.size[1] = 1;
  CHECK(scene.ask(can_reach, 1).holds);
}

TEST_CASE("nobody chases within a minute of letting go, nor where everyone climbs freely", "[follow]") {
  Scene scene = two_apart(30.0);
  scene.memory[1].no_chase_until_s = start_s;
  CHECK_FALSE(scene.ask(can_reach, 1).holds);
  scene.memory[1].no_chase_until_s = start_s - 0.1;
  CHECK(scene.ask(can_reach, 1).holds);
  scene.outlook[1].climbs_freely = true;
  CHECK_FALSE(scene.ask(can_reach, 1).holds);
}

TEST_CASE("nobody chases a wheel that asks more than 97 % of what the rider will give", "[follow]") {
  CHECK(two_apart(30.0, 193.9, 200.0).ask(can_reach, 1).holds);
  CHECK_FALSE(two_apart(30.0, 194.1, 200.0).ask(can_reach, 1).holds);
}

TEST_CASE("a chase ends on the wheel at half its reach", "[follow]") {
  Scene scene = two_apart(6.1);
  scene.holds_wheel(1, 0).has_role(1, Role::chasing);
  scene.let(1, hold_wheel);
  CHECK(scene.next[1].role == Role::chasing);
  CHECK(scene.told.empty());
  scene.gap_m(1, 5.9).let(1, hold_wheel);
  CHECK(scene.next[1].role == Role::following);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::follows, 1, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::on_wheel, 0));
}
