/// Imposed choices.

#include "riding/instructed.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

Memory taken(Scene& scene, RiderIndex i, Memory memory = {}) {
  take_instruction(scene.now(), i, memory);
  return memory;
}

/// Whether rider `i` rides off the wheels; `next` and `told` of the scene hold the rest.
bool rides_off(Scene& scene, RiderIndex i) {
  bool off = false;
  scene.let(i, [&](const View& v, Proposal& p) { off = ride_off_wheels(v, p); });
  return off;
}

}  // namespace

TEST_CASE("an instruction holds from the first metre of its stretch to just before the last, for its rider alone",
          "[instructed]") {
  Scene scene(2);
  scene.instructions = {{0, 4990.0, 5010.0, Choice::alone}};
  const auto at = [&](double x_m) {
    scene.riders.x_m[0] = x_m;
    return taken(scene, 0).instruction;
  };
  CHECK(at(4989.9) == -1);
  CHECK(at(4990.0) == 0);
  CHECK(at(5009.9) == 0);
  CHECK(at(5010.0) == -1);
  CHECK(taken(scene, 1).instruction == -1);
}

TEST_CASE("of two instructions for one place the later holds", "[instructed]") {
  Scene scene(1);
  scene.instructions = {{0, 0.0, 1e6, Choice::alone}, {0, 0.0, 1e6, Choice::sits_in}};
  CHECK(taken(scene, 0).instruction == 1);
}

TEST_CASE("a new instruction begins afresh, the same goes on as far as it was carried out", "[instructed]") {
  Scene scene(1);
  scene.instructions = {{0, 0.0, 1e6, Choice::lets_go}};
  Memory memory;
  memory.carried_out = memory.keeps_off = memory.eases = true;
  memory = taken(scene, 0, memory);
  CHECK_FALSE(memory.carried_out);
  CHECK_FALSE(memory.keeps_off);
  CHECK_FALSE(memory.eases);
  memory.carried_out = memory.keeps_off = memory.eases = true;
  memory = taken(scene, 0, memory);
  CHECK(memory.carried_out);
  CHECK_FALSE(memory.keeps_off);  // judged anew every second
  CHECK_FALSE(memory.eases);
}

TEST_CASE("a rider told to wait waits for the first behind who is neither of that rider's group nor near to it",
          "[instructed]") {
  Scene scene(5);
  scene.instructions = {{0, 0.0, 1e6, Choice::waits_behind}};
  scene.group_of = {3, 3, no_group, 4, 4};
  scene.gap_m(1, 20.0).gap_m(2, 11.9).gap_m(3, 12.1);
  CHECK(taken(scene, 0).waits_for == 3);
  CHECK(taken(scene.gap_m(2, 12.1), 0).waits_for == 2);
  CHECK(taken(scene.gap_m(2, 1.0).gap_m(3, 1.0), 0).waits_for == nobody);
  scene.group_of[0] = no_group;  // alone: nobody belongs to no group
  CHECK(taken(scene, 0).waits_for == 1);
  scene.instructions[0].choice = Choice::alone;
  CHECK(taken(scene, 0).waits_for == nobody);
}

TEST_CASE("only being told to ride alone, to wait or to let go keeps a rider off the wheels", "[instructed]") {
  const Choice choice = GENERATE(Choice::alone, Choice::sits_in, Choice::takes_turns, Choice::waits_behind, Choice::lets_go);
  Scene scene(3, 20.0);
  scene.gap_m(1, 5.0).is_told(1, choice);
  scene.memory[1].waits_for = 2;
  const bool off = choice == Choice::alone || choice == Choice::waits_behind || choice == Choice::lets_go;
  INFO(choice_names[static_cast<std::size_t>(choice)]);
  CHECK(rides_off(scene, 1) == off);
  CHECK(scene.next[1].keeps_off == off);
  scene.memory[1].instruction = -1;
  CHECK_FALSE(rides_off(scene, 1));
}

TEST_CASE("told to ride alone a rider leaves the wheel, and eases until out of the wake of one who is not slower",
          "[instructed]") {
  Scene scene(3);
  scene.in_line().gap_m(1, 5.9).is_told(1, Choice::alone);
  scene.outlook[1].own_speed_mps = 10.0;
  CHECK(rides_off(scene, 1));
  CHECK(scene.next[1].role == Role::alone);
  CHECK(scene.next[1].eases);
  CHECK(scene.next[1].side == -1);  // out of the way of rider 2
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::lets_go, 1}});
  CHECK_THAT(scene.told[0].because, Is(Reason::own_pace));
  rides_off(scene.gap_m(1, 6.1), 1);
  CHECK_FALSE(scene.next[1].eases);
  CHECK(scene.next[1].side == 0);
}

TEST_CASE("told to ride alone a rider goes past anyone slower, however little", "[instructed]") {
  Scene scene(2, 5.9);
  scene.is_told(1, Choice::alone);
  scene.alone_mps(1, 10.01);
  CHECK(rides_off(scene, 1));
  CHECK_FALSE(scene.next[1].eases);
  CHECK(scene.next[1].side == +1);
  CHECK(scene.told.empty());
  rides_off(scene.gap_m(1, 6.1), 1);
  CHECK(scene.next[1].side == 0);
  scene.gap_m(1, 5.9).riders.accel_mps2[0] = 0.3;  // just getting going, and no slower than that
  rides_off(scene, 1);
  CHECK(scene.next[1].eases);
  CHECK(scene.next[1].side == 0);
}

// Moving out and staying out are both judged by the motion: a wheel just getting going is not slower.
TEST_CASE("told to ride alone a rider does not move out and back every second", "[instructed]") {
  Scene scene(2, 2.0);
  scene.is_told(1, Choice::alone).alone_mps(1, 11.0);
  scene.riders.accel_mps2[0] = 0.3;
  int changes = 0;
  for (int second = 0; second < 10; ++second) {
    const int before = scene.memory[1].side;
    scene.second();
    changes += scene.memory[1].side != before;
  }
  CHECK(changes == 0);
}

TEST_CASE("told to ride alone a rider passes to the end and takes the line again", "[instructed]") {
  Scene scene(2, 3.1);
  scene.is_told(1, Choice::alone);
  scene.memory[1].side = +1;
  scene.alone_mps(1, 11.0);
  CHECK(rides_off(scene, 1));
  CHECK(scene.next[1].side == 0);
  rides_off(scene.gap_m(1, 2.9), 1);
  CHECK(scene.next[1].side == +1);
}

TEST_CASE("told to let go a rider eases until the wheel is 12 m away, then judges again", "[instructed]") {
  Scene scene(2);
  scene.in_line().gap_m(1, 11.9).is_told(1, Choice::lets_go);
  CHECK(rides_off(scene, 1));
  CHECK(scene.next[1].eases);
  CHECK(scene.next[1].role == Role::alone);
  CHECK(scene.next[1].side == 0);  // nobody behind
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::lets_go, 1}});
  CHECK_FALSE(rides_off(scene.gap_m(1, 12.1), 1));
  CHECK(scene.next[1].carried_out);
  CHECK(scene.told.empty());
}

TEST_CASE("told to wait a rider eases, told once with the gap, until the group is within 5 m", "[instructed]") {
  Scene scene(3);
  scene.in_line(1, 2).gap_m(1, 30.0).is_told(0, Choice::waits_behind);
  scene.memory[0].waits_for = 1;
  CHECK(rides_off(scene, 0));
  CHECK(scene.next[0].eases);
  CHECK(scene.next[0].eases_for_group);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::waits, 0, 1}});
  CHECK_THAT(scene.told[0].because, Is(Reason::waits_for_group, 1, {30.0}));
  scene.memory = scene.next;
  CHECK(rides_off(scene.gap_m(1, 5.1), 0));
  CHECK(scene.told.empty());
  CHECK_FALSE(rides_off(scene.gap_m(1, 4.9), 0));
  CHECK(scene.next[0].carried_out);
  CHECK_FALSE(scene.next[0].eases_for_group);
  CHECK_THAT(scene.next[0].why, Is(Reason::own_pace));
}

TEST_CASE("told to wait with nobody behind, or for a rider who has finished, a rider judges as ever", "[instructed]") {
  Scene scene(2, 30.0);
  scene.is_told(0, Choice::waits_behind);
  CHECK_FALSE(rides_off(scene, 0));
  CHECK(scene.next[0].carried_out);
  scene.memory[0].waits_for = 1;
  CHECK(rides_off(scene, 0));
  scene.riders.riding[1] = 0;
  CHECK_FALSE(rides_off(scene, 0));
}

TEST_CASE("a rider who waits in the front of a line gives the line up, untold but for the waiting", "[instructed]") {
  Scene scene(3);
  scene.in_line(0, 1).gap_m(2, 30.0).is_told(0, Choice::waits_behind);
  scene.memory[0].waits_for = 2;
  CHECK(rides_off(scene, 0));
  CHECK(scene.next[0].role == Role::alone);
  CHECK(scene.next[0].side == -1);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::waits, 0, 2}});
}

TEST_CASE("in a second of a ride who is told to ride alone neither leads a line at its pace nor takes the wheel ahead",
          "[instructed]") {
  Scene scene(3, 3.0);
  scene.holds_wheel(2, 1).is_told(1, Choice::alone);
  scene.outlook[1].own_speed_mps = 10.0;
  scene.second();
  CHECK(scene.memory[1].role == Role::front);
  CHECK(scene.memory[1].front_W == own_plan);
  CHECK(scene.memory[1].wheel == nobody);
  CHECK(scene.riders.free_W[1] == 0.75 * 200.0);
}

// ---- sitting in

namespace {
bool goes_to_the_back(Scene& scene, RiderIndex i) {
  bool goes = false;
  scene.let(i, [&](const View& v, Proposal& p) { goes = go_to_the_back(v, p); });
  return goes;
}
}  // namespace

TEST_CASE("told to sit in with others behind in the line a rider goes to its end", "[instructed]") {
  Scene scene(4);
  scene.in_line().is_told(2, Choice::sits_in);
  CHECK(goes_to_the_back(scene, 2));
  CHECK(scene.next[2].role == Role::drifting_back);
  CHECK(scene.next[2].side == +1);
  CHECK_THAT(scene.next[2].why, Is(Reason::own_pace));
  CHECK(scene.told.empty());
  scene.instructions[0].choice = Choice::takes_turns;
  CHECK_FALSE(goes_to_the_back(scene, 2));
}

TEST_CASE("told to sit in at the back, in front or without a wheel a rider stays there", "[instructed]") {
  Scene scene(3);
  scene.in_line().is_told(2, Choice::sits_in).is_told(0, Choice::sits_in);
  CHECK_FALSE(goes_to_the_back(scene, 2));
  CHECK_FALSE(goes_to_the_back(scene, 0));
}

TEST_CASE("nobody goes to the back where there are no turns", "[instructed]") {
  Scene scene(3);
  scene.in_line().is_told(1, Choice::sits_in);
  CHECK(goes_to_the_back(scene, 1));
  scene.outlook[0].wheel_worthless = true;
  CHECK_FALSE(goes_to_the_back(scene, 1));
}

TEST_CASE("a rider alongside, still tucking in, or going back is nobody behind", "[instructed]") {
  Scene scene(3);
  scene.in_line().is_told(1, Choice::sits_in);
  CHECK(goes_to_the_back(scene.gap_m(2, 0.05), 1));
  CHECK_FALSE(goes_to_the_back(scene.gap_m(2, -0.05), 1));
  scene.gap_m(2, 0.5).riders.y_m[2] = -2.0 + 0.29;
  CHECK(goes_to_the_back(scene, 1));
  scene.riders.y_m[2] = -2.0 - 0.31;
  CHECK_FALSE(goes_to_the_back(scene, 1));
  scene.riders.y_m[2] = -2.0;
  scene.has_role(2, Role::drifting_back);
  CHECK_FALSE(goes_to_the_back(scene, 1));
}
