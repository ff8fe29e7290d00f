#include "model/group_events.hpp"

#include <algorithm>
#include <functional>
#include <map>

namespace leewheel {

namespace {

using GroupOf = std::span<const std::int32_t>;  // by rider
using AddEvent = std::function<void(EventKind, std::vector<std::uint32_t> riders, std::int32_t group, Because)>;

/// What has changed since the last second.
struct Changes {
  struct Group {
    std::vector<std::uint32_t> now;
    std::map<std::int32_t, std::vector<std::uint32_t>> came_from;  // by old group
  };
  std::map<std::int32_t, Group> groups;          // by new group
  std::map<std::int32_t, std::uint32_t> before;  // riders in each old group
  std::map<std::int32_t, double> tail_m;         // rear of each new group
  std::vector<std::uint32_t> left;               // now alone
};

Changes changes_of(GroupOf before, GroupOf now, std::span<const GroupRider> riders) {
  Changes found;
  for (std::uint32_t i = 0; i < before.size(); ++i) {
    if (before[i] != no_group) ++found.before[before[i]];
    if (now[i] != no_group) {
      found.groups[now[i]].now.push_back(i);
      found.groups[now[i]].came_from[before[i]].push_back(i);
      const auto [tail, fresh] = found.tail_m.try_emplace(now[i], riders[i].distance_m);
      if (!fresh) tail->second = std::min(tail->second, riders[i].distance_m);
    } else if (before[i] != no_group && riders[i].riding) {
      found.left.push_back(i);
    }
  }
  return found;
}

/// Groups formed, split and merged, and riders who joined one.
void add_changes(const Changes& changed, std::span<const GroupRider> riders, const Groups::Cause& cause,
                 const AddEvent& add) {
  const auto first_of = [&](const std::vector<std::uint32_t>& who) {  // on the road: who let the gap open, or went
    return *std::max_element(who.begin(), who.end(),
                             [&](auto a, auto b) { return riders[a].distance_m < riders[b].distance_m; });
  };
  for (const auto& [id, one] : changed.groups) {
    const bool is_new = !changed.before.contains(id);
    if (is_new) {
      const auto largest = std::max_element(one.came_from.begin(), one.came_from.end(), [](auto& p, auto& q) {
        return (p.first == no_group ? 0 : p.second.size()) < (q.first == no_group ? 0 : q.second.size());
      });
      if (largest->first == no_group || largest->second.size() < 2)
        add(EventKind::formed, one.now, id, {Reason::within_reach});
      else {
        Because why = cause(first_of(one.now));
        why.from_group = largest->first;
        add(EventKind::split, one.now, id, why);
      }
      continue;
    }
    for (const auto& [old, who] : one.came_from) {
      if (old == id) continue;
      if (old != no_group && !changed.groups.contains(old) && who.size() > 1)
        add(EventKind::merged, who, id, {Reason::groups_met, no_rider, {}, old});
      else
        for (const std::uint32_t i : who) add(EventKind::joined, {i}, id, cause(i));
    }
  }
}

/// Riders who are alone now: dropped from the rear of their group, or away from its front.
void add_leavings(const Changes& changed, GroupOf before, std::span<const GroupRider> riders, const Groups::Cause& cause,
                  const AddEvent& add) {
  for (const std::uint32_t i : changed.left) {
    const auto tail = changed.tail_m.find(before[i]);
    const bool behind = tail != changed.tail_m.end()
                            ? riders[i].distance_m < tail->second
                            : std::any_of(changed.left.begin(), changed.left.end(), [&](std::uint32_t other) {
                                return before[other] == before[i] && riders[other].distance_m > riders[i].distance_m;
                              });
    if (behind)
      add(EventKind::dropped, {i}, before[i], cause(i));
    else if (tail != changed.tail_m.end())
      add(EventKind::pulled_away, {i}, before[i], cause(i));
  }
}

}  // namespace

void add_group_events(GroupOf before, GroupOf now, double time_s, std::span<const GroupRider> riders,
                      const Groups::Cause& cause, std::vector<Event>& events) {
  const Changes changed = changes_of(before, now, riders);
  const AddEvent add = [&](EventKind kind, std::vector<std::uint32_t> who, std::int32_t id, Because why) {
    const double distance_m = riders[who.front()].distance_m;
    events.push_back({kind, time_s, distance_m, std::move(who), id, why});
  };
  add_changes(changed, riders, cause, add);
  add_leavings(changed, before, riders, cause, add);
}

}  // namespace leewheel
