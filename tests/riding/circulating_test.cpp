/// A double line, and what differs from formation to formation.

#include "riding/formation.hpp"
#include "riding/placing.hpp"
#include "riding/scene.hpp"
#include "riding/turns.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

const LineFormation& formation(Scene& scene, RiderIndex front = 0) {
  const Snapshot& now = scene.now();
  return formation_of(now, scene.lines, front);
}

Scene line_of(std::size_t riders, Formation formation) {
  Scene scene(riders);
  scene.formation = formation;
  scene.in_line();
  return scene;
}

}  // namespace

TEST_CASE("four circulate, three told to circulate take turns", "[circulating]") {
  Scene three = line_of(3, Formation::circulating), four = line_of(4, Formation::circulating);
  CHECK(&formation(three) == &turns_formation);
  CHECK(&formation(four) == &circulating_formation);
  Scene one = line_of(4, Formation::one_in_front), turns = line_of(4, Formation::turns);
  CHECK(&formation(one) == &one_in_front_formation);
  CHECK(&formation(turns) == &turns_formation);
}

TEST_CASE("only with one in front the front is never given away, only circulating pays no heed to strength",
          "[circulating]") {
  CHECK(turns_formation.rotates());
  CHECK(circulating_formation.rotates());
  CHECK_FALSE(one_in_front_formation.rotates());
  CHECK(turns_formation.turns_by_strength());
  CHECK_FALSE(circulating_formation.turns_by_strength());
  CHECK(circulating_formation.keeps_room_beside());
  CHECK_FALSE(turns_formation.keeps_room_beside());
}

TEST_CASE("a turn of a double line lasts 8 s whatever the strength, one of a single line by strength with a least",
          "[circulating]") {
  const TacticsSettings t;
  CHECK(circulating_formation.turn_s(t, 81.0, 45.0) == 8.0);
  CHECK(turns_formation.turn_s(t, 81.0, 45.0) == 81.0);
  CHECK(turns_formation.turn_s(t, 3.0, 5.0) == 5.0);
}

TEST_CASE("a double line goes back by a place and the room to clear it in each turn, between 0.3 and 1.5 m/s",
          "[circulating]") {
  Scene scene = line_of(4, Formation::circulating);
  const auto receding_mps = [&] { return formation(scene).receding_mps(scene.now(), 0); };
  // 1.7 + 0.3 + 0.05 * 10 m and 1.7 - 0.5 m in 8 - 3 s.
  CHECK(receding_mps() == Approx(3.7 / 5.0));
  scene.settings.circulate_s = 4.5;
  CHECK(receding_mps() == 1.5);
  scene.settings.circulate_s = 40.0;
  CHECK(receding_mps() == 0.3);
  scene.settings.circulate_s = 3.2;  // shorter than moving over: as if a second were left
  scene.settings.most_receding_mps = 5.0;
  CHECK(receding_mps() == Approx(3.7));
  scene.formation = Formation::turns;
  CHECK(receding_mps() == 0.7);
}

TEST_CASE("the next of a double line moves over with half a metre of overlap, of a single line half a metre clear",
          "[circulating]") {
  const TacticsSettings t;
  CHECK(circulating_formation.clear_room_m(t) == Approx(1.2));
  CHECK(turns_formation.clear_room_m(t) == Approx(2.2));
}

TEST_CASE("in a long double line a rider goes back for as long as it takes everyone to lead", "[circulating]") {
  const TacticsSettings t;
  CHECK(circulating_formation.patience_s(t, 11) == 90.0);
  CHECK(circulating_formation.patience_s(t, 12) == 96.0);
  CHECK(turns_formation.patience_s(t, 12) == 90.0);
}

TEST_CASE("in a double line nobody lets a turn pass for want of strength", "[circulating]") {
  Scene scene = line_of(4, Formation::circulating);
  scene.has_role(0, Role::front, 8.0);
  scene.memory[0].turn_s = 8.0;
  scene.plans(1, 100.0);
  Settling& s = scene.settling();
  s.line = {0, 1, 2, 3};
  s.shares = {0.5, 0.0, 0.5, 0.5};
  take_turns(s, 0);
  CHECK(scene.next[1].role == Role::front);
  CHECK(scene.next[1].skipped_turns == 0);
  CHECK(scene.next[1].turn_s == 8.0);
  CHECK_THAT(scene.next[1].why, Is(Reason::turn_begins, 0, {8.0}));
}

// ---- riders going back: rider 0 beside the line of riders 1 to 4, all with the lane to themselves

namespace {

Scene going_back(Formation formation, double aside_m) {
  Scene scene(5);
  scene.formation = formation;
  scene.in_line(1, 4).has_role(0, Role::drifting_back);
  scene.lines.front_of[0] = 1;
  scene.lines.size[1] = 5;
  scene.memory[0].side = +1;
  scene.riders.x_m[0] = scene.riders.x_m[2];
  scene.riders.y_m[0] = -2.0 + aside_m;
  return scene;
}

double going_back_mps(Scene& scene) {
  Settling& s = scene.settling();
  return formation_of(s.now, s.lines, 1).going_back_mps(s, 0);
}

}  // namespace

TEST_CASE("a rider going back is as fast as the line until 0.62 m out of it, then slower", "[circulating]") {
  Scene inside = going_back(Formation::turns, 0.61), outside = going_back(Formation::turns, 0.63);
  CHECK(going_back_mps(inside) == Approx(10.0));
  // 9.3 m/s, asked for with as much again so that it comes promptly.
  CHECK(going_back_mps(outside) == Approx(9.3 - 0.7));
  outside.riders.v_mps[0] = 9.3;
  CHECK(going_back_mps(outside) == Approx(9.3));
}

TEST_CASE("in a double line a rider going back keeps line speed until out of it, then recedes by a place a turn",
          "[circulating]") {
  Scene inside = going_back(Formation::circulating, 0.61), outside = going_back(Formation::circulating, 0.63);
  CHECK(going_back_mps(inside) == 10.0);
  outside.riders.v_mps[0] = 9.0;
  CHECK(going_back_mps(outside) == Approx(10.0 - 0.74).margin(1e-3));
}

TEST_CASE("in a double line riders going back close up to one another, by at most 0.3 m/s", "[circulating]") {
  Scene scene = going_back(Formation::circulating, 0.9);
  scene.has_role(2, Role::drifting_back);
  scene.memory[2].wheel = nobody;
  scene.riders.v_mps[0] = 8.0;
  const double base_mps = 10.0 - 0.74;
  const double wished_m = 0.3 + 0.05 * 8.0;
  const auto behind_m = [&](double gap_m) {
    scene.riders.x_m[0] = scene.riders.x_m[2] - bicycle_length_m - gap_m;
    return going_back_mps(scene);
  };
  CHECK(behind_m(wished_m + 1.0) == Approx(base_mps + 0.15));
  CHECK(behind_m(wished_m - 1.0) == Approx(base_mps - 0.15));
  CHECK(behind_m(wished_m + 3.0) == Approx(base_mps + 0.3));
  CHECK(behind_m(10.2) == Approx(base_mps + 0.3));  // 11.9 m centre to centre
  CHECK(behind_m(10.4) == Approx(base_mps));        // 12.1 m: nobody to close up to
  scene.lines.front_of[2] = 2;                      // goes back along another line
  CHECK(behind_m(wished_m + 1.0) == Approx(base_mps));
}

TEST_CASE("a rider going back keeps 0.9 m aside of everyone near, in a double line 0.9 m aside of the line itself",
          "[circulating]") {
  Scene scene = going_back(Formation::turns, 0.9);
  const auto aside_m = [&] {
    Settling& s = scene.settling();
    return formation_of(s.now, s.lines, 1).beside_line_m(s, 0);
  };
  CHECK(aside_m() == Approx(-1.1));
  scene.riders.y_m[3] = -1.6;  // sits to the left, 2.2 m behind
  CHECK(aside_m() == Approx(-0.7));
  scene.riders.x_m[3] = scene.riders.x_m[0] - 4.3;  // 2.5 bicycles away
  CHECK(aside_m() == Approx(-1.1));
  scene.riders.y_m[1] = -1.8;  // the first counts wherever he is
  CHECK(aside_m() == Approx(-0.9));
  scene.memory[0].side = -1;
  scene.riders.y_m[3] = -2.4;
  scene.riders.x_m[3] = scene.riders.x_m[0] - 4.2;
  CHECK(aside_m() == Approx(-3.3));
  Scene two = going_back(Formation::circulating, 0.9);
  two.riders.y_m[3] = -1.6;
  Settling& s = two.settling();
  CHECK(formation_of(s.now, s.lines, 1).beside_line_m(s, 0) == Approx(line_abeam_m(s, 0) + 0.9));
}
