/// The pace of a line.

#include "riding/pace.hpp"

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

/// A line strong enough for any pace, whose riders can hold these speeds on a wheel.
Scene holding(const std::vector<double>& hold_mps) {
  Scene scene(hold_mps.size());
  scene.in_line();
  for (RiderIndex i = 0; i < hold_mps.size(); ++i) {
    scene.outlook[i].hold_speed_mps = hold_mps[i];
    scene.outlook[i].planned_W = 2000.0;
  }
  return scene;
}

double pace_mps(Scene& scene, bool rotates = true) {
  Settling& s = scene.settling();
  s.line.clear();
  for (RiderIndex i = 0; i < scene.riders.count; ++i) s.line.push_back(i);
  return shared_pace_mps(s, 0, rotates);
}

}  // namespace

TEST_CASE("in a ride together the pace is what the weakest can hold", "[pace]") {
  Scene scene = holding({12.0, 9.0, 11.0});
  scene.kind = RideKind::together;
  CHECK(pace_mps(scene) == 9.0);
}

TEST_CASE("in a steady ride the pace suits 85 % of the line: of seven all, of eight all but one", "[pace]") {
  Scene seven = holding({12.0, 9.0, 11.0, 10.0, 12.0, 12.0, 12.0});
  CHECK(pace_mps(seven) == 9.0);
  Scene eight = holding({12.0, 9.0, 11.0, 10.0, 12.0, 12.0, 12.0, 12.0});
  CHECK(pace_mps(eight) == 10.0);
  eight.kind = RideKind::together;
  CHECK(pace_mps(eight) == 9.0);
}

TEST_CASE("a line goes no faster than its turns keep up: the shares in front of all make one", "[pace]") {
  Scene scene = holding({12.0, 12.0, 12.0});
  for (Outlook& outlook : scene.outlook) outlook.planned_W = 200.0;
  const double pace = pace_mps(scene);
  Settling& s = scene.settling();
  const std::vector<RiderIndex> all{0, 1, 2};
  CHECK(pull_shares(s, all, pace) >= 1.0);
  CHECK(pull_shares(s, all, pace + 6.0 / 256.0) < 1.0);  // half the range, halved eight times
  CHECK(pace < 11.9);
  CHECK(pace > 9.0);
}

TEST_CASE("a pace is looked for from half the speed held on, and not below", "[pace]") {
  Scene scene = holding({12.0, 12.0});
  for (Outlook& outlook : scene.outlook) outlook.planned_W = 1.0;
  CHECK(pace_mps(scene) == 6.0);
}

TEST_CASE("where nobody can come by the first holds the pace alone", "[pace]") {
  Scene scene = holding({12.0, 12.0});
  scene.outlook[0].planned_W = 250.0;  // 10 m/s
  CHECK(pace_mps(scene, true) == 12.0);
  CHECK(pace_mps(scene, false) == Approx(10.0).margin(6.0 / 256.0));
  CHECK(pace_mps(scene, false) <= 10.0);
}

TEST_CASE("shares of the front add up over the line, but not those of who is told to sit in", "[pace]") {
  Scene scene(3);
  scene.is_told(2, Choice::sits_in);
  const std::vector<RiderIndex> all{0, 1, 2};
  CHECK(pull_shares(scene.settling(), all, 10.0) == Approx(1.0));  // half of the time each
}

// ---- easing for someone dropped

namespace {

/// A line of two at 10 m/s, with rider 2 dropped 40 m behind, who alone could ride `own_mps`.
Scene dropped(double own_mps) {
  Scene scene(3);
  scene.kind = RideKind::together;
  scene.in_line(0, 1).gap_m(2, 40.0);
  scene.outlook[2].own_speed_mps = own_mps;
  return scene;
}

void ease(Scene& scene) {
  Settling& s = scene.settling();
  s.line = {0, 1};
  ease_for_dropped(s, 0);
}

}  // namespace

TEST_CASE("a front eases to 90 % of the speed of who was dropped, told with that rider", "[pace]") {
  Scene scene = dropped(8.0);
  ease(scene);
  CHECK(scene.next[0].line_pace_mps == Approx(7.2));
  CHECK(scene.next[0].keeps_whole);
  CHECK(told_in(scene.told) == std::vector<Told>{{EventKind::eases, 0, 2}});
  CHECK_THAT(scene.told[0].because, Is(Reason::keeps_group_whole, 2));
}

TEST_CASE("a front does not ease for who can come back at the pace as it is", "[pace]") {
  Scene slow = dropped(11.1), fast = dropped(11.2);  // 9.99 and 10.08 m/s
  ease(slow);
  CHECK(slow.next[0].line_pace_mps == Approx(9.99));
  ease(fast);
  CHECK(fast.next[0].line_pace_mps == 10.0);
  CHECK_FALSE(fast.next[0].keeps_whole);
  CHECK(fast.told.empty());
}

TEST_CASE("of several dropped the slowest sets the pace", "[pace]") {
  Scene scene(4);
  scene.kind = RideKind::together;
  scene.in_line(0, 1).gap_m(2, 40.0);
  scene.outlook[2].own_speed_mps = 9.0;
  scene.outlook[3].own_speed_mps = 8.0;
  ease(scene);
  CHECK(scene.next[0].line_pace_mps == Approx(7.2));
  CHECK_THAT(scene.next[0].why, Is(Reason::keeps_group_whole, 3));
}

TEST_CASE("nobody of the front's line is waited for, however slow alone", "[pace]") {
  Scene scene = dropped(8.0);
  scene.lines.front_of[2] = 0;
  ease(scene);
  CHECK(scene.next[0].line_pace_mps == 10.0);
}

TEST_CASE("a second echelon within 60 m keeps up by itself, one further back does not", "[pace]") {
  Scene scene = dropped(8.0);
  scene.memory[2].no_follow_until_s = start_s + 1.0;
  ease(scene.gap_m(1, 1.0).gap_m(2, 56.0));  // 58.7 m from the front
  CHECK(scene.next[0].line_pace_mps == 10.0);
  ease(scene.gap_m(2, 58.0));
  CHECK(scene.next[0].line_pace_mps == Approx(7.2));
  scene.gap_m(2, 40.0).memory[2].no_follow_until_s = start_s;
  ease(scene);
  CHECK(scene.next[0].line_pace_mps == Approx(7.2));
}

TEST_CASE("easing is told again after more than two minutes and not sooner", "[pace]") {
  Scene scene = dropped(8.0);
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
  Scene scene = dropped(12.0);
  scene.memory[0].keeps_whole = true;
  scene.memory[0].turn_s = 30.0;
  ease(scene);
  CHECK_FALSE(scene.next[0].keeps_whole);
  CHECK_THAT(scene.next[0].why, Is(Reason::turn_begins, nobody, {30.0}));
}
