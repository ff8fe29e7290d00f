#pragma once
/// What a group plan asks of the riders, read off a ride under it.

#include <cstdint>
#include <functional>
#include <vector>

#include "leewheel/lineup.hpp"
#include "leewheel/ride_facts.hpp"
#include "plan/group_score.hpp"
#include "plan/group_turns.hpp"
#include "ride/stretch_tally.hpp"
#include "ride/watch.hpp"

namespace leewheel {

/// An observer once a second: who leads each stretch, who is with whom.
class GroupDescription {
 public:
  explicit GroupDescription(const Scenario& scenario);
  void operator()(const RideView& view);
  void into(PlanResult& result, const RideResult& ridden) const;  ///< times and waits as every output tells them

 private:
  struct Sums {
    double front_s = 0.0, front_speed = 0.0, front_power = 0.0, headwind = 0.0, crosswind = 0.0;  ///< of the leader
  };
  void look_at_leader(const RideView& view);
  LineupStretch stretch(std::size_t k, const RideFacts& facts) const;

  const Scenario& scenario_;
  StretchTally<Sums> sums_;
  TurnsTally turns_;
};

/// Rides the plan on the day as expected and describes it. Places where nobody waits `least_wait_s` are taken out of the plan,
/// which is then ridden again. @param rides  counts the rides
PlanResult look_closely(GroupPlan plan, const std::function<Scenario(const GroupPlan&)>& planned, const RidersAlone& riders,
                        std::size_t& rides);

/// Who starts in which group, from the first on the road.
std::vector<std::vector<std::uint32_t>> groups_at_start(const Scenario& scenario);

}  // namespace leewheel
