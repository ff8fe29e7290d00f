/// Observers of a ride shown moments made up here: what a rider does by stretch, who is with whom.

#include <catch2/catch.hpp>

#include "plan/group_tally.hpp"
#include "plan/ride_report_observers.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

struct Someone {
  float distance_m, group;
  Role role = Role::following;
  float speed_mps = 8.0f;
};
constexpr float alone_id = no_group;

/// Two stretches: to 400 m and to 1,000 m.
Scenario two_stretches(std::size_t riders) {
  return scenes::scene(scenes::with_landmarks(scenes::flat_road(1000.0), {400.0}), scenes::club(riders));
}

template <class Observer>
void look(Observer& observer, double time_s, const std::vector<Someone>& riders, bool whole_interval = true) {
  static const Ride ride(two_stretches(1));
  RideSample now;
  now.time_s = time_s;
  for (const Someone& r : riders) {
    now.distance_m.push_back(r.distance_m);
    now.group_id.push_back(r.group);
    now.role.push_back(static_cast<float>(r.role));
    now.speed_mps.push_back(r.speed_mps);
  }
  now.power_W = now.pedal_J = now.saved_J = now.wbal_J = std::vector<float>(riders.size(), 0.0f);
  observer(RideView{ride, now, whole_interval});
}

/// Turns of a rider who is in front of others for so many seconds, twice.
std::size_t turns_of(int seconds) {
  RiderTally tally(two_stretches(1));
  double time_s = 0.0;
  for (int turn = 0; turn < 2; ++turn) {
    for (int k = 0; k < seconds; ++k) look(tally, time_s += 1.0, {{100, 0, Role::front}});
    look(tally, time_s += 1.0, {{100, 0, Role::following}});
  }
  return tally.of(0)[0].turns;
}

}  // namespace

TEST_CASE("ten seconds in front of others are a turn, nine are none", "[report]") {
  CHECK(turns_of(9) == 0);
  CHECK(turns_of(10) == 2);
  CHECK(turns_of(30) == 2);
}

TEST_CASE("who leads nobody takes no turn, and time is kept apart by stretch and by what a rider does", "[report]") {
  RiderTally tally(two_stretches(1));
  double time_s = 0.0;
  for (int k = 0; k < 20; ++k) look(tally, time_s += 1.0, {{100, alone_id, Role::front}});
  for (int k = 0; k < 3; ++k) look(tally, time_s += 1.0, {{200, 0, Role::front}});
  for (int k = 0; k < 4; ++k) look(tally, time_s += 1.0, {{500, 0, Role::following}});
  for (int k = 0; k < 5; ++k) look(tally, time_s += 1.0, {{500, 0, Role::drifting_back}});
  const RiddenStretch &first = tally.of(0)[0], &second = tally.of(0)[1];
  CHECK(first.turns == 0);
  CHECK(std::tuple(first.riding_s, first.front_s, first.follow_s) == std::tuple(23.0, 3.0, 0.0));
  CHECK(std::tuple(second.riding_s, second.front_s, second.follow_s) == std::tuple(9.0, 0.0, 9.0));
}

TEST_CASE("at a regroup point a rider stands below half a metre a second, and rides above", "[report]") {
  RiderTally tally(two_stretches(1));
  look(tally, 1.0, {{300, alone_id, Role::waiting, 0.49f}});
  look(tally, 3.0, {{300, alone_id, Role::waiting, 0.51f}});
  look(tally, 6.0, {{1000, alone_id, Role::finished, 0.0f}});
  CHECK(tally.of(0)[0].waiting_s == 1.0);
  CHECK(tally.of(0)[0].riding_s == 2.0);
  CHECK(tally.of(0)[1].riding_s == 0.0);
}

TEST_CASE("the groups of a stretch are those when the first has ridden three quarters of it", "[report]") {
  GroupsSeen groups(two_stretches(4).road);
  look(groups, 1.0, {{299, 0}, {298, 0}, {297, 0}, {296, 0}});
  CHECK(groups.on(0).empty());
  look(groups, 2.0, {{290, 1}, {301, 0}, {100, alone_id}, {300, 0}});
  look(groups, 3.0, {{310, 0}, {309, 0}, {308, 0}, {307, 0}});  // told already
  CHECK(groups.on(0) == std::vector<std::vector<std::uint32_t>>{{1, 3}, {0}, {2}});
  look(groups, 4.0, {{849, 0}, {848, 0}, {847, 0}, {846, 0}});
  CHECK(groups.on(1).empty());
  look(groups, 5.0, {{851, alone_id}, {848, 3}, {847, 3}, {852, alone_id}});
  CHECK(groups.on(1) == std::vector<std::vector<std::uint32_t>>{{3}, {0}, {1, 2}});
}

TEST_CASE("the field is whole in the looks at one group; nobody looks while riders stand or one is home", "[ensemble]") {
  GroupTally tally(two_stretches(3).road);
  look(tally, 1.0, {{100, 0}, {90, 0}, {80, 0}});
  look(tally, 2.0, {{110, 0}, {100, 0}, {70, alone_id}});
  look(tally, 3.0, {{120, 0}, {110, 0}, {60, alone_id}}, false);             // no whole interval
  look(tally, 4.0, {{120, 0}, {110, 0}, {60, alone_id, Role::waiting}});     // at a regroup point
  look(tally, 5.0, {{390, 1}, {380, 1}, {370, alone_id}});                   // groups have any number
  look(tally, 6.0, {{1000, alone_id, Role::finished}, {380, 1}, {370, 1}});  // the first is home
  RunOutcome run;
  tally.into(run);
  CHECK(run.whole_share == std::vector<double>{1.0 / 3.0, -1.0});
  CHECK(run.largest_share[0] == Approx((1.0 + 2.0 / 3.0 + 2.0 / 3.0) / 3.0));
}
