#pragma once
/// The story of the groups of a ride: who is with whom, for how long, and who waited.

#include <span>
#include <unordered_set>
#include <vector>

#include "leewheel/groups.hpp"
#include "leewheel/ride.hpp"
#include "model/riders.hpp"

namespace leewheel {

class GroupHistory {
 public:
  GroupHistory(const GroupSettings& settings, std::size_t riders);
  std::span<const std::int32_t> group_of() const { return groups_.group_of(); }

  /// Joins and splits become events; once a second.
  void update(const Riders& riders, std::span<const RiderIndex> order, double time_s, double interval_s,
              const Groups::Cause& cause, std::vector<Event>& events);

  const std::vector<GroupSpan>& spans() const { return spans_; }
  double in_group_s(RiderIndex i) const { return in_group_s_[i]; }

 private:
  void note_changes(double time_s);
  Groups groups_;
  std::vector<GroupRider> seen_;
  std::vector<GroupSpan> spans_;
  std::vector<std::int32_t> row_of_;         ///< group id -> row in `spans_`
  std::vector<std::int32_t> rows_now_;       ///< of the groups that there are
  std::unordered_set<std::uint64_t> noted_;  ///< rows and riders in them, so that nobody is listed twice
  std::vector<std::uint32_t> size_;          ///< scratch
  std::vector<double> in_group_s_;
};

}  // namespace leewheel
