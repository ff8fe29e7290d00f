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

}  // namespace

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
