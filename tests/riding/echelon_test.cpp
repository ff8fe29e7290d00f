/// Echelons, the gutter, second echelons.

#include "riding/echelon.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

void wind_across(Scene& scene, double cross_mps) {
  for (RiderIndex i = 0; i < scene.riders.count; ++i) scene.riders.wind_cross_mps[i] = cross_mps;
}

/// Four in line in a wind from the left that asks for more room to leeward than there is; rider 2 finds little shelter.
Scene gutter() {
  Scene scene(5, 0.3);
  scene.kind = RideKind::race;
  scene.formation = Formation::one_in_front;
  scene.in_line().has_role(0, Role::front, 100.0);
  for (RiderIndex i = 1; i < 5; ++i) {
    scene.outlook[i].hold_limit_W = 400.0;
    scene.riders.drag_factor[i] = 0.7;
  }
  scene.plans(0, 1000.0);
  wind_across(scene, -5.0);
  scene.riders.drag_factor[2] = 0.9;
  scene.riders.y_m[0] = -2.6;
  scene.riders.y_m[1] = scene.riders.y_m[2] = -3.4;
  return scene;
}

}  // namespace

TEST_CASE("the wake passes a rider to leeward by the way behind, times the wind across over the air along", "[echelon]") {
  Scene scene(2);
  wind_across(scene, 4.0);
  scene.riders.wind_along_mps[0] = -2.0;  // 12 m/s of air along
  const auto wake_m = [&] { return wake_line_m(scene.now(), 1, 0); };
  CHECK(wake_m() == Approx(-2.0 + 2.2 * 4.0 / 12.0));
  // The way counts from the rider's own gap, 2.0 m, to a metre more than the usual 1.7 + 0.3 + 0.05 * 10 m.
  scene.gap_m(1, 0.1);
  CHECK(wake_m() == Approx(-2.0 + 2.0 * 4.0 / 12.0));
  scene.gap_m(1, 3.0);
  CHECK(wake_m() == Approx(-2.0 + 3.5 * 4.0 / 12.0));
  scene.riders.wind_along_mps[0] = 9.5;  // air along of 1 m/s at least
  CHECK(wake_m() == Approx(-2.0 + 3.5 * 4.0 / 1.0));
}

TEST_CASE("a line is one file up to 1 m/s across, fans out to 2.5 m/s, and no further than riders abreast are allowed",
          "[echelon]") {
  Scene scene(2);
  scene.road[1].lane = {-20.0, 20.0};
  const auto room_m = [&](double cross_mps) {
    wind_across(scene, cross_mps);
    const Lane room = echelon_room(scene.now(), 1, 0);
    CHECK(room.high_m + room.low_m == Approx(2.0 * -2.0));  // about the first
    return 0.5 * (room.high_m - room.low_m);
  };
  CHECK(room_m(1.0) == Approx(0.3));
  CHECK(room_m(-1.75) == Approx(0.45 + 0.3));
  CHECK(room_m(2.5) == Approx(0.9 + 0.3));
  CHECK(room_m(9.0) == Approx(0.9 + 0.3));
  scene.road[1].abreast = 4;
  CHECK(room_m(2.5) == Approx(2.7 + 0.3));
}

TEST_CASE("on a road closed to traffic an echelon may use the whole lane, however many are allowed abreast", "[echelon]") {
  Scene scene(2);
  scene.road[1].lane = {-20.0, 20.0};
  wind_across(scene, 5.0);
  CHECK(echelon_room(scene.now(), 1, 0).high_m == Approx(-2.0 + 1.2));
  scene.road[1].closed = true;
  CHECK(echelon_room(scene.now(), 1, 0).low_m == -20.0);
  CHECK(echelon_room(scene.now(), 1, 0).high_m == 20.0);
}

TEST_CASE("where a wheel is worthless to the first a line stays one file in any wind and on any road", "[echelon]") {
  Scene scene(2);
  scene.road[1].lane = {-20.0, 20.0};
  wind_across(scene, 5.0);
  scene.outlook[1].wheel_worthless = true;  // of another
  CHECK(echelon_room(scene.now(), 1, 0).high_m == Approx(-2.0 + 1.2));
  scene.outlook[0].wheel_worthless = true;
  scene.road[1].closed = GENERATE(false, true);
  CHECK(echelon_room(scene.now(), 1, 0).high_m == Approx(-2.0 + 0.3));
  CHECK(echelon_room(scene.now(), 1, 0).low_m == Approx(-2.0 - 0.3));
}

TEST_CASE("an echelon stays in the lane", "[echelon]") {
  Scene scene(2);
  scene.road[1].lane = {-2.4, -1.2};
  wind_across(scene, 5.0);
  const Lane room = echelon_room(scene.now(), 1, 0);
  CHECK(room.low_m == -2.4);
  CHECK(room.high_m == -1.2);
}

TEST_CASE("a rider without room for the wake's offset and with little shelter is in the gutter, told by the drag",
          "[echelon]") {
  Scene scene = gutter();
  CHECK(scene.ask(in_gutter, 2).holds);
  CHECK_THAT(scene.ask(in_gutter, 2).because, Is(Reason::in_gutter, 1, {0.9}));
}

TEST_CASE("only in a race a rider without room begins another echelon", "[echelon]") {
  Scene scene = gutter();
  for (const RideKind kind : {RideKind::together, RideKind::steady, RideKind::free, RideKind::race, RideKind::by_strength}) {
    INFO(ride_kind_names[static_cast<std::size_t>(kind)]);
    scene.kind = kind;
    CHECK(scene.ask(in_gutter, 2).holds == (kind == RideKind::race));
  }
}

TEST_CASE("with a drag factor of 0.84 nobody is in the gutter, with 0.86 a rider is", "[echelon]") {
  Scene scene = gutter();
  scene.riders.drag_factor[2] = 0.86;
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.riders.drag_factor[2] = 0.84;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("in a wind of less than 2.5 m/s across nobody is in the gutter", "[echelon]") {
  Scene scene = gutter();
  scene.riders.wind_cross_mps[2] = -2.6;  // at the rider; the wake is that of the wheel
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.riders.wind_cross_mps[2] = -2.4;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("a wish up to 0.3 m outside the room is room enough", "[echelon]") {
  Scene scene = gutter();  // the room ends at the lane's edge, -3.5 m
  const double wake_m = wake_line_m(scene.now(), 2, 1) - scene.riders.y_m[1];
  scene.riders.y_m[1] = -3.81 - wake_m;
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.riders.y_m[1] = -3.79 - wake_m;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
  // The same to the other side.
  wind_across(scene, 5.0);
  scene.riders.y_m[0] = -1.4;
  scene.riders.y_m[1] = -0.19 + wake_m;
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.riders.y_m[1] = -0.21 + wake_m;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("two riders begin no echelon: three must be within 5 m of one another", "[echelon]") {
  Scene scene = gutter();
  CHECK(scene.gap_m(3, 4.9).ask(in_gutter, 2).holds);
  CHECK_FALSE(scene.gap_m(3, 5.1).ask(in_gutter, 2).holds);
  CHECK(scene.gap_m(3, 1.0).gap_m(4, 4.9).ask(in_gutter, 2).holds);
  CHECK_FALSE(scene.gap_m(4, 5.1).ask(in_gutter, 2).holds);
  scene.gap_m(4, 1.0).riders.riding[4] = 0;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("an echelon begins where a wheel in it saves more than 10 W and a twentieth of the power", "[echelon]") {
  Scene scene = gutter();
  const auto saving = [&](double saved_W, double gutter_W) {  // at a drag factor of 0.9, with 0.64 on a wheel
    const double air_W = saved_W / (0.9 - 0.64);
    return scene.costs(2, gutter_W + 0.1 * air_W, gutter_W + 0.1 * air_W - 0.36 * air_W).ask(in_gutter, 2).holds;
  };
  scene.riders.wind_along_mps[2] = 0.0;
  scene.settings.echelon_cross_mps = -1.0;  // what the wind across adds to the air is left out
  scene.riders.wind_cross_mps[2] = 0.0;
  CHECK(saving(10.1, 150.0));
  CHECK_FALSE(saving(9.9, 150.0));
  CHECK(saving(15.1, 300.0));
  CHECK_FALSE(saving(14.9, 300.0));
}

TEST_CASE("no second echelon for 20 s after a change of the front, nor within 20 s of the top", "[echelon]") {
  Scene scene = gutter();
  CHECK(scene.has_role(0, Role::front, 20.1).ask(in_gutter, 2).holds);
  CHECK_FALSE(scene.has_role(0, Role::front, 20.0).ask(in_gutter, 2).holds);
  scene.has_role(0, Role::front, 100.0);
  scene.road_length_m = scene.riders.x_m[2] + 200.1;
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.road_length_m = scene.riders.x_m[2] + 199.9;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("the wheel of the first rider is no echelon to leave, nor that of one who has just begun one", "[echelon]") {
  Scene scene = gutter();
  scene.riders.drag_factor[1] = 0.9;
  scene.riders.y_m[0] = -3.4;
  CHECK_FALSE(scene.ask(in_gutter, 1).holds);
  CHECK(scene.ask(in_gutter, 2).holds);
  scene.memory[1].no_follow_until_s = start_s + 0.1;
  CHECK_FALSE(scene.ask(in_gutter, 2).holds);
  scene.memory[1].no_follow_until_s = start_s;
  CHECK(scene.ask(in_gutter, 2).holds);
}

TEST_CASE("after dwell_s in the gutter a rider lets go and leads an echelon of his own for five minutes", "[echelon]") {
  Scene scene = gutter();
  scene.seconds(8);
  CHECK(scene.memory[2].role == Role::following);
  scene.second();
  CHECK(scene.memory[2].role == Role::front);  // rider 3 stays on the wheel
  CHECK(scene.memory[2].wheel == nobody);
  CHECK(scene.memory[2].let_go_of == 1);
  CHECK(scene.memory[2].no_follow_until_s == start_s + 308.0);
  CHECK(scene.memory[2].no_chase_until_s == start_s + 308.0);
  CHECK(scene.lines.front_of == std::vector<RiderIndex>{0, 0, 2, 2, 2});
  REQUIRE(told_in(scene.told) == std::vector<Told>{{EventKind::lets_go, 2, 1}});
  CHECK_THAT(scene.told[0].because, Is(Reason::in_gutter, 1, {0.9}));
}

TEST_CASE("of two in the gutter at once only the one ahead begins an echelon; the other judges afresh", "[echelon]") {
  Scene scene(6, 0.3);
  scene.kind = RideKind::race;
  scene.formation = Formation::one_in_front;
  scene.in_line().has_role(0, Role::front, 100.0);
  for (RiderIndex i = 1; i < 6; ++i) {
    scene.outlook[i].hold_limit_W = 400.0;
    scene.riders.drag_factor[i] = i == 2 || i == 3 ? 0.9 : 0.7;
    scene.riders.y_m[i] = -3.4;
  }
  scene.plans(0, 1000.0);
  wind_across(scene, -5.0);
  scene.seconds(9);
  CHECK(scene.lines.front_of == std::vector<RiderIndex>{0, 0, 2, 2, 2, 2});
  // The third judged by the second's start, before its wheel had begun the echelon; it sees that a second later.
  const double& since_s = scene.memory[3].since_s[static_cast<std::size_t>(Clock::in_gutter)];
  CHECK(since_s == start_s + 8.0);
  scene.second();
  CHECK(since_s == stopped);
  CHECK(scene.count_told(EventKind::lets_go, 3) == 0);
}

// ---- who leads a second echelon

TEST_CASE("who leads a second echelon takes no wheel for five minutes, and as long again while the wind blows",
          "[echelon]") {
  Scene scene(2);
  wind_across(scene, 5.0);
  scene.memory[1].no_follow_until_s = start_s + 1.0;
  Answer answer = scene.ask(leads_second_echelon, 1);
  CHECK_FALSE(answer.holds);
  CHECK(answer.holds_off);
  scene.memory[1].no_follow_until_s = start_s;
  scene.lines.size[1] = 2;
  answer = scene.ask(leads_second_echelon, 1);
  CHECK(answer.holds);
  CHECK(answer.holds_off);
  scene.second();
  CHECK(scene.memory[1].no_follow_until_s == start_s + 300.0);
  CHECK(scene.memory[1].role == Role::alone);
}

TEST_CASE("a second echelon is one no longer once the wind is below 2.5 m/s across or nobody follows", "[echelon]") {
  Scene scene(2, 2.0);
  scene.memory[1].no_follow_until_s = start_s;
  scene.lines.size[1] = 2;
  SECTION("the wind has dropped") { wind_across(scene, 2.4); }
  SECTION("nobody follows") {
    wind_across(scene, 5.0);
    scene.lines.size[1] = 1;
  }
  const Answer answer = scene.ask(leads_second_echelon, 1);
  CHECK(answer.holds);
  CHECK_FALSE(answer.holds_off);
  scene.second();
  CHECK(scene.memory[1].no_follow_until_s == 0.0);
  CHECK(scene.memory[1].role == Role::following);  // in the same second
}

TEST_CASE("a rider who never began an echelon takes wheels in any wind", "[echelon]") {
  Scene scene(2, 2.0);
  wind_across(scene, 5.0);
  scene.lines.size[1] = 2;
  CHECK_FALSE(scene.ask(leads_second_echelon, 1).holds_off);
}

// ---- the room left to the first echelon

TEST_CASE("a second echelon keeps 5 m behind the first: faster from further away, slower from nearer, free from 10 m on",
          "[echelon]") {
  Scene scene(4);
  scene.in_line(0, 1).in_line(2, 3);
  scene.riders.v_mps[1] = 9.0;
  const auto pace_mps = [&] { return pace_behind_echelon_mps(scene.now(), scene.lines, 2); };
  scene.gap_m(2, 5.0);
  CHECK(pace_mps() == Approx(9.0));
  scene.gap_m(2, 9.0);
  CHECK(pace_mps() == Approx(9.0 + 0.15 * 4.0));
  scene.gap_m(2, 1.0);
  CHECK(pace_mps() == Approx(9.0 - 0.15 * 4.0));
  scene.gap_m(2, 10.1);
  CHECK(pace_mps() == 0.0);
  scene.gap_m(2, 5.0);
  scene.riders.v_mps[1] = 0.5;
  CHECK(pace_mps() == 1.0);  // never at a stand
}

TEST_CASE("a second echelon minds the last rider ahead of another line", "[echelon]") {
  Scene scene(4);
  scene.in_line(0, 1).has_role(2, Role::drifting_back);
  scene.lines.front_of[2] = 3;
  scene.gap_m(2, 2.0).gap_m(3, 1.0);  // rider 1 is 4.7 m ahead of rider 3
  scene.riders.v_mps[1] = 9.0;
  CHECK(pace_behind_echelon_mps(scene.now(), scene.lines, 3) == Approx(9.0 - 0.15 * 0.3));
  CHECK(pace_behind_echelon_mps(scene.now(), scene.lines, 0) == 0.0);
}
