/// Whose wheel, holding it, losing it, letting it go.

#include "riding/follow.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Rider 1 on the wheel of rider 0, for good: what the wheel asks it has asked for long.
Scene two_in_line(double asks_W = 150.0, double will_give_W = 220.0) {
  Scene scene(2);
  scene.formation = Formation::one_in_front;
  scene.in_line().costs(1, asks_W + 50.0, asks_W);
  scene.memory[1].asked_W = asks_W;
  scene.outlook[1].hold_limit_W = will_give_W;
  scene.plans(0, 1000.0);  // so that the line rides on at 10 m/s
  return scene;
}

RiderIndex wheel_of(Scene& scene, RiderIndex i) {
  RiderIndex wheel = nobody;
  scene.let(i, [&](const View& v, Proposal&) { wheel = v.wheel; });
  return wheel;
}

}  // namespace

// ---- whose wheel

TEST_CASE("the wheel ahead is the nearest; the first rider on the road has none", "[follow]") {
  Scene scene(3);
  CHECK(wheel_of(scene, 2) == 1);
  CHECK(wheel_of(scene, 1) == 0);
  CHECK(wheel_of(scene, 0) == nobody);
}

TEST_CASE("a rider 59.9 m ahead has a wheel, one 60.1 m ahead has none", "[follow]") {
  Scene scene(2);
  CHECK(wheel_of(scene.gap_m(1, 59.9), 1) == 0);
  CHECK(wheel_of(scene.gap_m(1, 60.1), 1) == nobody);
}

TEST_CASE("a rider 0.29 m further on is alongside and has no wheel to take, one 0.31 m further on has", "[follow]") {
  Scene scene(3);
  scene.riders.x_m[2] = scene.riders.x_m[1] - 0.29;
  CHECK(wheel_of(scene, 2) == 0);
  scene.riders.x_m[2] = scene.riders.x_m[1] - 0.31;
  CHECK(wheel_of(scene, 2) == 1);
}

TEST_CASE("nobody takes the wheel of a rider who goes back, waits, is aside, or belongs to the other group", "[follow]") {
  Scene scene(3);
  scene.has_role(1, Role::drifting_back);
  CHECK(wheel_of(scene, 2) == 0);
  scene.has_role(1, Role::waiting);
  CHECK(wheel_of(scene, 2) == 0);
  scene.has_role(1, Role::alone);
  CHECK(wheel_of(scene, 2) == 1);
  scene.memory[1].side = GENERATE(1, -1);
  CHECK(wheel_of(scene, 2) == 0);
  scene.memory[1].side = 0;
  scene.riders.squad[1] = 1;
  CHECK(wheel_of(scene, 2) == 0);
}

TEST_CASE("who has moved aside in this very second has no wheel to take, whatever was so at its start", "[follow]") {
  Scene scene(3);
  scene.ahead.resize(3);
  scene.ahead[1].side = -1;
  CHECK(wheel_of(scene, 2) == 0);
  scene.memory[1].side = -1;
  scene.ahead[1].side = 0;
  CHECK(wheel_of(scene, 2) == 1);
}

// ---- letting go

TEST_CASE("a wheel asking 4 % more than a rider will give is let go after dwell_s, with both powers as the reason",
          "[follow]") {
  Scene scene = two_in_line(208.0, 200.0);
  scene.seconds(8);
  CHECK(scene.memory[1].role == Role::following);
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::lets_go, 1, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::wheel_too_costly, 0, {208.0, 200.0}));
}

TEST_CASE("a wheel asking 2 % more than a rider will give is held", "[follow]") {
  Scene scene = two_in_line(204.0, 200.0);
  scene.seconds(60);
  CHECK(scene.memory[1].role == Role::following);
  CHECK(scene.memory[1].wheel == 0);
}

TEST_CASE("a wheel costs too much above 103 % of what the rider will give", "[follow]") {
  Scene scene = two_in_line(206.1, 200.0);
  CHECK(scene.ask(cannot_hold, 1).holds);
  CHECK_THAT(scene.ask(cannot_hold, 1).because, Is(Reason::wheel_too_costly, 0, {206.1, 200.0}));
  scene.memory[1].asked_W = 205.9;
  CHECK_FALSE(scene.ask(cannot_hold, 1).holds);
}

TEST_CASE("a wheel 24.1 m away is lost, one 23.9 m away is not", "[follow]") {
  Scene scene = two_in_line();
  CHECK(scene.gap_m(1, 24.1).ask(cannot_hold, 1).holds);
  CHECK_THAT(scene.ask(cannot_hold, 1).because, Is(Reason::gap_opened, 0));
  CHECK_FALSE(scene.gap_m(1, 23.9).ask(cannot_hold, 1).holds);
}

TEST_CASE("a chase is over when W' is down to the reserve, however far the wheel", "[follow]") {
  Scene scene = two_in_line();
  scene.has_role(1, Role::chasing).gap_m(1, 40.0);
  scene.riders.wbal_J[1] = 3001.0;
  CHECK_FALSE(scene.ask(cannot_hold, 1).holds);
  scene.riders.wbal_J[1] = 2999.0;
  CHECK(scene.ask(cannot_hold, 1).holds);
  CHECK_THAT(scene.ask(cannot_hold, 1).because, Is(Reason::gap_opened, 0));
}

TEST_CASE("who lets go neither chases nor follows again for a minute, and remembers whose wheel it was", "[follow]") {
  Scene scene = two_in_line(208.0, 200.0);
  scene.settings.dwell_s = 0.0;
  scene.second();
  CHECK(scene.memory[1].let_go_of == 0);
  CHECK(scene.memory[1].no_chase_until_s == start_s + 60.0);
  CHECK(scene.memory[1].wheel == nobody);
}

TEST_CASE("who lets go with others behind goes to the edge, with nobody behind stays in line", "[follow]") {
  Scene scene(3);
  scene.formation = Formation::one_in_front;
  scene.in_line().costs(1, 258.0, 208.0);
  scene.memory[1].asked_W = 208.0;
  scene.outlook[1].hold_limit_W = 200.0;
  scene.plans(0, 1000.0);
  scene.settings.dwell_s = 0.0;
  scene.keep_right = GENERATE(true, false);
  SECTION("followed at 4.9 m") {
    scene.gap_m(2, 4.9).second();
    CHECK(scene.memory[1].role == Role::alone);
    CHECK(scene.memory[1].side == (scene.keep_right ? -1 : +1));
  }
  SECTION("followed at 5.1 m") {
    scene.gap_m(2, 5.1).second();
    CHECK(scene.memory[1].side == 0);
  }
}

TEST_CASE("what a wheel asks is judged over 15 s, where everyone climbs freely over 45 s", "[follow]") {
  Scene scene = two_in_line(210.0, 300.0);
  scene.memory[1].asked_W = 150.0;
  scene.let(1, hold_wheel);
  CHECK(scene.next[1].asked_W == Approx(150.0 + 60.0 / 15.0));
  scene.outlook[1].climbs_freely = true;
  scene.let(1, hold_wheel);
  CHECK(scene.next[1].asked_W == Approx(150.0 + 60.0 / 45.0));
  scene.settings.climbing_memory_s = 0.5;  // shorter than the interval: the cost of now
  scene.let(1, hold_wheel);
  CHECK(scene.next[1].asked_W == Approx(210.0));
}

TEST_CASE("a rider whose wheel has gone from the road rides at his or her own pace, and nothing is told", "[follow]") {
  Scene scene = two_in_line();
  scene.gap_m(1, 70.0).let(1, hold_wheel);
  CHECK(scene.next[1].role == Role::alone);
  CHECK_THAT(scene.next[1].why, Is(Reason::own_pace));
  CHECK(scene.told.empty());
}

TEST_CASE("a rider goes on to the nearest wheel when another rider comes in between", "[follow]") {
  Scene scene(3, 2.0);
  scene.holds_wheel(2, 0);
  scene.let(2, hold_wheel);
  CHECK(scene.next[2].wheel == 1);
  CHECK(scene.next[2].role == Role::following);
}

// ---- a wheel that has lost its own

namespace {
/// Rider 1 has let a gap of 6.1 m open to rider 0, who is the faster; rider 2 sits on the wheel of rider 1 and could close it.
Scene gap_in_line() {
  Scene scene(3);
  scene.formation = Formation::one_in_front;
  scene.in_line().gap_m(1, 6.1).gap_m(2, 1.0);
  scene.riders.v_mps[1] = 9.8;
  scene.outlook[2].own_speed_mps = 9.9;
  scene.costs(2, 240.0, 190.0);
  scene.memory[2].asked_W = 150.0;
  scene.outlook[2].hold_limit_W = 200.0;
  scene.plans(0, 1000.0);
  return scene;
}
}  // namespace

TEST_CASE("past a wheel that has let a gap of more than 6 m open the next rider goes, towards the wheel lost", "[follow]") {
  Scene scene = gap_in_line();
  const Answer answer = scene.ask(wheel_lost_its_own, 2);
  CHECK(answer.holds);
  CHECK(answer.about == 0);
  CHECK_THAT(answer.because, Is(Reason::passes_gap, 1, {6.1}));
  CHECK_FALSE(scene.gap_m(1, 5.9).ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("a gap that does not grow is no reason to go past", "[follow]") {
  Scene scene = gap_in_line();
  scene.riders.v_mps[0] = 9.8;
  CHECK_FALSE(scene.ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("only a rider within 5 m of the wheel goes past the gap", "[follow]") {
  Scene scene = gap_in_line();
  CHECK(scene.gap_m(2, 4.9).ask(wheel_lost_its_own, 2).holds);
  CHECK_FALSE(scene.gap_m(2, 5.1).ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("only who alone is faster than the wheel goes past the gap", "[follow]") {
  Scene scene = gap_in_line();
  scene.outlook[2].own_speed_mps = 9.79;
  CHECK_FALSE(scene.ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("only who will give what the lost wheel asks, with 3 % over, goes past the gap", "[follow]") {
  Scene scene = gap_in_line();
  scene.costs(2, 240.0, 193.9);
  CHECK(scene.ask(wheel_lost_its_own, 2).holds);
  scene.costs(2, 240.0, 194.1);
  CHECK_FALSE(scene.ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("a rider told to sit in does not go past a gap, nor anyone whose wheel holds no wheel", "[follow]") {
  Scene scene = gap_in_line();
  scene.is_told(2, Choice::sits_in);
  CHECK_FALSE(scene.ask(wheel_lost_its_own, 2).holds);
  scene.memory[2].instruction = -1;
  CHECK(scene.ask(wheel_lost_its_own, 2).holds);
  scene.memory[1].wheel = nobody;
  CHECK_FALSE(scene.ask(wheel_lost_its_own, 2).holds);
}

TEST_CASE("going past a gap takes dwell_s, is told as a chase of the lost wheel and leads aside", "[follow]") {
  Scene scene = gap_in_line();
  scene.seconds(8);
  CHECK(scene.memory[2].role == Role::following);
  scene.second();
  CHECK(scene.memory[2].role == Role::alone);
  CHECK(scene.memory[2].side == +1);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::chases, 2, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::passes_gap, 1, {6.1}));
}
