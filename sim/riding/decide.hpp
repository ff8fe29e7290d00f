#pragma once
/// The decisions of a second, in three passes: riders propose, what concerns several is settled, and all is applied.

#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/scenario.hpp"
#include "model/track.hpp"
#include "riding/line.hpp"
#include "riding/to_finish.hpp"

namespace leewheel::riding {

/// First pass, from the front of the road: riders ahead go first, and riders behind see what they do. `next` receives what
/// each will remember, `ahead` the part of it that riders behind see, `notices` what is told.
void propose(const Snapshot& now, std::vector<Memory>& next, std::vector<Ahead>& ahead, std::vector<Notice>& notices);

/// Second pass: who rides in which line, its pace, its turns; who is asked to let by.
void settle(Settling& settling);

/// Third pass: what everyone does until the next second.
void apply(const Settling& settling, Riders& riders);

/// Keeps what riders remember; the only writer of memories, commands and the events of decisions.
class Decide {
 public:
  /// @param index_of  rider by place in the scenario
  Decide(const Scenario& scenario, const Riders& riders, std::span<const RiderIndex> index_of);

  /// @param order, rank_of  riders on the road from the front, and each one's place there
  /// @param group_of        group of each rider
  void second(double time_s, double interval_s, const Track& track, std::span<const RiderIndex> order,
              std::span<const RiderIndex> rank_of, std::span<const std::int32_t> group_of, Riders& riders,
              std::vector<Event>& events);

  Role role(RiderIndex i) const { return memory_[i].role; }
  std::size_t next_waiting_place(RiderIndex i) const { return memory_[i].next_regroup; }  ///< of `waiting_places`
  void finish(RiderIndex i) { memory_[i].role = next_[i].role = Role::finished; }
  /// What the rider is doing, for the story of a group.
  Because doing(const Riders& riders, RiderIndex i) const;

 private:
  Snapshot look(double time_s, double interval_s, const Track& track, std::span<const RiderIndex> order,
                std::span<const RiderIndex> rank_of, std::span<const std::int32_t> group_of, const Riders& riders);
  void tell(const Snapshot& now, std::vector<Event>& events);

  const Scenario& scenario_;
  std::vector<Instruction> instructions_;  ///< `rider` is the index of the ride
  std::vector<PlannedStop> waiting_places_;
  std::vector<Memory> memory_, next_;
  ToFinish to_finish_;
  std::vector<Ahead> ahead_;  ///< scratch of the first pass
  std::vector<Outlook> outlook_;
  std::vector<RoadHere> road_;
  Lines lines_;    ///< of the last second
  Lines settled_;  ///< of this second
  std::vector<Notice> notices_;
  std::vector<RiderIndex> line_, file_;
  std::vector<double> speeds_mps_;
  std::vector<Puller> pullers_;
  std::vector<double> shares_;
  double eased_at_s_ = -1e9;  ///< when a front last told that it eases for someone
};

/// Two groups of like strength: by the speed each holds alone on the road's mean grade, cut at the largest step that
/// leaves either group `least_group_share` of the riders. Sets `squad`.
void part_by_strength(const Scenario& scenario, Riders& riders);

}  // namespace leewheel::riding
