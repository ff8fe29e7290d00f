/// Regroup points.

#include "riding/regroup.hpp"

#include "model/track.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// A regroup point 10 m ahead of rider 0, who stands; the others ride.
Scene at_point(std::size_t riders, double gap_m = 0.5) {
  Scene scene(riders, gap_m);
  scene.regroup_at_m = {scene.riders.x_m[0] + 10.0};
  scene.riders.v_mps[0] = 0.0;
  return scene;
}

void regroup(Scene& scene) { settle_regroup(scene.settling(), scene.riders.stop_at_m); }

/// As `regroup`, and the outcome is the state of the next second.
void regroup_second(Scene& scene) {
  regroup(scene);
  scene.memory = scene.next;
  scene.time_s += 1.0;
}

}  // namespace

TEST_CASE("the first at a regroup point waits, told once", "[regroup]") {
  Scene scene = at_point(2, 100.0);
  regroup(scene);
  CHECK(scene.next[0].role == Role::waiting);
  CHECK_THAT(scene.next[0].why, Is(Reason::waits_for_last));
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::waits, 0}});
  CHECK(scene.next[0].role_since_s == start_s);
  scene.memory = scene.next;
  scene.time_s += 5.0;
  regroup(scene);
  CHECK(scene.told.empty());
  CHECK(scene.next[0].role_since_s == start_s);
}

TEST_CASE("who comes to the point later waits too, untold", "[regroup]") {
  Scene scene = at_point(3, 1.0);
  scene.gap_m(2, 100.0);
  regroup_second(scene);
  scene.riders.v_mps[1] = 0.0;
  scene.riders.x_m[1] = scene.riders.x_m[0] - 3.0;
  regroup(scene);
  CHECK(scene.next[1].role == Role::waiting);
  CHECK(scene.told.empty());
}

TEST_CASE("a rider stops within 25 m of the point once slower than 1 m/s", "[regroup]") {
  Scene scene = at_point(2, 100.0);
  const auto waits = [&](double to_point_m, double v_mps) {
    scene.riders.x_m[0] = scene.regroup_at_m[0] - to_point_m;
    scene.riders.v_mps[0] = v_mps;
    regroup(scene);
    return scene.next[0].role == Role::waiting;
  };
  CHECK(waits(24.9, 0.9));
  CHECK_FALSE(waits(25.1, 0.9));
  CHECK_FALSE(waits(24.9, 1.1));
}

TEST_CASE("riders come to rest at the point, those who come later behind those who stand there", "[regroup]") {
  Scene scene = at_point(4, 0.5);
  const double point_m = scene.regroup_at_m[0];
  scene.gap_m(2, 50.0).has_role(0, Role::waiting).has_role(1, Role::waiting);
  regroup(scene);
  CHECK(scene.riders.stop_at_m[0] == point_m);
  const double behind_0_m = 10.0 + 1.7 + 0.3, behind_1_m = 12.2 + 1.7 + 0.3;
  CHECK(scene.riders.stop_at_m[1] == Approx(point_m - behind_0_m));
  CHECK(scene.riders.stop_at_m[2] == Approx(point_m - behind_1_m));
  CHECK(scene.riders.stop_at_m[3] == Approx(point_m - behind_1_m));  // rider 2 is not there yet
}

TEST_CASE("with everyone there all go on, told once by the first with the time waited", "[regroup]") {
  Scene scene = at_point(3);
  for (RiderIndex i = 0; i < 3; ++i) scene.has_role(i, Role::waiting, 200.0 - 50.0 * i);
  scene.memory[1].let_go_of = 0;
  regroup(scene);
  for (RiderIndex i = 0; i < 3; ++i) {
    CHECK(scene.next[i].role == Role::alone);
    CHECK(scene.next[i].next_regroup == 1);
    CHECK(scene.next[i].let_go_of == nobody);
    CHECK(scene.riders.stop_at_m[i] == never_m);
    CHECK_THAT(scene.next[i].why, Is(Reason::all_together, nobody, {200.0}));
  }
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::regrouped, 0}});
}

TEST_CASE("while one rider has not come everyone waits, up to 20 minutes", "[regroup]") {
  Scene scene = at_point(3, 0.5);
  scene.has_role(0, Role::waiting, 1200.0).has_role(1, Role::waiting, 1100.0).gap_m(2, 500.0);
  regroup(scene);
  CHECK(scene.next[0].role == Role::waiting);
  CHECK(scene.next[2].next_regroup == 0);
  scene.has_role(0, Role::waiting, 1200.1);
  regroup(scene);
  CHECK(scene.next[0].role == Role::alone);
  CHECK_THAT(scene.next[1].why, Is(Reason::waited_enough, nobody, {1200.1}));
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::leaves, 0}});
  CHECK(scene.told.front().with == std::vector<RiderIndex>{1});
  CHECK(scene.next[2].role == Role::alone);
  CHECK(scene.next[2].next_regroup == 1);  // who is late rides through
  CHECK(scene.riders.stop_at_m[2] == never_m);
  CHECK_THAT(scene.next[2].why, Is(Reason::at_start));
}

TEST_CASE("who has ridden past the point, or finished, is not missed", "[regroup]") {
  Scene scene = at_point(3, 0.5);
  scene.has_role(1, Role::waiting).has_role(2, Role::waiting);
  scene.memory[0].next_regroup = 1;
  regroup(scene);
  CHECK(scene.next[1].role == Role::alone);
  CHECK(scene.riders.stop_at_m[0] == never_m);
}

TEST_CASE("after one point the next stops everyone again", "[regroup]") {
  Scene scene = at_point(2);
  scene.regroup_at_m.push_back(scene.regroup_at_m[0] + 1000.0);
  scene.has_role(0, Role::waiting).has_role(1, Role::waiting);
  regroup(scene);
  CHECK(scene.next[0].next_regroup == 1);
  CHECK(scene.riders.stop_at_m[0] == scene.regroup_at_m[1]);
  CHECK(scene.riders.stop_at_m[1] == scene.regroup_at_m[1]);
}

TEST_CASE("riders on the way to a later point are not let go on with those at an earlier one", "[regroup]") {
  Scene scene = at_point(3, 0.5);
  scene.regroup_at_m.push_back(scene.regroup_at_m[0] + 1000.0);
  scene.memory[0].next_regroup = 1;
  scene.riders.v_mps[0] = 10.0;
  scene.has_role(1, Role::waiting).has_role(2, Role::waiting);
  regroup(scene);
  CHECK(scene.next[0].next_regroup == 1);
  CHECK(scene.next[1].next_regroup == 1);
  CHECK(scene.riders.stop_at_m[0] == scene.regroup_at_m[1]);
}

TEST_CASE("a rider alone on the road, or with no points, never stops", "[regroup]") {
  Scene one = at_point(1);
  regroup(one);
  CHECK(one.next[0].role == Role::alone);
  CHECK(one.told.empty());
  Scene none(2);
  none.riders.v_mps[0] = 0.0;
  regroup(none);
  CHECK(none.next[0].role == Role::alone);
}

// ---- stops

TEST_CASE("at a stop all go on when the last has had it, told with its length and the time since the first came",
          "[regroup]") {
  Scene scene = at_point(2);
  scene.stop_s = 600.0;
  scene.has_role(0, Role::waiting, 700.0).has_role(1, Role::waiting, 599.0);
  regroup(scene);
  CHECK(scene.next[0].role == Role::waiting);
  scene.has_role(1, Role::waiting, 600.0);
  regroup(scene);
  for (RiderIndex i = 0; i < 2; ++i) {
    CHECK(scene.next[i].role == Role::alone);
    CHECK_THAT(scene.next[i].why, Is(Reason::stop_over, nobody, {600.0, 700.0}));
  }
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::regrouped, 0}});
}

TEST_CASE("who comes to a stop says so, and a rider alone stops too", "[regroup]") {
  Scene scene = at_point(1);
  scene.stop_s = 60.0;
  regroup(scene);
  CHECK(scene.next[0].role == Role::waiting);
  CHECK_THAT(scene.next[0].why, Is(Reason::planned_stop));
  scene.has_role(0, Role::waiting, 60.0);
  regroup(scene);
  CHECK(scene.next[0].role == Role::alone);
}

TEST_CASE("the wait for the last begins when the first has had the stop, and who is late has it all the same", "[regroup]") {
  Scene scene = at_point(3, 0.5);
  scene.stop_s = 600.0;
  scene.has_role(0, Role::waiting, 1800.0).has_role(1, Role::waiting, 5.0).gap_m(2, 500.0);
  regroup(scene);
  CHECK(scene.next[0].role == Role::waiting);
  scene.has_role(0, Role::waiting, 1800.1);
  regroup(scene);
  CHECK(scene.next[0].role == Role::alone);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::leaves, 0}});
  CHECK(scene.next[1].role == Role::waiting);  // has not had the stop
  CHECK(scene.next[2].next_regroup == 0);
}

TEST_CASE("the late stand at their place while the first wait at the next", "[regroup]") {
  Scene scene = at_point(3, 0.5);
  scene.stop_s = 600.0;
  scene.regroup_at_m.insert(scene.regroup_at_m.begin(), scene.riders.x_m[0] - 900.0);
  scene.gap_m(2, 1000.0)
      .has_role(0, Role::waiting, 100.0)
      .has_role(1, Role::waiting, 90.0)
      .has_role(2, Role::waiting, 600.0);
  scene.memory[0].next_regroup = scene.memory[1].next_regroup = 1;
  regroup(scene);
  CHECK(scene.next[2].role == Role::alone);
  CHECK(scene.next[2].next_regroup == 1);
  CHECK(scene.next[0].role == Role::waiting);
  CHECK_THAT(scene.next[2].why, Is(Reason::stop_over, nobody, {600.0, 600.0}));
}

TEST_CASE("nobody rolls through a stop", "[regroup]") {
  Scene scene = at_point(2);
  scene.riders.x_m[0] = scene.regroup_at_m[0] - 100.0;
  scene.riders.x_m[1] = scene.riders.x_m[0] - 10.0;
  scene.stop_s = 60.0;
  regroup(scene);
  CHECK(scene.next[0].next_regroup == 0);
}

// ---- rolling through

namespace {

/// Three riders at 10 m/s; the first is `to_point_m` before a regroup point, the last `long_m` behind the first.
Scene coming(double to_point_m, double long_m) {
  Scene scene(3);
  scene.riders.x_m[2] = scene.riders.x_m[0] - long_m;
  scene.regroup_at_m = {scene.riders.x_m[0] + to_point_m};
  return scene;
}

bool rolls_through(Scene scene) {
  regroup(scene);
  for (const Memory& next : scene.next) CHECK(next.next_regroup == scene.next[0].next_regroup);
  return scene.next[0].next_regroup == 1;
}

}  // namespace

TEST_CASE("a group no longer than 60 m, seen from 150 m before the point, rolls through it untold", "[regroup]") {
  CHECK(rolls_through(coming(149.9, 59.9)));
  CHECK_FALSE(rolls_through(coming(150.1, 59.9)));
  CHECK_FALSE(rolls_through(coming(149.9, 60.1)));
  Scene scene = coming(149.9, 59.9);
  regroup(scene);
  for (RiderIndex i = 0; i < 3; ++i) {
    CHECK(scene.riders.stop_at_m[i] == never_m);
    CHECK(scene.next[i].role == Role::alone);
  }
  CHECK(scene.told.empty());
}

TEST_CASE("who rolls through one point stops at the next", "[regroup]") {
  Scene scene = coming(100.0, 30.0);
  scene.regroup_at_m.push_back(scene.regroup_at_m[0] + 1000.0);
  regroup(scene);
  for (RiderIndex i = 0; i < 3; ++i) {
    CHECK(scene.next[i].next_regroup == 1);
    CHECK(scene.riders.stop_at_m[i] == scene.regroup_at_m[1]);
  }
}

TEST_CASE("a group is not whole without its last, but is without who has passed the last point", "[regroup]") {
  Scene scene = coming(100.0, 500.0);
  CHECK_FALSE(rolls_through(scene));
  Scene ahead = coming(100.0, 30.0);
  ahead.riders.x_m[0] += 500.0;
  ahead.memory[0].next_regroup = 1;
  CHECK(rolls_through(ahead));
}

TEST_CASE("while someone waits at a point nobody rolls through it", "[regroup]") {
  Scene scene = coming(10.0, 30.0);
  scene.has_role(1, Role::waiting);
  CHECK_FALSE(rolls_through(scene));
}

TEST_CASE("who waits decides nothing else", "[regroup]") {
  Scene scene = at_point(3, 2.0);
  scene.gap_m(2, 200.0).has_role(1, Role::waiting);
  scene.memory[1].side = 0;
  scene.seconds(30);
  CHECK(scene.memory[1].role == Role::waiting);
  CHECK(scene.memory[1].wheel == nobody);
  CHECK(scene.riders.most_W[1] == 0.0);
}
