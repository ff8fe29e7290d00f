/// Where across the road riders want to be, and with what gap. The road is 8 m wide, the lane from -3.5 to -0.5 m.

#include "riding/placing.hpp"

#include "riding/pass.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

Command placed(Scene& scene, RiderIndex i) {
  Command command{};
  place_sideways(scene.settling(), i, command);
  return command;
}

}  // namespace

TEST_CASE("a rider swings off into the wind from 1 m/s across, else away from the road's edge", "[placing]") {
  Scene scene(1);
  const auto side = [&](double cross_mps) {
    scene.riders.wind_cross_mps[0] = cross_mps;
    return swing_side(scene.now(), 0);
  };
  CHECK(side(1.1) == -1);
  CHECK(side(-1.1) == +1);
  CHECK(side(0.9) == +1);
  CHECK(side(-0.9) == +1);
  scene.keep_right = false;
  CHECK(side(0.9) == -1);
  CHECK(side(-1.1) == +1);
}

TEST_CASE("the first keeps room to swing off, in a crosswind rides to windward by that room", "[placing]") {
  Scene scene(1);
  const auto line_m = [&](double cross_mps, Lane lane) {
    scene.riders.wind_cross_mps[0] = cross_mps;
    scene.road[0].lane = lane;
    return front_line_m(scene.now(), 0);
  };
  const Lane wide{-3.5, -0.5}, narrow{-2.5, -1.5};
  CHECK(line_m(0.0, wide) == -2.0);
  CHECK(line_m(0.0, narrow) == Approx(-2.4));
  CHECK(line_m(2.0, wide) == -2.0);  // swings off to the right
  CHECK(line_m(2.0, narrow) == Approx(-1.6));
  CHECK(line_m(2.6, wide) == Approx(-2.6));  // blows from the right: 0.9 m from the right edge
  CHECK(line_m(-2.6, wide) == Approx(-1.4));
}

TEST_CASE("where the line passes a rider is found between its riders, and ahead of the first it is where he heads",
          "[placing]") {
  Scene scene(4);
  scene.in_line(1, 3).has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  scene.riders.y_m[1] = -2.0;
  scene.riders.y_m[2] = -2.4;
  scene.riders.y_m[3] = -3.0;
  const auto at_m = [&](double x_m) {
    scene.riders.x_m[0] = x_m;
    return line_abeam_m(scene.settling(), 0);
  };
  const double x1 = scene.riders.x_m[1], x2 = scene.riders.x_m[2], x3 = scene.riders.x_m[3];
  CHECK(at_m(0.5 * (x1 + x2)) == Approx(-2.2));
  CHECK(at_m(x2 + 0.25 * (x1 - x2)) == Approx(-2.3));
  CHECK(at_m(0.5 * (x2 + x3)) == Approx(-2.7));
  CHECK(at_m(x3 - 5.0) == -3.0);
  scene.riders.y_m[1] = -2.3;
  CHECK(at_m(x1 + 1.0) == -2.0);  // the lane's middle, where the first is going
}

TEST_CASE("a rider alone keeps the middle of the lane and his or her own gap, a waiting one stands 0.3 m from the edge",
          "[placing]") {
  Scene scene(1);
  scene.keep_right = GENERATE(true, false);
  const double side = scene.keep_right ? -1.0 : 1.0;
  if (!scene.keep_right) scene.road[0].lane = {0.5, 3.5};
  CHECK(placed(scene, 0).y_target_m == side * 2.0);
  CHECK(placed(scene, 0).wish_gap_m == Approx(0.3));
  scene.has_role(0, Role::waiting);
  CHECK(placed(scene, 0).y_target_m == Approx(side * 3.7));
}

TEST_CASE("on a wheel a rider sits where its wake passes, as far as the room goes", "[placing]") {
  Scene scene(2, 0.5);
  scene.in_line();
  CHECK(placed(scene, 1).y_target_m == -2.0);
  scene.riders.wind_cross_mps[0] = scene.riders.wind_cross_mps[1] = 2.5;
  CHECK(placed(scene, 1).y_target_m == Approx(-2.0 + 2.2 * 0.25));
  scene.riders.wind_cross_mps[0] = scene.riders.wind_cross_mps[1] = 8.0;
  CHECK(placed(scene, 1).y_target_m == Approx(-2.0 + 1.2));  // 1.76 asked; two abreast, 1.2 m
  scene.riders.wind_cross_mps[0] = scene.riders.wind_cross_mps[1] = -8.0;
  CHECK(placed(scene, 1).y_target_m == Approx(-2.0 - 1.2));
}

TEST_CASE("room behind a first rider outside the lane is still room", "[placing]") {
  Scene scene(2);
  scene.in_line();
  scene.riders.y_m[0] = -4.5;  // the room would end before it begins
  scene.riders.wind_cross_mps[1] = 0.0;
  CHECK(placed(scene, 1).y_target_m == -3.5);
}

TEST_CASE("nobody means to ride outside the lane, and who waits stands beside it", "[placing]") {
  Scene scene(1);
  scene.road[0].lane = {-1.6, -0.5};  // the road is still 8 m wide here
  CHECK(placed(scene, 0).y_target_m == -1.6);
  scene.road[0].lane = {-3.5, -2.5};
  CHECK(placed(scene, 0).y_target_m == -2.5);
  scene.has_role(0, Role::waiting);
  CHECK(placed(scene, 0).y_target_m == Approx(-3.7));
}

TEST_CASE("in an echelon without room a rider sits half a wheel beside, once clear of the wheel, and no nearer than 0.8 m",
          "[placing]") {
  Scene scene(2, 0.5);
  scene.in_line();
  scene.riders.wind_cross_mps[0] = scene.riders.wind_cross_mps[1] = 8.0;  // asks for 1.76 m aside
  const auto gap_m = [&](double aside_m) {
    scene.riders.y_m[1] = -2.0 + aside_m;
    return placed(scene, 1).wish_gap_m;
  };
  CHECK(gap_m(0.61) == Approx(0.3));
  CHECK(gap_m(1.2) == Approx(2.0 * 1.2 / 1.76 - 1.7));
  CHECK(gap_m(0.65) == Approx(0.8 - 1.7));
  CHECK(gap_m(1.8) == Approx(0.3));  // further aside than the wake asks
}

TEST_CASE("who sits in leaves room for a rider who comes back within 8 m ahead", "[placing]") {
  Scene scene(4);
  scene.in_line(1, 3).has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  scene.memory[3].skipped_turns = 2;
  const auto gap_m = [&](double ahead_m) {
    scene.riders.x_m[0] = scene.riders.x_m[3] + ahead_m;
    return placed(scene, 3).wish_gap_m;
  };
  CHECK(gap_m(7.9) == Approx(0.3 + 2.0));
  CHECK(gap_m(8.1) == Approx(0.3));
  CHECK(gap_m(-0.1) == Approx(0.3));
  scene.memory[3].skipped_turns = 1;
  CHECK(gap_m(7.9) == Approx(0.3));
  scene.memory[3].skipped_turns = 2;
  scene.has_role(0, Role::following);
  CHECK(gap_m(7.9) == Approx(0.3));
}

TEST_CASE("the first of a double line, and of any line in a crosswind, keeps the line of the front", "[placing]") {
  Scene scene(4);
  scene.in_line();
  scene.road[0].lane = {-2.5, -1.5};
  CHECK(placed(scene, 0).y_target_m == -2.0);
  scene.formation = Formation::circulating;
  CHECK(placed(scene, 0).y_target_m == Approx(-2.4));
  scene.formation = Formation::turns;
  scene.riders.wind_cross_mps[0] = -2.6;
  CHECK(placed(scene, 0).y_target_m == Approx(-2.4));
  scene.riders.wind_cross_mps[0] = -2.4;
  CHECK(placed(scene, 0).y_target_m == -2.0);
}

TEST_CASE("who lets by keeps to the edge until the time is over, unless aside himself", "[placing]") {
  Scene scene(1);
  scene.memory[0].lets_by_until_s = start_s + 0.1;
  CHECK(placed(scene, 0).y_target_m == -3.5);
  scene.keep_right = false;
  CHECK(placed(scene, 0).y_target_m == -0.5);
  scene.keep_right = true;
  scene.memory[0].side = -1;
  CHECK(placed(scene, 0).y_target_m == Approx(-2.9));
  scene.memory[0].side = 0;
  scene.memory[0].lets_by_until_s = start_s;
  CHECK(placed(scene, 0).y_target_m == -2.0);
}

TEST_CASE("who falls back leaves a bicycle more to the wheel until the time is over", "[placing]") {
  Scene scene(2);
  scene.in_line();
  scene.memory[1].falls_back_until_s = start_s + 0.1;
  CHECK(placed(scene, 1).wish_gap_m == Approx(scene.riders.own_gap_m[1] + bicycle_length_m));
  scene.memory[1].falls_back_until_s = start_s;
  CHECK(placed(scene, 1).wish_gap_m == scene.riders.own_gap_m[1]);
}

TEST_CASE("a rider aside rides beside whoever is in the way, one going back beside the line", "[placing]") {
  Scene scene(3);
  scene.in_line(1, 2);
  scene.memory[2] = {};
  scene.memory[2].side = +1;
  scene.riders.blocker[2] = 1;
  CHECK(placed(scene, 2).y_target_m == Approx(-1.1));
  CHECK(asked_to_let_by(scene.now(), 2, scene.memory[2]) == nobody);
  scene.riders.y_m[1] = -1.2;
  CHECK(placed(scene, 2).y_target_m == Approx(-2.1));
  CHECK(asked_to_let_by(scene.now(), 2, scene.memory[2]) == 1);
  scene.has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  scene.memory[0].side = -1;
  CHECK(placed(scene, 0).y_target_m == Approx(-1.2 - 0.9));
}
