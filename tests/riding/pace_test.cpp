/// The power of the first of a line.

#include "riding/pace.hpp"

#include <numeric>

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// At 10 m/s leading costs 250 W and following 150 W. This line could keep up any power, follows any and may give any.
Scene strong(std::size_t riders) {
  Scene scene(riders);
  scene.in_line();
  for (RiderIndex i = 0; i < riders; ++i) {
    scene.plans(i, 2000.0);
    scene.outlook[i].hold_limit_W = 2000.0;
  }
  scene.riders.power_W[0] = 5000.0;
  return scene;
}

FrontPower front(Scene& scene, bool rotates = true, bool own_pace = false) {
  Settling& s = scene.settling();
  s.line.clear();
  for (RiderIndex i = 0; i < scene.riders.count; ++i)
    if (scene.lines.front_of[i] == 0) s.line.push_back(i);
  return front_power(s, 0, rotates, own_pace);
}
double front_W(Scene& scene, bool rotates = true, bool own_pace = false) { return front(scene, rotates, own_pace).power_W; }

/// Shares of the front when it gives this power at 10 m/s.
double shares(Scene& scene, double power_W) {
  const Snapshot& now = scene.now();
  const double accel_mps2 = cost_at(now, 0).accel_mps2(power_W, 10.0, 1.0);
  double sum = 0.0;
  for (const RiderIndex i : now.order) sum += pull_share(puller(now, i, 0, 10.0), accel_mps2);
  return sum;
}

/// Power that speeding up takes at 10 m/s.
double speeding_W(const Scene& scene, double accel_mps2) { return scene.riders.moving_mass_kg[0] * accel_mps2 * 10.0; }

constexpr double found_W = 375.0 / 1024.0;  ///< the range up to the cap, halved ten times

}  // namespace

// ---- the turns that a line can keep up

TEST_CASE("the front of equals gives so much that the mean over places is the plan, and no more", "[pace]") {
  const std::size_t riders = GENERATE(2u, 3u, 5u);
  Scene scene(riders);
  scene.in_line();
  scene.riders.power_W[0] = 400.0;
  // In front 100 W more than behind: P - 100 (n - 1) / n is the plan.
  const double places = static_cast<double>(riders);
  const double power_W = front_W(scene);
  CHECK(power_W == Approx(200.0 + 100.0 * (places - 1.0) / places).margin(found_W));
  CHECK(shares(scene, power_W) >= 1.0);
  CHECK(shares(scene, power_W + found_W) < 1.0);
}

TEST_CASE("strong and weak make up one share of the front between them", "[pace]") {
  Scene scene(3);
  scene.in_line().plans(0, 230.0).plans(1, 190.0).plans(2, 120.0);
  scene.riders.power_W[0] = 400.0;
  scene.outlook[2].hold_limit_W = 400.0;
  scene.kind = RideKind::race;  // whose pace suits nobody in particular
  const double power_W = front_W(scene);
  // Rider 2 cannot pull: (230 - B) + (190 - B) = 100.
  CHECK(power_W == Approx(160.0 + 100.0).margin(found_W));
  Settling& s = scene.settling();
  s.line = {0, 1, 2};
  front_power(s, 0, true, false);
  REQUIRE(s.shares.size() == 3);
  CHECK(s.shares[0] == Approx(0.7).margin(0.01));
  CHECK(s.shares[1] == Approx(0.3).margin(0.01));
  CHECK(s.shares[2] == 0.0);
}

TEST_CASE("who is told to sit in is no help in front", "[pace]") {
  Scene scene(3);
  scene.in_line().is_told(2, Choice::sits_in);
  scene.riders.power_W[0] = 400.0;
  CHECK(front_W(scene) == Approx(250.0).margin(found_W));  // as of two
}

TEST_CASE("the acceleration told is what the power gives", "[pace]") {
  Scene scene(3);
  scene.in_line();
  scene.riders.power_W[0] = 400.0;
  const FrontPower power = front(scene);
  CHECK(power.power_W - 250.0 == Approx(speeding_W(scene, power.accel_mps2)));
  CHECK(power.accel_mps2 > 0.0);
}

TEST_CASE("on a rise the front gives the same power and slows; it never brakes for the group", "[pace]") {
  Scene scene(3);
  scene.in_line();
  scene.riders.power_W[0] = 400.0;
  const double level_W = front_W(scene);
  for (RoadHere& road : scene.road) road.slope_N = 10.0;
  const FrontPower power = front(scene);
  CHECK(power.power_W == Approx(level_W).margin(2.0 * found_W));
  CHECK(power.power_W - 350.0 == Approx(speeding_W(scene, power.accel_mps2)));
  CHECK(power.accel_mps2 < 0.0);
}

TEST_CASE("a road down which those behind are not yet gives no power below nothing", "[pace]") {
  Scene scene = strong(3);
  scene.kind = RideKind::together;
  scene.road[0].slope_N = scene.road[0].here_N = -400.0;
  CHECK(front_W(scene) == 0.0);
}

TEST_CASE("where nobody can come by, the front gives its own plan with what it owes", "[pace]") {
  Scene scene = strong(2);
  scene.outlook[0].line_W = 210.0;
  scene.outlook[0].planned_W = 195.0;
  CHECK(front_W(scene, true) == Approx(375.0));
  CHECK(front_W(scene, false) == 210.0);
}

TEST_CASE("a front that rides by its own plan gives that, whatever the line could keep up or follow", "[pace]") {
  Scene scene(3);
  scene.in_line().plans(0, 400.0);
  CHECK(front_W(scene, true, true) == 400.0);
  CHECK(front_W(scene.plans(0, 100.0), true, true) == 100.0);
}

// ---- the most that a front gives

TEST_CASE("a front gives at most 1.5 times critical power", "[pace]") {
  Scene scene(1);
  scene.memory[0].turn_s = 45.0;
  CHECK(front_cap_W(scene.now(), 0, 45.0) == Approx(375.0));
  scene.settings.front_effort = 1.2;
  CHECK(front_cap_W(scene.now(), 0, 45.0) == Approx(300.0));
}

TEST_CASE("a turn costs at most half of the W' above the reserve, reckoned over 20 s at least", "[pace]") {
  Scene scene(1);
  scene.riders.wbal_J[0] = 3000.0 + 3600.0;
  CHECK(front_cap_W(scene.now(), 0, 45.0) == Approx(250.0 + 40.0));
  CHECK(front_cap_W(scene.now(), 0, 90.0) == Approx(250.0 + 20.0));
  CHECK(front_cap_W(scene.now(), 0, 21.0) == Approx(250.0 + 1800.0 / 21.0));
  CHECK(front_cap_W(scene.now(), 0, 19.0) == Approx(250.0 + 90.0));
  CHECK(front_cap_W(scene.now(), 0, 5.0) == Approx(250.0 + 90.0));
}

TEST_CASE("the cap is never below what the line may ask of the rider", "[pace]") {
  Scene scene(1);
  scene.outlook[0].line_W = 380.0;
  CHECK(front_cap_W(scene.now(), 0, 45.0) == 380.0);
  scene.outlook[0].line_W = 255.0;
  scene.riders.wbal_J[0] = 1000.0;
  CHECK(front_cap_W(scene.now(), 0, 45.0) == 255.0);
}

TEST_CASE("with W' below the reserve the cap is critical power, and no less", "[pace]") {
  Scene scene(1);
  scene.riders.wbal_J[0] = GENERATE(0.0, 1000.0, 3000.0);
  CHECK(front_cap_W(scene.now(), 0, 45.0) == 250.0);
}

TEST_CASE("a strong line rides at the cap of its front, for the turn that it has", "[pace]") {
  Scene scene = strong(3);
  scene.kind = RideKind::race;
  scene.plans(0, 200.0);
  CHECK(front_W(scene) == Approx(375.0));
  scene.riders.wbal_J[0] = 1000.0 + 3600.0;
  scene.memory[0].turn_s = 45.0;
  CHECK(front_W(scene) == Approx(290.0));
  scene.memory[0].turn_s = 90.0;
  CHECK(front_W(scene) == Approx(270.0));
}

TEST_CASE("a front without W' to spare gives no more than critical power", "[pace]") {
  Scene scene = strong(3);
  scene.plans(0, 200.0);
  scene.riders.wbal_J[0] = 3000.0;
  CHECK(front_W(scene) == Approx(250.0));
}

// ---- what the line can follow

namespace {

/// Of a strong line, riders who hold on only to what this power is at 10 m/s behind a wheel; `weak_W[0]` is of rider 1.
Scene weak(const std::vector<double>& plan_W, std::size_t riders) {
  Scene scene = strong(riders);
  for (std::size_t k = 0; k < plan_W.size(); ++k) scene.plans(static_cast<RiderIndex>(k + 1), plan_W[k]);
  return scene;
}
/// Power in front that a follower who plans `plan_W` can follow: 95 % of a tenth more than that, against 150 W.
constexpr double followed_W(double plan_W) { return 250.0 + 0.95 * 1.1 * plan_W - 150.0; }

}  // namespace

TEST_CASE("in a ride together the front gives what the weakest can follow", "[pace]") {
  Scene scene = weak({150.0, 140.0, 160.0}, 10);
  scene.kind = RideKind::together;
  CHECK(front_W(scene) == Approx(followed_W(140.0)));
  scene.settings.pace_share_together = 0.85;  // nine behind the front
  CHECK(front_W(scene) == Approx(followed_W(150.0)));
}

TEST_CASE("who gave too much of late holds the line below the plan only as far as all of it gave too much", "[pace]") {
  Scene scene = weak({150.0, 150.0}, 3);
  scene.kind = RideKind::together;
  scene.outlook[1].line_W = 100.0;
  scene.outlook[2].line_W = 200.0;
  CHECK(front_W(scene) == Approx(250.0 + 150.0 - 150.0));
  for (RiderIndex i : {0u, 2u}) scene.outlook[i].line_W = 0.98 * scene.outlook[i].plan_W;
  const double share = (0.98 * 2000.0 + 0.98 * 150.0 + 100.0) / 2300.0;
  CHECK(front_W(scene) == Approx(250.0 + share * 150.0 - 150.0));
  scene.riders.wbal_J[1] = scene.now().reserve_J(1) - 1.0;  // and who has spent the rest, altogether
  CHECK(front_W(scene) == Approx(followed_W(100.0)));
}

TEST_CASE("what a descent gives those behind is not held back", "[pace]") {
  Scene scene = strong(2);
  scene.kind = RideKind::together;
  scene.settings.comfort_acceleration_mps2 = 0.1;
  const double descent_N = 0.05 * scene.riders.moving_mass_kg[0];
  scene.road[0].slope_N = scene.road[0].here_N = -descent_N;
  CHECK(front_W(scene) == Approx(250.0 + speeding_W(scene, 0.1 - 0.05)));  // the other is still on the level
  scene.road[1].slope_N = -descent_N;
  CHECK(front_W(scene) == Approx(250.0 + speeding_W(scene, 0.1)));
}

TEST_CASE("in a steady ride it suits 85 % of those behind: of seven all, of eight all but one", "[pace]") {
  Scene seven = weak({150.0, 140.0}, 8), eight = weak({150.0, 140.0}, 9);
  seven.kind = eight.kind = GENERATE(RideKind::steady, RideKind::by_strength);
  seven.plans(0, 200.0);
  eight.plans(0, 200.0);
  CHECK(front_W(seven) == Approx(followed_W(140.0)));
  CHECK(front_W(eight) == Approx(followed_W(150.0)));
}

TEST_CASE("in a race it suits nobody, but speeds up at most comfortably", "[pace]") {
  Scene scene = weak({150.0, 140.0}, 4), all_strong = strong(4);  // rider 3 can pull all the time
  scene.settings.comfort_acceleration_mps2 = all_strong.settings.comfort_acceleration_mps2 = 0.1;
  scene.plans(0, 200.0);
  all_strong.plans(0, 200.0);
  scene.kind = GENERATE(RideKind::race, RideKind::free);
  CHECK(front_W(scene) == Approx(250.0 + speeding_W(scene, 0.1)));
  CHECK(front_W(all_strong) == Approx(250.0 + speeding_W(all_strong, 0.1)));
  // What a descent gives is not held back where the pace suits nobody.
  const double descent_N = 0.05 * scene.riders.moving_mass_kg[0];
  scene.road[0].slope_N = scene.road[0].here_N = -descent_N;
  CHECK(front_W(scene) == Approx(250.0 + speeding_W(scene, 0.1)));
}

TEST_CASE("nobody rides below their own plan for others, nor for that above what the line may ask", "[pace]") {
  Scene scene = weak({150.0}, 2);
  scene.kind = GENERATE(RideKind::steady, RideKind::by_strength);
  const bool rotates = GENERATE(true, false);
  scene.outlook[0].plan_W = 300.0;
  scene.outlook[0].line_W = 280.0;
  CHECK(front_W(scene, rotates) == 280.0);
  scene.outlook[0].line_W = 320.0;
  CHECK(front_W(scene, rotates) == 300.0);
  scene.kind = RideKind::together;
  CHECK(front_W(scene, rotates) == Approx(followed_W(150.0)));
}

TEST_CASE("what suits others is reckoned with the harder of the slopes under the wheels and ahead", "[pace]") {
  Scene scene = weak({100.0}, 2);
  scene.kind = RideKind::together;
  scene.road[0].slope_N = -10.0;  // 50 W on the wheel there
  const double speeding_up_W = 0.95 * 1.1 * 100.0 - 50.0;
  scene.road[0].here_N = -20.0;
  CHECK(front_W(scene) == Approx(150.0 + speeding_up_W));
  scene.road[0].here_N = -10.0;
  CHECK(front_W(scene) == Approx(150.0 + speeding_up_W));
  scene.road[0].here_N = 0.0;  // a crest
  CHECK(front_W(scene) == Approx(250.0 + speeding_up_W));
  scene.road[0].here_N = 5.0;
  CHECK(front_W(scene) == Approx(300.0 + speeding_up_W));
}

/// At 2 m/s the air takes 0.8 W more in front than on a wheel.
constexpr double followed_at_two_W = 0.95 * 1.1 * 20.0 + 0.8;

TEST_CASE("below 2 m/s powers are reckoned at 2 m/s", "[pace]") {
  for (const double v_mps : {2.0, 1.0, 0.1}) {
    Scene scene = weak({20.0}, 2);
    scene.kind = RideKind::together;
    scene.outlook[0].plan_W = 0.0;  // else a slow front gives that at least
    for (RiderIndex i = 0; i < 2; ++i) scene.riders.v_mps[i] = v_mps;
    CHECK(front_W(scene) == Approx(followed_at_two_W));
  }
}

TEST_CASE("slower than 2 m/s a front gives its own plan at least", "[pace]") {
  Scene scene = weak({20.0}, 2);
  scene.kind = RideKind::together;
  scene.plans(0, 200.0);
  for (RiderIndex i = 0; i < 2; ++i) scene.riders.v_mps[i] = 1.9;
  CHECK(front_W(scene) == 200.0);
  for (RiderIndex i = 0; i < 2; ++i) scene.riders.v_mps[i] = 2.0;
  CHECK(front_W(scene) == Approx(followed_at_two_W));
}

TEST_CASE("for long a follower is judged where the front is, by the shelter of late", "[pace]") {
  Scene scene = weak({300.0}, 2);
  scene.kind = RideKind::together;
  scene.road[0].slope_N = 10.0;
  scene.outlook[1].behind_factor = 1.0;
  // 350 W behind a wheel there without any shelter.
  CHECK(front_W(scene) == Approx(350.0 + 0.95 * 1.1 * 300.0 - 350.0));
  scene.outlook[1].behind_factor = 0.64;
  CHECK(front_W(scene) == Approx(350.0 + 0.95 * 1.1 * 300.0 - 250.0));
}

TEST_CASE("for a moment a follower is judged where he is, by a surge of 1.35 times critical power or what he would give",
          "[pace]") {
  Scene scene = strong(2);
  scene.kind = RideKind::together;
  scene.road[1].slope_N = 20.0;  // 350 W on the wheel
  scene.outlook[1].hold_limit_W = 300.0;
  CHECK(front_W(scene) == Approx(250.0 + 0.95 * 1.35 * 250.0 - 350.0));
  scene.outlook[1].hold_limit_W = 340.0;
  CHECK(front_W(scene) == Approx(250.0 + 0.95 * 340.0 - 350.0));
}

TEST_CASE("together what a line can follow binds the front's own plan too where nobody can come by", "[pace]") {
  Scene scene = weak({150.0}, 2);
  scene.kind = RideKind::together;
  CHECK(front_W(scene, false) == Approx(followed_W(150.0)));
}

// ---- taking the wind over

TEST_CASE("power in front rises by 20 W/s and no faster, from what the rider gives or what the shelter left to him asks",
          "[pace]") {
  Scene scene = strong(2);
  const double wanted_W = front_W(scene);
  scene.memory[0].takes_over = true;
  scene.riders.power_W[0] = 160.0;
  CHECK(front_W(scene) == Approx(180.0));
  CHECK(scene.next[0].takes_over);
  scene.settings.front_ramp_Wps = 50.0;
  CHECK(front_W(scene) == Approx(210.0));
  scene.riders.power_W[0] = wanted_W - 49.0;  // there, and from now on free of it
  CHECK(front_W(scene) == Approx(wanted_W));
  CHECK_FALSE(scene.next[0].takes_over);
}

TEST_CASE("power in front falls at once", "[pace]") {
  Scene scene = strong(2);
  scene.plans(0, 120.0);
  CHECK(front_W(scene, false) == 120.0);
}

// ---- easing for someone dropped

namespace {

/// A line of two at 10 m/s and 250 W, with rider 2 dropped 40 m behind.
Scene dropped(double plan_W) {
  Scene scene(3);
  scene.kind = RideKind::together;
  scene.in_line(0, 1).gap_m(2, 40.0).plans(2, plan_W);
  return scene;
}

void ease(Scene& scene) {
  Settling& s = scene.settling();
  s.line = {0, 1};
  ease_for_dropped(s, 0);
}

}  // namespace

TEST_CASE("a front eases to 90 % of the plan of who was dropped, as that speeds or slows here, told with that rider",
          "[pace]") {
  Scene scene = dropped(200.0);
  ease(scene);
  CHECK(scene.next[0].front_W == Approx(180.0));
  CHECK(speeding_W(scene, scene.next[0].front_mps2) == Approx(180.0 - 250.0));
  CHECK(scene.next[0].keeps_whole);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::eases, 0, 2}});
  CHECK_THAT(scene.told[0].because, Is(Reason::keeps_group_whole, 2));
}

TEST_CASE("a front gives its own power for the acceleration that the dropped rider would have", "[pace]") {
  Scene scene = dropped(200.0);
  scene.costs(2, 200.0, 120.0);  // for whom 180 W are 20 W short of 10 m/s
  ease(scene);
  CHECK(scene.next[0].front_W == Approx(250.0 - 20.0));
}

TEST_CASE("a front does not ease for who can come back at its power as it is", "[pace]") {
  Scene slow = dropped(277.0), fast = dropped(278.0);  // 249.3 and 250.2 W
  ease(slow);
  CHECK(slow.next[0].front_W == Approx(249.3));
  CHECK(slow.next[0].keeps_whole);
  ease(fast);
  CHECK(fast.next[0].front_W == 250.0);
  CHECK_FALSE(fast.next[0].keeps_whole);
  CHECK(fast.told.empty());
}

TEST_CASE("of several dropped the slowest sets the power", "[pace]") {
  Scene scene(4);
  scene.kind = RideKind::together;
  scene.in_line(0, 1).gap_m(2, 40.0).plans(2, 250.0).plans(3, 200.0);
  ease(scene);
  CHECK(scene.next[0].front_W == Approx(180.0));
  CHECK_THAT(scene.next[0].why, Is(Reason::keeps_group_whole, 3));
  ease(scene.plans(2, 100.0));
  CHECK(scene.next[0].front_W == Approx(90.0));
  CHECK_THAT(scene.next[0].why, Is(Reason::keeps_group_whole, 2));
}

TEST_CASE("the front waits for nobody of its own line, however weak", "[pace]") {
  Scene scene = dropped(100.0);
  scene.lines.front_of[2] = 0;
  ease(scene);
  CHECK(scene.next[0].front_W == 250.0);
}

TEST_CASE("a second echelon within 60 m keeps up by itself, one further back does not", "[pace]") {
  Scene scene = dropped(100.0);
  scene.memory[2].no_follow_until_s = start_s + 1.0;
  ease(scene.gap_m(1, 1.0).gap_m(2, 56.0));  // 58.7 m from the front
  CHECK(scene.next[0].front_W == 250.0);
  ease(scene.gap_m(2, 58.0));
  CHECK(scene.next[0].front_W == Approx(90.0));
  scene.gap_m(2, 40.0).memory[2].no_follow_until_s = start_s;
  ease(scene);
  CHECK(scene.next[0].front_W == Approx(90.0));
}

TEST_CASE("easing is told again after more than two minutes and not sooner", "[pace]") {
  Scene scene = dropped(100.0);
  scene.eased_at_s = start_s - 120.0;
  ease(scene);
  CHECK(scene.next[0].keeps_whole);
  CHECK(scene.told.empty());
  CHECK(scene.eased_at_s == start_s);
  scene.eased_at_s = start_s - 120.1;
  ease(scene);
  CHECK(scene.told.size() == 1);
  scene.memory[0].keeps_whole = true;  // eases already: nothing new
  scene.eased_at_s = start_s - 500.0;
  ease(scene);
  CHECK(scene.told.empty());
  CHECK(scene.eased_at_s == start_s - 500.0);
}

TEST_CASE("with all together again the front goes on with the turn", "[pace]") {
  Scene scene = dropped(300.0);
  scene.memory[0].keeps_whole = true;
  scene.memory[0].turn_s = 30.0;
  ease(scene);
  CHECK_FALSE(scene.next[0].keeps_whole);
  CHECK_THAT(scene.next[0].why, Is(Reason::turn_begins, nobody, {30.0}));
}
