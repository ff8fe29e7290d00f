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

TEST_CASE("a line rides at a shared pace, but in a race and on a free climb its first rides his own", "[line]") {
  Scene scene(2);
  scene.in_line();
  scene.memory[0].line_pace_mps = 7.0;
  const auto pace_mps = [&] {
    settle_line(scene.settling(), 0);
    return scene.next[0].line_pace_mps;
  };
  CHECK(pace_mps() > 7.5);
  scene.outlook[0].climbs_freely = true;
  CHECK(pace_mps() == 0.0);
  scene.outlook[0].climbs_freely = false;
  scene.kind = RideKind::race;
  CHECK(pace_mps() == 0.0);
}

TEST_CASE("only in a ride together the pace eases for someone dropped", "[line]") {
  Scene scene(3);
  scene.in_line(0, 1).gap_m(2, 40.0);
  scene.outlook[2].own_speed_mps = 5.0;
  scene.kind = GENERATE(RideKind::together, RideKind::steady);
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].keeps_whole == (scene.kind == RideKind::together));
  CHECK((scene.next[0].line_pace_mps == Approx(4.5)) == (scene.kind == RideKind::together));
}

TEST_CASE("who keeps off the wheels leads no pace and gives no turn", "[line]") {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 100.0);
  scene.memory[0].keeps_off = true;
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].line_pace_mps == 0.0);
  CHECK(scene.next[0].role == Role::front);
}

TEST_CASE("where wheels are worthless nobody gives the front away and its time stands still, but in a race", "[line]") {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 100.0);
  scene.outlook[0].wheel_worthless = true;
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].role == Role::front);
  CHECK(scene.next[0].role_since_s == start_s);
  scene.kind = RideKind::race;
  settle_line(scene.settling(), 0);
  CHECK(scene.next[0].role == Role::drifting_back);
}

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

TEST_CASE("a rider who sat in takes turns again from a share of 15 % of the time", "[line]") {
  const auto skipped_after = [](double planned_W, int skipped) {
    Scene scene(3);
    scene.in_line();
    // The line rides at 10 m/s, what its first holds alone.
    scene.outlook[0].planned_W = scene.outlook[1].planned_W = 250.0;
    for (Outlook& outlook : scene.outlook) outlook.hold_speed_mps = 10.0;
    scene.outlook[2].planned_W = planned_W;
    scene.memory[2].skipped_turns = skipped;
    settle_line(scene.settling(), 0);
    return scene.next[2].skipped_turns;
  };
  CHECK(skipped_after(165.1, 2) == 0);
  CHECK(skipped_after(164.9, 2) == 2);
  CHECK(skipped_after(165.1, 3) == 0);
  CHECK(skipped_after(165.1, 1) == 1);  // has let one turn pass, and sits in not yet
}

TEST_CASE("strength for turns is judged at no less than half the speed of the front", "[line]") {
  Scene scene(2);
  scene.in_line();
  scene.memory[0].line_pace_mps = 1.0;
  scene.memory[1].skipped_turns = 2;
  scene.costs(1, 250.0, 150.0, 5.0);
  scene.outlook[1].planned_W = 160.0;  // a tenth of the time at 5 m/s, all of it at 1 m/s
  settle_line(scene.settling(), 0);
  CHECK(scene.next[1].skipped_turns == 2);
}
