/// Turns in front.

#include "riding/turns.hpp"

#include "riding/outlook.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// Three equals in line at 10 m/s, each with strength for half of the time in front; the turn of rider 0 is just over.
Scene turn_over() {
  Scene scene(3);
  scene.in_line().has_role(0, Role::front, 45.0);
  return scene;
}

void turn(Scene& scene) {
  Settling& s = scene.settling();
  s.line.clear();
  for (RiderIndex i = 0; i < scene.riders.count; ++i)
    if (scene.lines.front_of[i] == 0) s.line.push_back(i);
  s.shares.clear();
  for (const RiderIndex i : s.line) s.shares.push_back(pull_share(puller(s.now, i, 0, 10.0), 0.0));
  take_turns(s, 0);
}

bool gives_front(Scene& scene) {
  turn(scene);
  return scene.next[0].role == Role::drifting_back;
}

}  // namespace

// ---- the way back

TEST_CASE("the way back is the line's length at 0.7 m/s, and 3 s for moving over and 3 s back in, at most 400 m",
          "[turns]") {
  Scene scene(3);
  scene.in_line();
  const double line_m = 3 * (1.7 + 0.3 + 0.05 * 10.0);
  CHECK(way_back_m(scene.now(), scene.lines, 0) == Approx(10.0 * (6.0 + line_m / 0.7)));
  scene.lines.size[0] = 30;
  CHECK(way_back_m(scene.now(), scene.lines, 0) == 400.0);
}

TEST_CASE("room to swing off is room for two over more than the way back", "[turns]") {
  Scene scene(3);
  scene.in_line();
  const double way_m = way_back_m(scene.now(), scene.lines, 0);
  scene.road[0].two_abreast_for_m = static_cast<float>(way_m + 0.1);
  CHECK(has_room_to_swing_off(scene.now(), scene.lines, 0));
  scene.road[0].two_abreast_for_m = static_cast<float>(way_m - 0.1);
  CHECK_FALSE(has_room_to_swing_off(scene.now(), scene.lines, 0));
}

// ---- when the front is given away

TEST_CASE("a turn of 45 s ends after 45 s and not sooner, told with its length", "[turns]") {
  Scene scene = turn_over();
  CHECK_FALSE(gives_front(scene.has_role(0, Role::front, 44.9)));
  CHECK(scene.told.empty());
  CHECK(gives_front(scene.has_role(0, Role::front, 45.0)));
  REQUIRE(told_in(scene.told) == std::vector<Told>{{EventKind::ends_turn, 0, 1}, {EventKind::takes_turn, 1, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::turn_over, 1, {45.0}));
  CHECK_THAT(scene.told[1].because, Is(Reason::turn_begins, 0, {60.0}));  // a third of a round of 180 s
}

TEST_CASE("a front whose W' is down to the reserve comes off after 5 s, told as that", "[turns]") {
  Scene scene = turn_over();
  scene.has_role(0, Role::front, 10.0);
  scene.riders.wbal_J[0] = 3001.0;
  CHECK_FALSE(gives_front(scene));
  scene.riders.wbal_J[0] = 2999.0;
  CHECK(gives_front(scene));
  CHECK_THAT(scene.told[0].because, Is(Reason::reserve_reached, 1, {10.0}));
  scene.memory[0].turn_s = 5.0;  // the shortest turn is ridden to its end
  scene.has_role(0, Role::front, 4.9);
  CHECK_FALSE(gives_front(scene));
  scene.memory[0].turn_s = 5.1;
  CHECK(gives_front(scene));
}

TEST_CASE("who is told to sit in comes off the front at once", "[turns]") {
  Scene scene = turn_over();
  scene.has_role(0, Role::front, 1.0);
  CHECK_FALSE(gives_front(scene));
  CHECK(gives_front(scene.is_told(0, Choice::sits_in)));
}

TEST_CASE("the front is given to a rider within 5 m and up to speed", "[turns]") {
  Scene scene = turn_over();
  CHECK(gives_front(scene.gap_m(1, 4.9)));
  CHECK_FALSE(gives_front(scene.gap_m(1, 5.1)));
  scene.gap_m(1, 0.5).riders.v_mps[1] = 9.81;
  CHECK(gives_front(scene));
  scene.riders.v_mps[1] = 9.79;
  CHECK_FALSE(gives_front(scene));
}

TEST_CASE("nobody gives the front away whose way back would end beyond the road or the next stop", "[turns]") {
  Scene scene = turn_over();
  const double back_at_m = scene.riders.x_m[0] + way_back_m(scene.now(), scene.lines, 0);
  scene.road_length_m = back_at_m + 0.1;
  CHECK(gives_front(scene));
  scene.road_length_m = back_at_m - 0.1;
  CHECK_FALSE(gives_front(scene));
  scene.road_length_m = 1e6;
  scene.riders.stop_at_m[0] = back_at_m + 0.1;
  CHECK(gives_front(scene));
  scene.riders.stop_at_m[0] = back_at_m - 0.1;
  CHECK_FALSE(gives_front(scene));
}

TEST_CASE("nobody swings off while another going back has not cleared the front by half a metre", "[turns]") {
  Scene scene(4);
  scene.in_line(0, 2).has_role(0, Role::front, 45.0).has_role(3, Role::drifting_back);
  scene.lines.front_of[3] = 0;
  scene.riders.x_m[3] = scene.riders.x_m[0] - 2.21;
  CHECK(gives_front(scene));
  scene.riders.x_m[3] = scene.riders.x_m[0] - 2.19;
  CHECK_FALSE(gives_front(scene));
  scene.riders.x_m[3] = scene.riders.x_m[0] + 1.0;
  CHECK_FALSE(gives_front(scene));
}

TEST_CASE("a front with nobody in file behind is not given away to one who goes back", "[turns]") {
  Scene scene(2);
  scene.in_line(0, 0).has_role(0, Role::front, 45.0).has_role(1, Role::drifting_back).gap_m(1, 3.0);
  scene.lines.front_of[1] = 0;
  CHECK_FALSE(gives_front(scene));
}

TEST_CASE("in a free ride the next takes the front who alone could ride 97 % of its speed", "[turns]") {
  Scene scene = turn_over();
  scene.kind = RideKind::free;
  scene.outlook[1].own_speed_mps = 9.71;
  CHECK(gives_front(scene));
  scene.outlook[1].own_speed_mps = 9.69;
  CHECK_FALSE(gives_front(scene));
  scene.kind = GENERATE(RideKind::steady, RideKind::together, RideKind::race);
  CHECK(gives_front(scene));
}

TEST_CASE("the front is kept when nobody else in file could lead at all", "[turns]") {
  Scene scene = turn_over();
  scene.plans(1, 149.9).plans(2, 150.1);
  CHECK(gives_front(scene));
  scene.plans(2, 149.9);
  CHECK_FALSE(gives_front(scene));
  scene.plans(0, 250.0);  // the rider's own strength is not the others'
  CHECK_FALSE(gives_front(scene));
}

TEST_CASE("who could lead all the time keeps the front where the others cannot keep the pace, but in a ride together",
          "[turns]") {
  Scene scene = turn_over();
  const auto gives = [&](double own_W, double others_W) {
    return gives_front(scene.plans(0, own_W).plans(1, others_W).plans(2, others_W));
  };
  scene.kind = GENERATE(RideKind::steady, RideKind::free, RideKind::race, RideKind::by_strength);
  if (scene.kind == RideKind::free) scene.outlook[1].own_speed_mps = 10.0;
  CHECK_FALSE(gives(246.0, 197.0));  // shares of 0.96 and twice 0.47
  CHECK(gives(246.0, 198.0));
  CHECK(gives(244.0, 197.0));
  scene.kind = RideKind::together;
  CHECK(gives(246.0, 197.0));
}

TEST_CASE("who goes back beside the line leads nobody's turn in the meantime", "[turns]") {
  Scene scene(4);
  scene.in_line(0, 2).has_role(0, Role::front, 45.0).has_role(3, Role::drifting_back);
  scene.lines.front_of[3] = 0;
  scene.plans(1, 149.9).plans(2, 149.9);
  CHECK_FALSE(gives_front(scene));
}

// ---- to whom, and for how long

TEST_CASE("the next leads the whole line at its power, without a wheel of his own", "[turns]") {
  Scene scene(4);
  scene.in_line(0, 2).has_role(0, Role::front, 45.0).has_role(3, Role::drifting_back);
  scene.lines.front_of[3] = 0;
  scene.lines.size[0] = 4;
  scene.memory[0].front_W = 240.0;
  scene.memory[0].front_mps2 = -0.01;
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].role == Role::front);
  CHECK(scene.next[1].wheel == nobody);
  CHECK(scene.next[1].role_since_s == start_s);
  CHECK(scene.next[1].front_W == 240.0);
  CHECK(scene.next[1].front_mps2 == -0.01);
  CHECK(scene.lines_next.front_of == std::vector<RiderIndex>{1, 1, 1, 1});
  CHECK(scene.lines_next.size[1] == 4);
}

TEST_CASE("who comes off the front moves over to the usual side, in a wind across to windward", "[turns]") {
  Scene scene = turn_over();
  REQUIRE(gives_front(scene));
  CHECK(scene.next[0].side == +1);
  scene.riders.wind_cross_mps[0] = 1.5;  // from the right
  REQUIRE(gives_front(scene));
  CHECK(scene.next[0].side == -1);
}

TEST_CASE("a turn is as long as the share of strength in a round", "[turns]") {
  // Shares 0.5, 0.9 and 0.1 of the time: 0.6 of a round of 180 s.
  Scene scene = turn_over();
  scene.plans(1, 240.0);
  scene.plans(2, 160.0);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].turn_s == Approx(108.0));
  CHECK_THAT(scene.told[1].because, Is(Reason::turn_begins, 0, {108.0}));
}

TEST_CASE("a round takes 45 s a rider, and 180 s at least", "[turns]") {
  const auto turn_s = [](std::size_t riders, double least_round_s) {
    Scene scene(riders);
    scene.settings.least_round_s = least_round_s;
    scene.in_line().has_role(0, Role::front, 45.0);
    REQUIRE(gives_front(scene));
    return scene.next[1].turn_s;
  };
  const double usual_s = TacticsSettings{}.least_round_s;
  CHECK(turn_s(2, usual_s) == Approx(90.0));
  CHECK(turn_s(3, usual_s) == Approx(60.0));
  CHECK(turn_s(4, usual_s) == Approx(45.0));
  CHECK(turn_s(5, usual_s) == Approx(45.0));
  CHECK(turn_s(3, 134.0) == Approx(45.0));
  CHECK(turn_s(3, 136.0) == Approx(136.0 / 3.0));
}

TEST_CASE("a turn is no shorter than 5 s", "[turns]") {
  // Shares 0.9, 0.08 and 0.02 of the time: 0.08 of a round of 25 s.
  Scene scene = turn_over();
  scene.settings.turn_s = 25.0 / 3.0;
  scene.settings.least_round_s = 0.0;
  scene.plans(0, 240.0);
  scene.plans(1, 158.0);
  scene.plans(2, 152.0);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].turn_s == 5.0);
  CHECK(scene.told[1].kind == EventKind::takes_turn);
}

TEST_CASE("shares of a line that can hardly keep its pace are counted as a fifth at least", "[turns]") {
  // Shares 0, 0.06 and 0.06: of 0.12, counted as 0.2.
  Scene scene = turn_over();
  scene.plans(0, 150.0);
  scene.plans(1, 156.0).plans(2, 156.0);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].turn_s == Approx(0.3 * 180.0));
}

TEST_CASE(
    "a rider with strength for less than a fifth of an equal share lets the turn pass; the second time he is told to sit "
    "in, then no more",
    "[turns]") {
  const int skipped = GENERATE(0, 1, 2);
  Scene scene = turn_over();
  scene.memory[1].skipped_turns = skipped;
  scene.plans(1, 152.0);  // 0.02 of 1.02
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].role == Role::front);
  CHECK(scene.next[1].skipped_turns == skipped + 1);
  CHECK(scene.next[1].turn_s == 5.0);
  CHECK_THAT(scene.next[1].why, Is(Reason::cannot_pull, 0, {5.0}));
  REQUIRE(scene.told.size() == (skipped < 2 ? 2 : 1));
  if (skipped < 2) {
    CHECK(scene.told[1].kind == (skipped == 0 ? EventKind::skips_turn : EventKind::sits_in));
    CHECK_THAT(scene.told[1].because, Is(Reason::cannot_pull, 0, {5.0}));
  }
}

TEST_CASE("a turn is let pass just below a fifth of an equal share and ridden just above, which counts no turn as skipped",
          "[turns]") {
  // Of three, a fifth of an equal share is a fifteenth: 1 of 14 where the others make 1.0.
  const double share = GENERATE(0.071, 0.072);
  Scene scene = turn_over();
  scene.memory[1].skipped_turns = 1;
  scene.plans(1, 150.0 + 100.0 * share);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].skipped_turns == (share < 1.0 / 14.0 ? 2 : 0));
}

TEST_CASE("thirty equals all take their turns", "[turns]") {
  Scene scene(30);
  scene.in_line().has_role(0, Role::front, 45.0);
  for (RiderIndex i = 0; i < 30; ++i) scene.plans(i, 155.0);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].skipped_turns == 0);
  CHECK(scene.next[1].turn_s == Approx(45.0));
}

TEST_CASE("who is told to take turns takes a usual one with no strength for it", "[turns]") {
  Scene scene = turn_over();
  scene.plans(1, 151.0);
  scene.is_told(1, Choice::takes_turns);
  REQUIRE(gives_front(scene));
  CHECK(scene.next[1].turn_s == 45.0);
  CHECK(scene.next[1].skipped_turns == 0);
  CHECK(scene.told[1].kind == EventKind::takes_turn);
}

TEST_CASE("the end of a turn let pass is not told", "[turns]") {
  Scene scene = turn_over();
  scene.memory[0].skipped_turns = 1;
  REQUIRE(gives_front(scene));
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::takes_turn, 1, 0}});
}
