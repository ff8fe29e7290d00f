#include "riding/regroup.hpp"

#include <algorithm>

namespace leewheel::riding {

namespace {

/// Who waits at one place.
struct Waiting {
  std::size_t riders = 0;
  double first_s = 1e18, last_s = 0.0;  ///< when the first and the last of them came
  double queue_m = 0.0;  ///< length of those who stand there: who comes later stands behind, so that all set off in one file
};

bool has_passed_all(const Settling& s, RiderIndex i) { return s.next[i].next_regroup >= s.now.waiting_places.size(); }
const PlannedStop& next_place(const Settling& s, RiderIndex i) { return s.now.waiting_places[s.next[i].next_regroup]; }
bool waits(const Settling& s, RiderIndex i) { return s.next[i].role == Role::waiting; }

void pass_place(Settling& s, std::vector<double>& stop_at_m, RiderIndex i) {
  ++s.next[i].next_regroup;
  stop_at_m[i] = has_passed_all(s, i) ? never_m : next_place(s, i).at_m;
}

void arrive(Settling& s, RiderIndex i, bool first) {
  s.become(i, Role::waiting, {next_place(s, i).stop_s > 0.0 ? Reason::planned_stop : Reason::waits_for_last});
  if (first) s.tell(EventKind::waits, i, nobody);
}

/// By place.
std::vector<Waiting> stop_at_places(Settling& s, std::vector<double>& stop_at_m) {
  const Riders& r = s.now.riders;
  std::vector<Waiting> waiting(s.now.waiting_places.size());
  for (const RiderIndex i : s.now.order)
    if (waits(s, i)) ++waiting[s.next[i].next_regroup].riders;
  for (const RiderIndex i : s.now.order) {
    stop_at_m[i] = never_m;
    if (has_passed_all(s, i)) continue;
    const double at_m = next_place(s, i).at_m;
    Waiting& here = waiting[s.next[i].next_regroup];
    stop_at_m[i] = at_m - here.queue_m;
    if (waits(s, i))
      here.queue_m = std::max(here.queue_m, at_m - r.x_m[i] + bicycle_length_m + r.own_gap_m[i]);
    else if (stop_at_m[i] - r.x_m[i] < s.now.settings.waiting_room_m && r.v_mps[i] < s.now.settings.standing_mps)
      arrive(s, i, here.riders++ == 0);
    if (!waits(s, i)) continue;
    here.first_s = std::min(here.first_s, s.next[i].role_since_s);
    here.last_s = std::max(here.last_s, s.next[i].role_since_s);
  }
  return waiting;
}

bool is_someone_missing(const Settling& s, std::size_t place) {
  for (const RiderIndex i : s.now.order)
    if (!has_passed_all(s, i) && !waits(s, i) && s.next[i].next_regroup <= place) return true;
  return false;
}

/// Everyone at a stop has its length, also who is late and who came while the others lost patience; who is late rides through
/// a regroup point.
bool stays(const Settling& s, RiderIndex i, double stop_s) {
  return stop_s > 0.0 && (!waits(s, i) || s.now.time_s - s.next[i].role_since_s < stop_s);
}

void go_on(Settling& s, std::vector<double>& stop_at_m, std::size_t place, const Because& because) {
  std::vector<RiderIndex> left;
  for (const RiderIndex i : s.now.order) {
    if (s.next[i].next_regroup != place || stays(s, i, s.now.waiting_places[place].stop_s)) continue;
    pass_place(s, stop_at_m, i);
    if (!waits(s, i)) continue;
    s.next[i].let_go_of = nobody;
    s.become(i, Role::alone, because);
    left.push_back(i);
  }
  const bool given_up = because.reason == Reason::waited_enough;
  s.tell(given_up ? EventKind::leaves : EventKind::regrouped, left.front(), nobody);
  if (given_up) s.notices.back().with.assign(left.begin() + 1, left.end());
}

void go_on_when_time(Settling& s, std::vector<double>& stop_at_m, std::size_t place, const Waiting& here) {
  const double stop_s = s.now.waiting_places[place].stop_s, waited_s = s.now.time_s - here.first_s;
  const bool all_had_it = !is_someone_missing(s, place) && s.now.time_s - here.last_s >= stop_s;
  const bool patience_over = waited_s > s.now.settings.regroup_wait_s + stop_s;
  if (!all_had_it && !patience_over) return;
  if (!all_had_it)
    go_on(s, stop_at_m, place, {Reason::waited_enough, nobody, {waited_s}});
  else if (stop_s > 0.0)
    go_on(s, stop_at_m, place, {Reason::stop_over, nobody, {stop_s, waited_s}});
  else
    go_on(s, stop_at_m, place, {Reason::all_together, nobody, {waited_s}});
}

/// Nobody stops at a mere regroup point where nobody is missing.
void roll_through(Settling& s, std::vector<double>& stop_at_m) {
  const Riders& r = s.now.riders;
  RiderIndex first = nobody, last = nobody;
  for (const RiderIndex i : s.now.order) {
    if (waits(s, i)) return;
    if (has_passed_all(s, i)) continue;
    if (first == nobody) first = i;
    last = i;
  }
  if (first == nobody || next_place(s, first).stop_s > 0.0) return;
  const std::size_t place = s.next[first].next_regroup;
  if (next_place(s, first).at_m - r.x_m[first] > s.now.settings.whole_look_m ||
      r.x_m[first] - r.x_m[last] > s.now.settings.whole_within_m)
    return;
  for (const RiderIndex i : s.now.order)
    if (s.next[i].next_regroup <= place) pass_place(s, stop_at_m, i);
}

}  // namespace

void settle_regroup(Settling& s, std::vector<double>& stop_at_m) {
  const auto& places = s.now.waiting_places;
  const bool stops = std::any_of(places.begin(), places.end(), [](const PlannedStop& p) { return p.stop_s > 0.0; });
  if (places.empty() || (s.now.riders.count < 2 && !stops)) return;
  roll_through(s, stop_at_m);
  const std::vector<Waiting> waiting = stop_at_places(s, stop_at_m);
  for (std::size_t place = 0; place < waiting.size(); ++place)
    if (waiting[place].riders > 0) go_on_when_time(s, stop_at_m, place, waiting[place]);
}

std::span<const NumberField<TacticsSettings>> regroup_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"regroup_wait_s", &T::regroup_wait_s, 0, 7200,
       "longest wait of the first riders at a regroup point, beyond the length of a stop (s)", ours},
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
