#include "ride/group_history.hpp"

#include <algorithm>

namespace leewheel {

GroupHistory::GroupHistory(const GroupSettings& settings, std::size_t riders)
    : groups_(settings, riders), seen_(riders), in_group_s_(riders, 0.0) {}

void GroupHistory::update(const Riders& r, std::span<const RiderIndex> order, double time_s, double interval_s,
                          const Groups::Cause& cause, std::vector<Event>& events) {
  for (RiderIndex i = 0; i < r.count; ++i) seen_[i] = {r.x_m[i], r.v_mps[i], r.riding[i] != 0};
  if (groups_.update(time_s, interval_s, seen_, order, cause, events)) note_changes(time_s);
  for (const std::int32_t row : rows_now_) spans_[row].to_s = time_s;
  const std::span<const std::int32_t> ids = group_of();
  for (const RiderIndex i : order)
    if (ids[i] != no_group) in_group_s_[i] += interval_s;
}

void GroupHistory::note_changes(double time_s) {
  rows_now_.clear();
  size_.assign(spans_.size(), 0);
  const std::span<const std::int32_t> ids = group_of();
  for (RiderIndex i = 0; i < ids.size(); ++i) {
    const std::int32_t id = ids[i];
    if (id == no_group) continue;
    if (row_of_.size() <= static_cast<std::size_t>(id)) row_of_.resize(id + 1, -1);
    std::int32_t& row = row_of_[id];
    if (row < 0) {
      row = static_cast<std::int32_t>(spans_.size());
      spans_.push_back({id, time_s, time_s, 0, {}});
      size_.push_back(0);
    }
    if (size_[row] == 0) rows_now_.push_back(row);
    GroupSpan& span = spans_[row];
    span.largest = std::max(span.largest, ++size_[row]);
    if (noted_.insert((static_cast<std::uint64_t>(row) << 32) | i).second) span.riders.push_back(i);
  }
}

}  // namespace leewheel
