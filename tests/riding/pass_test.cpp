/// Going past, moving over, letting by.

#include "riding/pass.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// A race; rider 1 behind rider 0, whom he could outride by `faster_mps`.
Scene race(double faster_mps, double gap_m) {
  Scene scene(2, gap_m);
  scene.kind = RideKind::race;
  scene.alone_mps(1, 10.0 + faster_mps);
  return scene;
}

/// Where rider 1, who passes on `side`, rides; `asked` is who is asked to let by.
double line_m(Scene& scene, int side, RiderIndex* asked = nullptr) {
  Memory own;
  own.side = side;
  if (asked != nullptr) *asked = asked_to_let_by(scene.now(), 1, own);
  return passing_line_m(scene.now(), 1, own, -2.0);
}

}  // namespace

TEST_CASE("on a wheel a racing rider wants past who could go 1.5 % faster, on a fast one 0.3 m/s", "[pass]") {
  Scene scene = race(0.16, 1.0);
  CHECK(scene.ask(faster_alone, 1).holds);
  CHECK_THAT(scene.ask(faster_alone, 1).because, Is(Reason::faster_alone, 0, {10.16, 10.0}));
  CHECK_FALSE(race(0.14, 1.0).ask(faster_alone, 1).holds);
  const auto wants_at = [](double speed_mps, double faster_mps) {
    Scene at(2, 1.0);
    at.kind = RideKind::race;
    at.riders.v_mps[0] = at.riders.v_mps[1] = speed_mps;
    return at.alone_mps(1, speed_mps + faster_mps).ask(faster_alone, 1).holds;
  };
  CHECK(wants_at(2.0, 0.031));
  CHECK_FALSE(wants_at(2.0, 0.029));
  CHECK(wants_at(25.0, 0.31));
  CHECK_FALSE(wants_at(25.0, 0.29));
}

TEST_CASE("who could go 8 % faster than the wheel leaves it after 3 s", "[pass]") {
  CHECK(race(0.81, 1.0).ask(far_faster_alone, 1).holds);
  CHECK_FALSE(race(0.79, 1.0).ask(far_faster_alone, 1).holds);
  CHECK_FALSE(race(0.81, 6.1).ask(far_faster_alone, 1).holds);
  Scene scene = race(0.81, 1.0);
  scene.formation = Formation::one_in_front;
  scene.in_line().alone_mps(1, 10.81);
  scene.seconds(3);
  CHECK(scene.memory[1].role == Role::following);
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].side == +1);
}

TEST_CASE("without a wheel who comes up to a rider 8 % slower moves out after 3 s, before the gap closes in 5 s", "[pass]") {
  const auto moves_out = [](double faster_mps, double closing_mps, double gap_m) {
    Scene scene = race(faster_mps, gap_m);
    scene.riders.v_mps[1] += closing_mps;
    return scene.ask(wheel_far_too_slow, 1).holds;
  };
  CHECK(moves_out(0.81, 0.0, 5.9));
  CHECK_FALSE(moves_out(0.79, 0.0, 5.9));
  CHECK_FALSE(moves_out(0.81, 0.0, 6.1));
  CHECK(moves_out(0.81, 2.0, 15.9));
  CHECK_FALSE(moves_out(0.81, 2.0, 16.1));
  CHECK_FALSE(moves_out(0.81, -2.0, 6.1));
  Scene scene = race(1.0, 5.0);
  scene.seconds(3);
  CHECK(scene.memory[1].side == 0);
  scene.second();
  CHECK(scene.memory[1].side == +1);
  CHECK(scene.told_before.empty());
}

TEST_CASE("a pass goes on where the next rider ahead is 8 % slower too and the gap to that one closes in 5 s", "[pass]") {
  const auto side_after = [](double faster_mps, double ahead_m) {
    Scene scene = race(faster_mps, ahead_m);
    scene.riders.v_mps[1] += 2.0;
    scene.memory[1].side = +1;
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(0.81, 12.9) == +1);
  CHECK(side_after(0.81, 13.1) == 0);
  CHECK(side_after(0.79, 12.9) == 0);
}

TEST_CASE("who is held up stays so while riders come and go behind", "[pass]") {
  Scene scene = race(0.5, 5.0);
  scene.seconds(5);
  scene.has_role(1, Role::front, 0.0);
  become(scene.memory[1], Role::alone, {}, scene.now().time_s);
  CHECK(scene.memory[1].since_s[static_cast<std::size_t>(Clock::faster)] != stopped);
  become(scene.memory[1], Role::following, {}, scene.now().time_s);
  CHECK(scene.memory[1].since_s[static_cast<std::size_t>(Clock::faster)] == stopped);
}

TEST_CASE("every ride but one together lets a rider go past as a race does", "[pass]") {
  Scene scene = race(0.31, 1.0);
  scene.kind = GENERATE(RideKind::steady, RideKind::free, RideKind::by_strength);
  CHECK(scene.ask(faster_alone, 1).holds);
  CHECK(scene.ask(wheel_too_slow, 1).holds);
}

TEST_CASE("going past is judged by the motion of the line: who could not lead its acceleration too stays", "[pass]") {
  Scene scene = race(0.0, 1.0);
  const double lead_W = cost_at(scene.now(), 1).power_W(10.15, 1.0);
  const double W_per_mps2 = scene.riders.moving_mass_kg[1] * 10.15;
  scene.plans(1, lead_W + 1.0);
  CHECK(scene.ask(faster_alone, 1).holds);
  scene.riders.accel_mps2[0] = 0.02;  // just getting going: a slow wheel is no slow rider
  CHECK_FALSE(scene.ask(faster_alone, 1).holds);
  CHECK_FALSE(scene.plans(1, lead_W + 0.02 * W_per_mps2 - 0.1).ask(faster_alone, 1).holds);
  CHECK(scene.plans(1, lead_W + 0.02 * W_per_mps2 + 0.1).ask(faster_alone, 1).holds);
  scene.riders.accel_mps2[0] = -0.1;
  scene.plans(1, lead_W - 0.1 * W_per_mps2 + 0.1);
  CHECK(scene.ask(faster_alone, 1).holds);
  CHECK_THAT(scene.ask(faster_alone, 1).because, Is(Reason::faster_alone, 0, {10.15, 10.0}));  // not the steady own speed
}

TEST_CASE("the motion of a front front_felt_m, 30 m, ahead or more does not count", "[pass]") {
  const auto passes = [](double front_ahead_m) {
    Scene scene(3, 1.0);
    scene.kind = RideKind::race;
    scene.in_line().alone_mps(2, 10.16);
    scene.riders.accel_mps2[0] = 0.5;
    scene.riders.x_m[0] = scene.riders.x_m[2] + front_ahead_m;
    return scene.ask(faster_alone, 2).holds;
  };
  CHECK_FALSE(passes(29.9));
  CHECK(passes(30.1));
}

TEST_CASE("the motion is that of the first of the line, the speed that of the wheel", "[pass]") {
  Scene scene(3, 1.0);
  scene.kind = RideKind::race;
  scene.in_line().alone_mps(2, 10.16);
  scene.riders.accel_mps2[1] = 1.0;
  CHECK(scene.ask(faster_alone, 2).holds);
  scene.riders.v_mps[1] = 10.02;
  CHECK_FALSE(scene.ask(faster_alone, 2).holds);
  scene.riders.v_mps[1] = 10.0;
  scene.riders.accel_mps2[0] = 1.0;
  CHECK_FALSE(scene.ask(faster_alone, 2).holds);
}

TEST_CASE("a wheel held up for less than passing_dwell_s in one go is not left", "[pass]") {
  Scene scene = race(0.5, 1.0);
  scene.formation = Formation::one_in_front;
  scene.in_line();
  for (int second = 0; second < 60; ++second) {
    scene.riders.accel_mps2[0] = second % 20 == 19 ? 1.0 : 0.0;
    scene.second();
    CHECK(scene.memory[1].role == Role::following);
  }
}

TEST_CASE("a pass survives that the rider comes to lead a line, or leads one no longer", "[pass]") {
  Scene scene = race(1.0, 1.0);
  scene.memory[1].side = +1;
  Scene followed(3, 1.0);
  followed.kind = RideKind::race;
  followed.alone_mps(1, 11.0).holds_wheel(2, 1);
  followed.memory[1].side = +1;
  form_lines(followed.settling());
  CHECK(followed.next[1].role == Role::front);
  CHECK(followed.next[1].side == +1);
  scene.has_role(1, Role::front);
  form_lines(scene.settling());
  CHECK(scene.next[1].role == Role::alone);
  CHECK(scene.next[1].side == +1);
}

TEST_CASE("on a wheel a rider goes past from 6 m, half the reach of a wheel", "[pass]") {
  CHECK(race(1.0, 5.9).ask(faster_alone, 1).holds);
  CHECK_FALSE(race(1.0, 6.1).ask(faster_alone, 1).holds);
}

TEST_CASE("where the pace suits everyone nobody goes past, but in a steady ride where the first of the line climbs freely",
          "[pass]") {
  Scene scene(3, 1.0);
  scene.kind = RideKind::together;
  scene.in_line();
  scene.alone_mps(2, 11.0);
  CHECK_FALSE(scene.ask(faster_alone, 2).holds);
  CHECK_FALSE(scene.ask(wheel_too_slow, 2).holds);
  scene.kind = RideKind::steady;
  scene.settings.pace_share_steady = 1.0;
  CHECK_FALSE(scene.ask(faster_alone, 2).holds);
  CHECK_FALSE(scene.ask(wheel_too_slow, 2).holds);
  scene.outlook[1].climbs_freely = true;  // of the wheel alone: the pace is the group's
  CHECK_FALSE(scene.ask(faster_alone, 2).holds);
  scene.outlook[0].climbs_freely = true;
  CHECK(scene.ask(faster_alone, 2).holds);
  CHECK(scene.ask(wheel_too_slow, 2).holds);
}

TEST_CASE("who is told to sit in does not go past the wheel", "[pass]") {
  Scene scene = race(1.0, 1.0);
  scene.is_told(1, Choice::sits_in);
  CHECK_FALSE(scene.ask(faster_alone, 1).holds);
}

TEST_CASE("a racing rider leaves the wheel after passing_dwell_s, 20 s, aside, told as going alone", "[pass]") {
  Scene scene = race(0.5, 1.0);
  scene.keep_right = GENERATE(true, false);
  scene.formation = Formation::one_in_front;
  scene.in_line();
  scene.seconds(20);
  CHECK(scene.memory[1].role == Role::following);
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].side == (scene.keep_right ? +1 : -1));
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::goes_alone, 1, 0}});
  CHECK_THAT(scene.told[0].because, Is(Reason::faster_alone, 0, {10.5, 10.0}));
}

TEST_CASE("without a wheel a slower rider ahead is passed from 6 m on, and from further away his wheel is left alone",
          "[pass]") {
  const Answer near = race(0.16, 5.9).ask(wheel_too_slow, 1), far = race(0.16, 6.1).ask(wheel_too_slow, 1);
  CHECK(near.holds);
  CHECK(near.holds_off);
  CHECK_FALSE(far.holds);
  CHECK(far.holds_off);
  const Answer slow = race(0.14, 5.9).ask(wheel_too_slow, 1);
  CHECK_FALSE(slow.holds);
  CHECK_FALSE(slow.holds_off);
}

TEST_CASE("without a wheel a racing rider moves out after dwell_s, still alone, and nothing is told", "[pass]") {
  Scene scene = race(0.5, 5.0);
  scene.seconds(8);
  CHECK(scene.memory[1].side == 0);
  scene.second();
  CHECK(scene.memory[1].side == +1);
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].since_s[static_cast<std::size_t>(Clock::faster)] == stopped);
  CHECK(scene.told_before.empty());
}

TEST_CASE("a rider aside takes no wheel and chases nobody until back in line", "[pass]") {
  Scene scene(2, 2.0);
  scene.alone_mps(1, 11.0).memory[1].side = GENERATE(+1, -1);
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].side != 0);
}

TEST_CASE("a pass is done with 3 m clear ahead and 1 m of road to the bicycle behind", "[pass]") {
  const auto side_after = [](double ahead_m, double behind_m, bool anyone_ahead = true) {
    Scene scene(3);
    scene.memory[1].side = +1;
    scene.riders.y_m[1] = -1.1;
    scene.alone_mps(1, 11.0);
    scene.gap_m(1, ahead_m).gap_m(2, behind_m);
    scene.riders.riding[0] = anyone_ahead;
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(3.1, 1.1) == 0);
  CHECK(side_after(2.9, 1.1) == +1);
  CHECK(side_after(3.1, 0.9) == +1);
  CHECK(side_after(2.9, 1.1, false) == 0);
  CHECK(side_after(2.9, 0.9, false) == +1);
}

TEST_CASE("a pass is done too when the rider behind has moved in on the same line", "[pass]") {
  const auto side_after = [](double aside_m) {
    Scene scene(3, 3.1);
    scene.memory[1].side = +1;
    scene.alone_mps(1, 11.0).gap_m(2, 0.1).riders.y_m[1] = -2.0 + aside_m;
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(0.44) == 0);
  CHECK(side_after(0.46) == +1);
}

TEST_CASE("at the edge for lets_by_s, 5 s, a rider whose line the one behind still keeps to goes back to it", "[pass]") {
  const auto side_after = [](double aside_m, double at_edge_s) {
    Scene scene(3, 3.1);
    scene.memory[1].side = -1;
    scene.memory[1].role_since_s = scene.now().time_s - at_edge_s;
    scene.alone_mps(1, 11.0).gap_m(2, 0.1).riders.y_m[1] = -2.0 + aside_m;
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(0.44, 5.1) == 0);
  CHECK(side_after(0.44, 4.9) == -1);
  CHECK(side_after(0.46, 5.1) == -1);
}

TEST_CASE("the last on the road is back in line as soon as the road ahead is clear", "[pass]") {
  Scene scene(2, 3.1);
  scene.memory[1].side = +1;
  scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
  CHECK(scene.next[1].side == 0);
}

TEST_CASE("a pass is given up beside a rider who is the faster, at the edge it is not a pass", "[pass]") {
  const auto side_after = [](int side, double own_mps) {
    Scene scene(2, 1.0);
    scene.memory[1].side = side;
    scene.alone_mps(1, own_mps);
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(+1, 9.9) == 0);
  CHECK(side_after(+1, 10.1) == +1);
  CHECK(side_after(-1, 9.9) == -1);
}

TEST_CASE("a pass goes on beside a line that speeds up only as long as leading that would cost less than the plan",
          "[pass]") {
  const auto side_after = [](double over_W) {
    Scene scene(2, 1.0);
    scene.memory[1].side = +1;
    scene.riders.accel_mps2[0] = 0.02;
    scene.plans(1, 250.0 + scene.riders.moving_mass_kg[1] * 0.02 * 10.0 + over_W);
    scene.let(1, [](const View& v, Proposal& p) { finish_passing(v, {}, p); });
    return scene.next[1].side;
  };
  CHECK(side_after(-0.1) == 0);
  CHECK(side_after(+0.1) == +1);
}

TEST_CASE("a racing rider sprints once the W' left lasts to the finish at half as much again as critical power", "[pass]") {
  const auto sprint = [](double early_s, double faster_mps = 0.1) {
    Scene scene = race(faster_mps, 5.9);
    scene.in_line();
    scene.road[1].to_finish_s = scene.now().spare_J(1) / 125.0 + early_s;
    return scene.ask(sprints, 1);
  };
  const Answer now = sprint(-0.1);
  CHECK(now.holds);
  CHECK(now.holds_off);
  CHECK(now.because.reason == Reason::sprints);
  CHECK(now.because.values[0] == Approx(race(0.1, 1.0).now().spare_J(1)));
  CHECK_FALSE(sprint(+0.1).holds);
  CHECK_FALSE(sprint(+0.1).holds_off);
  const Answer slower = sprint(-0.1, -0.1);  // a wheel that is faster is kept, but no other is looked for
  CHECK_FALSE(slower.holds);
  CHECK(slower.holds_off);
}

TEST_CASE("only in a race, and only within 6 m, does anyone sprint past, and nobody who is told to sit in", "[pass]") {
  const auto sprint = [](RideKind kind, double gap_m, bool sits_in) {
    Scene scene = race(1.0, gap_m);
    scene.in_line();
    scene.kind = kind;
    scene.road[1].to_finish_s = 10.0;
    if (sits_in) scene.is_told(1, Choice::sits_in);
    return scene.ask(sprints, 1).holds;
  };
  CHECK(sprint(RideKind::race, 5.9, false));
  CHECK_FALSE(sprint(RideKind::race, 6.1, false));
  CHECK_FALSE(sprint(RideKind::race, 1.0, true));
  CHECK_FALSE(sprint(RideKind::free, 1.0, false));
}

TEST_CASE("a sprint takes a rider off the wheel and aside at once, and nothing is told", "[pass]") {
  Scene scene = race(1.0, 1.0);
  scene.formation = Formation::one_in_front;
  scene.in_line();
  scene.road[1].to_finish_s = 10.0;
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
  CHECK(scene.memory[1].side == +1);
  CHECK(scene.told.empty());
  scene.memory[1].side = 0;  // past: no wheel is taken any more
  scene.second();
  CHECK(scene.memory[1].role == Role::alone);
}

TEST_CASE("who cannot come by for 20 s, within half a metre of a rider in the way, goes back and begins anew", "[pass]") {
  const auto asks = [](double gap_m, int side) {
    Scene scene = race(1.0, gap_m);
    scene.riders.blocker[1] = 0;
    scene.memory[1].side = side;
    return scene.ask(cannot_come_by, 1).holds;
  };
  CHECK(asks(0.49, +1));
  CHECK_FALSE(asks(0.51, +1));
  CHECK_FALSE(asks(0.49, 0));
  Scene scene = race(1.0, 0.4);
  scene.riders.blocker[1] = 0;
  scene.memory[1].side = +1;
  scene.seconds(20);
  CHECK(scene.memory[1].side == +1);
  scene.second();
  CHECK(scene.memory[1].side == 0);
}

// ---- where across the road: a lane from -3.5 to -0.5 m, rider 0 in the way

TEST_CASE("who passes rides 0.9 m beside the rider in the way, on the usual side", "[pass]") {
  Scene scene(2, 5.9);
  scene.riders.blocker[1] = 0;
  scene.riders.y_m[1] = -2.2;
  RiderIndex asked = 7;
  CHECK(line_m(scene, +1, &asked) == Approx(-1.1));
  CHECK(asked == nobody);
}

TEST_CASE("with nobody in the way within 6 m who passes keeps the line", "[pass]") {
  Scene scene(2, 6.1);
  scene.riders.y_m[1] = -1.3;
  CHECK(line_m(scene, +1) == -1.3);
  scene.riders.blocker[1] = 0;
  CHECK(line_m(scene, +1) == -1.3);
  CHECK(line_m(scene.gap_m(1, 5.9), +1) == Approx(-1.1));
}

TEST_CASE("without room on the usual side who passes takes the other and asks to be let by", "[pass]") {
  Scene scene(2, 1.0);
  scene.riders.blocker[1] = 0;
  RiderIndex asked = nobody;
  scene.riders.y_m[0] = -1.31;  // 0.09 m outside the lane still counts as room
  CHECK(line_m(scene, +1, &asked) == Approx(-0.41));
  CHECK(asked == nobody);
  scene.riders.y_m[0] = -1.29;
  CHECK(line_m(scene, +1, &asked) == Approx(-2.19));
  CHECK(asked == 0);
}

TEST_CASE("with somebody alongside in the way aside, who passes asks to be let by", "[pass]") {
  const auto asks = [](double back_m, double aside_m) {
    Scene scene(3, 1.0);
    scene.riders.blocker[1] = 0;
    scene.riders.x_m[2] = scene.riders.x_m[1] - back_m;
    scene.riders.y_m[2] = scene.riders.y_m[1] + aside_m;
    RiderIndex asked = nobody;
    line_m(scene, +1, &asked);
    return asked == 0;
  };
  CHECK(asks(0.5, 0.6));
  CHECK(asks(bicycle_length_m - 0.01, 0.6));
  CHECK_FALSE(asks(bicycle_length_m + 0.01, 0.6));
  CHECK(asks(0.5, 1.39));  // 0.9 m to the side and half a metre of room
  CHECK_FALSE(asks(0.5, 1.41));
  CHECK_FALSE(asks(0.5, -0.6));
}

TEST_CASE("without room on either side who passes rides at the lane's edge and asks to be let by", "[pass]") {
  Scene scene(2, 1.0);
  scene.riders.blocker[1] = 0;
  scene.road[1].lane = {-2.5, -1.5};
  RiderIndex asked = nobody;
  CHECK(line_m(scene, +1, &asked) == -1.5);
  CHECK(asked == 0);
}

TEST_CASE("who goes to the edge rides 0.9 m aside of the lane's middle", "[pass]") {
  Scene scene(2, 1.0);
  scene.riders.blocker[1] = 0;
  CHECK(line_m(scene, -1) == Approx(-2.9));
  scene.keep_right = false;
  CHECK(line_m(scene, +1) == Approx(-1.1));
}

TEST_CASE("a rider asked to let by keeps to the edge for five seconds", "[pass]") {
  Scene scene = race(2.0, 1.0);
  scene.memory[1].side = +1;
  scene.riders.blocker[1] = 0;
  scene.riders.y_m[0] = -1.2;
  scene.second();
  CHECK(scene.memory[0].lets_by_until_s == start_s + 5.0);
  scene.riders.blocker[1] = nobody;
  for (int second = 1; second < 5; ++second) {
    scene.second();
    CHECK(scene.riders.y_target_m[0] == -3.5);
  }
  scene.second();
  CHECK(scene.riders.y_target_m[0] == -2.0);
}

// ---- coming out from between two others

TEST_CASE("who rides beside the place that a pass needs, on a wheel and a little behind, falls back", "[pass]") {
  Scene scene(3);
  scene.memory[1].side = +1;  // 1 is held up by 0, and 2 rides beside on the way out
  scene.riders.blocker[1] = 0;
  scene.holds_wheel(2, 0);
  scene.riders.x_m[2] = scene.riders.x_m[1] - 0.2;
  scene.riders.y_m[2] = -1.5;
  const auto asked = [&] { return asked_to_fall_back(scene.now(), 1, scene.memory[1]); };
  CHECK(asked() == 2);
  settle_letting_by(scene.now(), scene.memory);
  CHECK(scene.memory[2].falls_back_until_s == start_s + scene.settings.lets_by_s);
  CHECK(scene.memory[1].falls_back_until_s == 0.0);
  scene.riders.y_m[2] = -2.0 + 0.9 + 0.5;  // out of the way
  CHECK(asked() == nobody);
  scene.riders.y_m[2] = -2.0 + 0.9 + 0.49;
  CHECK(asked() == 2);
  scene.riders.x_m[2] = scene.riders.x_m[1] - bicycle_length_m - 0.01;
  CHECK(asked() == nobody);
  scene.riders.x_m[2] = scene.riders.x_m[1] + 0.2;  // who is ahead cannot
  CHECK(asked() == nobody);
  scene.riders.x_m[2] = scene.riders.x_m[1] - 0.2;
  scene.memory[2].wheel = nobody;
  CHECK(asked() == nobody);
}

TEST_CASE("of two side by side on one wheel the one behind falls back", "[pass]") {
  Scene scene(3);
  scene.holds_wheel(1, 0).holds_wheel(2, 0);
  scene.riders.x_m[2] = scene.riders.x_m[1] - scene.settings.wheel_ahead_m + 0.01;
  scene.riders.y_m[2] = -1.1;
  CHECK(shares_wheel(scene.now(), 2, scene.memory) == 1);
  CHECK(shares_wheel(scene.now(), 1, scene.memory) == nobody);
  settle_letting_by(scene.now(), scene.memory);
  CHECK(scene.memory[2].falls_back_until_s == start_s + scene.settings.lets_by_s);
  CHECK(scene.memory[1].falls_back_until_s == 0.0);
  scene.riders.x_m[2] -= 0.02;
  CHECK(shares_wheel(scene.now(), 2, scene.memory) == nobody);
  scene.riders.x_m[2] += 0.02;
  scene.memory[1].wheel = nobody;
  CHECK(shares_wheel(scene.now(), 2, scene.memory) == nobody);
}
