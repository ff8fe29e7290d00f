#include "riding/regroup.hpp"

#include <algorithm>

namespace leewheel::riding {

namespace {

/// Who waits, and where.
struct Waiting {
  bool anyone = false;
  double point_m = 0.0;
  double queue_m = 0.0;  ///< length of those who stand there: who comes later stands behind, so that all set off in one file
};

bool has_passed_all(const Settling& s, RiderIndex i) { return s.next[i].next_regroup >= s.now.regroup_at_m.size(); }
double next_point_m(const Settling& s, RiderIndex i) { return s.now.regroup_at_m[s.next[i].next_regroup]; }

void stop_at_points(Settling& s, std::vector<double>& stop_at_m, double& since_s, Waiting& waiting) {
  const Riders& r = s.now.riders;
  for (const RiderIndex i : s.now.order) {
    stop_at_m[i] = has_passed_all(s, i) ? never_m : next_point_m(s, i) - waiting.queue_m;
    if (has_passed_all(s, i)) continue;
    const bool waits = s.next[i].role == Role::waiting;
    const bool arrives =
        !waits && stop_at_m[i] - r.x_m[i] < s.now.settings.waiting_room_m && r.v_mps[i] < s.now.settings.standing_mps;
    if (!waits && !arrives) continue;
    waiting.point_m = next_point_m(s, i);
    if (waits) waiting.queue_m = std::max(waiting.queue_m, waiting.point_m - r.x_m[i] + bicycle_length_m + r.own_gap_m[i]);
    if (arrives) s.become(i, Role::waiting, {Reason::waits_for_last});
    if (arrives && !waiting.anyone && since_s < 0.0) {
      since_s = s.now.time_s;
      s.tell(EventKind::waits, i, nobody);
    }
    waiting.anyone = true;
  }
}

bool is_someone_missing(const Settling& s, double point_m) {
  for (const RiderIndex i : s.now.order)
    if (!has_passed_all(s, i) && s.next[i].role != Role::waiting && next_point_m(s, i) <= point_m) return true;
  return false;
}

void go_on(Settling& s, std::vector<double>& stop_at_m, double point_m, const Because& because) {
  bool told = false;
  for (const RiderIndex i : s.now.order) {
    if (has_passed_all(s, i) || next_point_m(s, i) > point_m) continue;
    ++s.next[i].next_regroup;  // a rider who is late rides through
    stop_at_m[i] = has_passed_all(s, i) ? never_m : next_point_m(s, i);
    if (s.next[i].role != Role::waiting) continue;
    s.next[i].let_go_of = nobody;
    s.become(i, Role::alone, because);
    if (!told) s.tell(EventKind::regrouped, i, nobody);
    told = true;
  }
}

}  // namespace

namespace {
/// Nobody stops where nobody is missing.
void roll_through(Settling& s, std::vector<double>& stop_at_m) {
  const Riders& r = s.now.riders;
  RiderIndex first = nobody, last = nobody;
  for (const RiderIndex i : s.now.order) {
    if (has_passed_all(s, i)) continue;
    if (first == nobody) first = i;
    last = i;
  }
  if (first == nobody || s.next[first].role == Role::waiting) return;
  const double point_m = next_point_m(s, first);
  if (point_m - r.x_m[first] > s.now.settings.whole_look_m || r.x_m[first] - r.x_m[last] > s.now.settings.whole_within_m)
    return;
  for (const RiderIndex i : s.now.order) {
    if (has_passed_all(s, i) || next_point_m(s, i) > point_m) continue;
    ++s.next[i].next_regroup;
    stop_at_m[i] = has_passed_all(s, i) ? never_m : next_point_m(s, i);
  }
}
}  // namespace

void settle_regroup(Settling& s, std::vector<double>& stop_at_m, double& since_s) {
  if (s.now.regroup_at_m.empty() || s.now.riders.count < 2) return;
  if (since_s < 0.0) roll_through(s, stop_at_m);
  Waiting waiting;
  stop_at_points(s, stop_at_m, since_s, waiting);
  if (!waiting.anyone) return;
  const double waited_s = s.now.time_s - since_s;
  const bool patience_over = waited_s > s.now.settings.regroup_wait_s;
  if (is_someone_missing(s, waiting.point_m) && !patience_over) return;
  const Reason reason = patience_over ? Reason::waited_enough : Reason::all_together;
  go_on(s, stop_at_m, waiting.point_m, {reason, nobody, {waited_s}});
  since_s = -1.0;
}

std::span<const NumberField<TacticsSettings>> regroup_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"regroup_wait_s", &T::regroup_wait_s, 0, 7200, "longest wait of the first riders at a regroup point (s)", ours},
      {"whole_within_m", &T::whole_within_m, 0, 1000,
       "a group rolls through a regroup point when its last rider is this close behind its first (m)", ours},
      {"whole_look_m", &T::whole_look_m, 0, 1000, "that is looked at from this far before the point (m)", ours},
      {"waiting_room_m", &T::waiting_room_m, 1, 200, "length of road before a regroup point where riders stop (m)", ours},
      {"standing_mps", &T::standing_mps, 0.1, 3, "a rider slower than this there has stopped (m/s)", ours},
      {"waiting_from_edge_m", &T::waiting_from_edge_m, 0, 2, "riders who wait there stand this far from the road's edge (m)",
       ours},
      {"point_passed_m", &T::point_passed_m, 0, 50, "a regroup point this near ahead of the start has been passed (m)",
       ours},
      {"second_group_gap_m", &T::second_group_gap_m, 0, 5000, "by_strength: the second group starts this far back (m)",
       ours},
      {"least_parted", &T::least_parted, 2, 1000, "by_strength: fewer riders than this stay one group", ours},
      {"least_group_share", &T::least_group_share, 0.01, 0.5, "by_strength: neither group is a smaller share of the riders",
       ours},
  };
  return fields;
}

}  // namespace leewheel::riding
