/// Who rides in which line, and what a line does before its turns.

#include "riding/line.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {
using Fronts = std::vector<RiderIndex>;
}

// ---- forming lines

TEST_CASE("whoever holds a wheel rides in its line; a rider without one leads his own", "[line]") {
  Scene scene(5);
  scene.in_line(0, 2).in_line(3, 4);
  form_lines(scene.settling());
  CHECK(scene.lines_next.front_of == Fronts{0, 0, 0, 3, 3});
  CHECK(scene.lines_next.size[0] == 3);
  CHECK(scene.lines_next.size[3] == 2);
}

TEST_CASE("a rider alone whose wheel is taken leads, with a turn of the usual length, and no turn of his is skipped",
          "[line]") {
  Scene scene(2);
  scene.holds_wheel(1, 0);
  scene.memory[0].skipped_turns = 1;
  scene.memory[0].turn_s = 12.0;
  form_lines(scene.settling());
  CHECK(scene.next[0].role == Role::front);
  CHECK(scene.next[0].role_since_s == start_s);
  CHECK_THAT(scene.next[0].why, Is(Reason::turn_begins, nobody, {45.0}));
  CHECK(scene.next[0].turn_s == 45.0);
  CHECK(scene.next[0].skipped_turns == 0);
  CHECK(scene.told.empty());
}

TEST_CASE("a rider in front already goes on with the turn", "[line]") {
  Scene scene(2);
  scene.in_line();
  scene.memory[0].turn_s = 12.0;
  scene.memory[0].role_since_s = start_s - 10.0;
  form_lines(scene.settling());
  CHECK(scene.next[0].role_since_s == start_s - 10.0);
  CHECK(scene.next[0].turn_s == 12.0);
}

TEST_CASE("a chaser belongs to no line yet, and who sits on his wheel follows the chase", "[line]") {
  Scene scene(4);
  scene.in_line(0, 1).holds_wheel(2, 1).has_role(2, Role::chasing).holds_wheel(3, 2);
  form_lines(scene.settling());
  CHECK(scene.lines_next.front_of == Fronts{0, 0, 2, 2});
  CHECK(scene.lines_next.size[0] == 2);
  CHECK(scene.lines_next.size[2] == 2);
  CHECK(scene.next[2].role == Role::chasing);
}

TEST_CASE("a rider going back counts as one of the line", "[line]") {
  Scene scene(3);
  scene.in_line(1, 2).has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  form_lines(scene.settling());
  // Going back ahead of the front, he is counted before the front starts its count.
  CHECK(scene.lines_next.front_of[0] == 1);
  CHECK(scene.lines_next.size[1] == 3);
}

TEST_CASE("a rider in front whom nobody follows any more rides alone at his or her own pace", "[line]") {
  Scene scene(2);
  scene.has_role(0, Role::front);
  form_lines(scene.settling());
  CHECK(scene.next[0].role == Role::alone);
  CHECK_THAT(scene.next[0].why, Is(Reason::own_pace));
}

TEST_CASE("who comes to lead a double line begins with its short turn, who comes to lead three with a usual one", "[line]") {
  const std::size_t riders = GENERATE(3u, 4u);
  Scene scene(riders);
  scene.formation = Formation::circulating;
  for (RiderIndex i = 1; i < riders; ++i) scene.holds_wheel(i, i - 1);
  form_lines(scene.settling());
  CHECK(scene.next[0].turn_s == (riders == 4 ? 8.0 : 45.0));
}

TEST_CASE("a line is looked at 200 m behind its first, and eight riders ahead of it", "[line]") {
  Scene scene(12);
  for (RiderIndex i = 0; i < 11; ++i) scene.lines.front_of[i] = 9;
  scene.lines.front_of[11] = 9;
  std::vector<RiderIndex> line;
  for_line(scene.gap_m(11, 150.0).now(), scene.lines, 9, [&](RiderIndex i) { line.push_back(i); });
  CHECK(line == std::vector<RiderIndex>{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11});
  line.clear();
  for_line(scene.gap_m(11, 200.0).now(), scene.lines, 9, [&](RiderIndex i) { line.push_back(i); });
  CHECK(line == std::vector<RiderIndex>{1, 2, 3, 4, 5, 6, 7, 8, 9, 10});
}

// ---- settling a line

TEST_CASE("with one in front, or no room for two, the front is not given away", "[line]") {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 100.0);
  const auto role = [&] {
    settle_line(scene.settling(), 0);
    return scene.next[0].role;
  };
  CHECK(role() == Role::drifting_back);
  scene.road[0].two_abreast_for_m = 0.0f;
  CHECK(role() == Role::front);
  scene.road[0].two_abreast_for_m = 1e6f;
  scene.formation = Formation::one_in_front;
  CHECK(role() == Role::front);
}

TEST_CASE(
    "the first of a line gives the power that the line can keep up, but in a free ride and on a free climb its own plan",
    "[line]") {
  Scene scene(2);
  scene.in_line();
  const auto front_W = [&] {
    settle_line(scene.settling(), 0);
    return scene.next[0].front_W;
  };
  CHECK(front_W() == Approx(250.0).margin(0.4));
  CHECK(scene.next[0].front_mps2 == Approx(0.0).margin(1e-3));
  scene.outlook[0].climbs_freely = true;
  CHECK(front_W() == own_plan);
  scene.outlook[0].climbs_freely = false;
  scene.kind = RideKind::free;
  CHECK(front_W() == own_plan);
  scene.kind = GENERATE(RideKind::together, RideKind::race, RideKind::by_strength);
  CHECK(front_W() == Approx(250.0).margin(0.4));
}

TEST_CASE("only in a ride together the front eases for someone dropped", "[line]") {
  Scene scene(3);
  scene.in_line(0, 1).gap_m(2, 40.0).plans(2, 100.0);
  scene.kind = GENERATE(RideKind::together, RideKind::steady, RideKind::free, RideKind::race, RideKind::by_strength);
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].keeps_whole == (scene.kind == RideKind::together));
  CHECK((scene.next[0].front_W == Approx(90.0)) == (scene.kind == RideKind::together));
}

TEST_CASE("who keeps off the wheels rides by his or her own plan and gives no turn", "[line]") {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 100.0);
  scene.memory[0].keeps_off = true;
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].front_W == own_plan);
  CHECK(scene.next[0].role == Role::front);
}

TEST_CASE("where wheels are worthless the front is kept and its time stands still, but where W' is spent", "[line]") {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 100.0);
  scene.outlook[0].wheel_worthless = true;
  scene.kind = GENERATE(RideKind::together, RideKind::steady, RideKind::free, RideKind::race, RideKind::by_strength);
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].role == (scene.kind == RideKind::race ? Role::drifting_back : Role::front));
  CHECK(scene.next[0].role_since_s == (scene.kind == RideKind::race ? start_s : start_s - 99.0));
}

TEST_CASE("a rider who sat in takes turns again from 45 % of an equal share", "[line]") {
  const auto skipped_after = [](double plan_W, int skipped) {
    Scene scene(3);
    scene.formation = Formation::one_in_front;  // the first holds 10 m/s by its own plan
    scene.in_line().plans(0, 250.0).plans(1, 250.0).plans(2, plan_W);
    scene.memory[2].skipped_turns = skipped;
    settle_line(scene.settling(), 0);
    return scene.next[2].skipped_turns;
  };
  // Two could lead all the time: 0.353 is 45 % of a third of 2.353.
  CHECK(skipped_after(185.4, 2) == 0);
  CHECK(skipped_after(185.2, 2) == 2);
  CHECK(skipped_after(185.4, 3) == 0);
  CHECK(skipped_after(185.4, 1) == 1);  // has let one turn pass, and sits in not yet
}
