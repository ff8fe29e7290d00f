/// The way back from the front to the end of the line.

#include "riding/scene.hpp"
#include "riding/turns.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Rider 0 goes back beside the line of riders 1 to 3, having come `behind_m` behind the last of them.
Scene going_back(double behind_m) {
  Scene scene(4);
  scene.in_line(1, 3).has_role(0, Role::drifting_back, 20.0);
  scene.lines.front_of[0] = 1;
  scene.memory[0].side = +1;
  scene.riders.x_m[0] = scene.riders.x_m[3] - bicycle_length_m - behind_m;
  return scene;
}

}  // namespace

TEST_CASE("a rider going back moves in behind the last wheel once 0.2 m clear of it", "[turns]") {
  Scene beside = going_back(0.19), scene = going_back(0.21);
  beside.let(0, drift_back);
  CHECK(beside.next[0].role == Role::drifting_back);
  scene.let(0, drift_back);
  CHECK(scene.next[0].role == Role::following);
  CHECK(scene.next[0].wheel == 3);
  CHECK(scene.next[0].side == 0);
  CHECK_THAT(scene.next[0].why, Is(Reason::on_wheel, 3));
  CHECK(scene.told.empty());
}

TEST_CASE("a rider going back gives up after 90 s and rides alone", "[turns]") {
  Scene scene = going_back(-3.0);
  scene.has_role(0, Role::drifting_back, 90.0).let(0, drift_back);
  CHECK(scene.next[0].role == Role::drifting_back);
  scene.has_role(0, Role::drifting_back, 90.1).let(0, drift_back);
  CHECK(scene.next[0].role == Role::alone);
  CHECK_THAT(scene.next[0].why, Is(Reason::own_pace));
  scene.kind = RideKind::together;  // there nobody goes ahead
  scene.let(0, drift_back);
  CHECK(scene.next[0].role == Role::drifting_back);
}

TEST_CASE("a rider going back comes in ahead of who sits in", "[turns]") {
  Scene scene = going_back(-2.0);  // behind rider 2 by 0.2 m, beside rider 3
  scene.riders.x_m[0] = scene.riders.x_m[2] - bicycle_length_m - 0.21;
  scene.memory[3].skipped_turns = 2;
  scene.let(0, drift_back);
  CHECK(scene.next[0].role == Role::following);
  CHECK(scene.next[0].wheel == 2);
  scene.memory[3].skipped_turns = 1;
  scene.let(0, drift_back);
  CHECK(scene.next[0].role == Role::drifting_back);
}

TEST_CASE("a rider going back whose line has gone rides alone", "[turns]") {
  Scene scene(2);
  scene.has_role(0, Role::drifting_back, 5.0).has_role(1, Role::alone);
  scene.lines.front_of[0] = 1;
  scene.let(0, drift_back);
  CHECK(scene.next[0].role == Role::alone);
}

TEST_CASE("a rider going back does not take the wheel of another who goes back", "[turns]") {
  Scene scene = going_back(-3.0);
  scene.has_role(3, Role::drifting_back);
  scene.riders.x_m[0] = scene.riders.x_m[2] - bicycle_length_m - 0.3;
  scene.let(0, drift_back);
  CHECK(scene.next[0].wheel == 2);
}
