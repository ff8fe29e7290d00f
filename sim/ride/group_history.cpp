#include "ride/group_history.hpp"

#include <algorithm>

namespace leewheel {

GroupHistory::GroupHistory(const GroupSettings& settings, std::size_t riders)
    : groups_(settings, riders), seen_(riders), last_group_(riders, no_group), in_group_s_(riders, 0.0) {}

void GroupHistory::update(const Riders& r, std::span<const RiderIndex> order, double time_s, double interval_s,
                          const Groups::Cause& cause, std::vector<Event>& events) {
  for (RiderIndex i = 0; i < r.count; ++i) seen_[i] = {r.x_m[i], r.v_mps[i], r.riding[i] != 0};
  groups_.update(time_s, interval_s, seen_, order, cause, events);
  note_spans(time_s);
  const std::span<const std::int32_t> ids = group_of();
  for (const RiderIndex i : order)
    if (ids[i] != no_group) in_group_s_[i] += interval_s;
}

void GroupHistory::note_spans(double time_s) {
  size_.assign(spans_.size(), 0);
  const std::span<const std::int32_t> ids = group_of();
  for (RiderIndex i = 0; i < ids.size(); ++i) {
    const std::int32_t id = ids[i];
    if (id == no_group) continue;
    if (row_of_.size() <= static_cast<std::size_t>(id)) row_of_.resize(id + 1, -1);
    if (row_of_[id] < 0) {
      row_of_[id] = static_cast<std::int32_t>(spans_.size());
      spans_.push_back({id, time_s, time_s, 0, {}});
      size_.push_back(0);
    }
    GroupSpan& span = spans_[row_of_[id]];
    span.largest = std::max(span.largest, ++size_[row_of_[id]]);
    span.to_s = time_s;
    if (last_group_[i] == id) continue;
    last_group_[i] = id;
    if (std::find(span.riders.begin(), span.riders.end(), i) == span.riders.end()) span.riders.push_back(i);
  }
}

}  // namespace leewheel
