#include "leewheel/groups.hpp"

#include <algorithm>
#include <boost/pending/disjoint_sets.hpp>
#include <cmath>
#include <map>

#include "leewheel/wake.hpp"
#include "model/group_events.hpp"

namespace leewheel {

std::span<const NumberField<GroupSettings>> group_fields() {
  using B = GroupSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<B> fields[] = {
      {"join_gap_m", &B::join_gap_m, 0.2, 20, "contact begins below this wheel gap (m), or below join_headway_s of riding",
       ours},
      {"join_headway_s", &B::join_headway_s, 0, 5, "contact begins below this many seconds of riding", ours},
      {"join_for_s", &B::join_for_s, 0, 60, "contact begins when the gap has been that small for this long (s)", ours},
      {"join_speed_difference_mps", &B::join_speed_difference_mps, 0.1, 10,
       "the difference of speed must be below this for contact to begin (m/s)", ours},
      {"leave_gap_m", &B::leave_gap_m, 0.5, 100, "contact ends above this wheel gap (m), or above leave_headway_s of riding",
       ours},
      {"leave_headway_s", &B::leave_headway_s, 0, 10, "contact ends above this many seconds of riding",
       "1.0 s wheel to wheel begins a new group in racing (rules of the sport, second-hand)"},
      {"leave_for_s", &B::leave_for_s, 0, 60, "contact ends when the gap has been that large for this long (s)", ours},
      {"rest_s", &B::rest_s, 0, 300, "a rider who has just come off a group makes no new contact for this long (s)", ours},
  };
  return fields;
}

namespace {
/// Two riders who are, or may soon be, in contact.
struct Pair {
  std::uint32_t a, b;  // a < b
  bool linked = false;
  double near_s = 0.0, far_s = 0.0;
  bool operator<(const Pair& other) const { return std::tie(a, b) < std::tie(other.a, other.b); }
  bool same(const Pair& other) const { return a == other.a && b == other.b; }
};
constexpr int neighbours_ahead = 3;  // a rotating line has two riders abreast; one more for safety
}  // namespace

struct Groups::State {
  GroupSettings settings;
  std::vector<Pair> pairs, merged, candidates;  // sorted
  std::vector<std::int32_t> group, next_group;  // by rider
  std::vector<double> came_off_s;               // by rider: last time out of a group
  std::vector<int> component;
  std::vector<std::uint32_t> rank, parent;  // of the sets of riders in contact
  std::int32_t next_id = 1;
  bool links_changed = false;  // since the groups were last worked out

  double leave_gap_m(double speed_mps) const { return std::max(settings.leave_gap_m, settings.leave_headway_s * speed_mps); }
  void find_candidates(std::span<const GroupRider> riders, std::span<const std::uint32_t> order);
  void time_contacts(double time_s, double interval_s, std::span<const GroupRider> riders);
  int find_components(std::size_t riders);
  void name_components(int components);
};

void Groups::State::find_candidates(std::span<const GroupRider> riders, std::span<const std::uint32_t> order) {
  candidates.clear();
  for (std::size_t place = 1; place < order.size(); ++place) {
    const std::uint32_t behind = order[place];
    for (std::size_t k = 1; k <= neighbours_ahead && k <= place; ++k) {
      const std::uint32_t ahead = order[place - k];
      const double gap_m = wheel_gap_m(riders[ahead].distance_m, riders[behind].distance_m);
      if (gap_m > leave_gap_m(riders[behind].speed_mps)) break;
      candidates.push_back({std::min(ahead, behind), std::max(ahead, behind)});
    }
  }
  std::sort(candidates.begin(), candidates.end());
  merged.clear();
  // Known pairs win over fresh candidates: they carry the clocks of the hysteresis.
  std::merge(pairs.begin(), pairs.end(), candidates.begin(), candidates.end(), std::back_inserter(merged));
  merged.erase(std::unique(merged.begin(), merged.end(), [](const Pair& p, const Pair& q) { return p.same(q); }),
               merged.end());
  pairs.swap(merged);
}

void Groups::State::time_contacts(double time_s, double interval_s, std::span<const GroupRider> riders) {
  std::erase_if(pairs, [&](Pair& pair) {
    const GroupRider &a = riders[pair.a], &b = riders[pair.b];
    if (!a.riding || !b.riding) {
      links_changed = links_changed || pair.linked;
      return true;
    }
    const double gap_m = wheel_gap_m(std::max(a.distance_m, b.distance_m), std::min(a.distance_m, b.distance_m));
    const double speed_mps = 0.5 * (a.speed_mps + b.speed_mps);
    const bool near = gap_m < std::max(settings.join_gap_m, settings.join_headway_s * speed_mps) &&
                      std::abs(a.speed_mps - b.speed_mps) < settings.join_speed_difference_mps;
    pair.near_s = near ? pair.near_s + interval_s : 0.0;
    pair.far_s = gap_m > leave_gap_m(speed_mps) ? pair.far_s + interval_s : 0.0;
    const bool rested = time_s - std::max(came_off_s[pair.a], came_off_s[pair.b]) >= settings.rest_s;
    const bool linked = pair.linked ? pair.far_s < settings.leave_for_s : rested && pair.near_s >= settings.join_for_s;
    links_changed = links_changed || linked != pair.linked;
    pair.linked = linked;
    return !pair.linked && !near;
  });
}

/// Components of the contact graph, numbered by their first rider: Boost.Graph's disjoint sets joined along the links, in
/// arrays that are kept from second to second.
int Groups::State::find_components(std::size_t riders) {
  rank.resize(riders);
  parent.resize(riders);
  boost::disjoint_sets<std::uint32_t*, std::uint32_t*> contacts(rank.data(), parent.data());
  for (std::uint32_t i = 0; i < riders; ++i) contacts.make_set(i);
  for (const Pair& pair : pairs)
    if (pair.linked) contacts.union_set(pair.a, pair.b);
  component.assign(riders, -1);
  int found = 0;
  for (std::uint32_t i = 0; i < riders; ++i) {
    int& of_set = component[contacts.find_set(i)];
    if (of_set < 0) of_set = found++;
    component[i] = of_set;
  }
  return found;
}

void Groups::State::name_components(int components) {
  std::vector<std::uint32_t> size(components, 0);
  for (const int c : component) ++size[c];
  // Riders each component shares with each old group; the greatest overlap keeps the name, ties go to the older group.
  std::map<std::pair<std::int32_t, int>, std::uint32_t> shared;
  for (std::size_t i = 0; i < group.size(); ++i)
    if (group[i] != no_group && size[component[i]] > 1) ++shared[{group[i], component[i]}];
  struct Claim {
    std::uint32_t riders;
    std::int32_t id;
    int component;
  };
  std::vector<Claim> claims;
  for (const auto& [key, riders] : shared) claims.push_back({riders, key.first, key.second});
  std::stable_sort(claims.begin(), claims.end(), [](const Claim& p, const Claim& q) { return p.riders > q.riders; });
  std::vector<std::int32_t> id(components, no_group);
  std::vector<std::int32_t> taken;
  for (const Claim& claim : claims) {
    if (id[claim.component] != no_group || std::find(taken.begin(), taken.end(), claim.id) != taken.end()) continue;
    id[claim.component] = claim.id;
    taken.push_back(claim.id);
  }
  next_group.resize(group.size());
  for (std::size_t i = 0; i < group.size(); ++i) {
    const int c = component[i];
    if (size[c] > 1 && id[c] == no_group) id[c] = next_id++;
    next_group[i] = id[c];
  }
}

Groups::Groups(const GroupSettings& settings, std::size_t riders) : state_(std::make_unique<State>()) {
  state_->settings = settings;
  state_->group.assign(riders, no_group);
  state_->came_off_s.assign(riders, -settings.rest_s);
}
Groups::~Groups() = default;
Groups::Groups(Groups&&) noexcept = default;

void Groups::update(double time_s, double interval_s, std::span<const GroupRider> riders,
                    std::span<const std::uint32_t> order, const Cause& cause, std::vector<Event>& events) {
  state_->find_candidates(riders, order);
  state_->time_contacts(time_s, interval_s, riders);
  if (!state_->links_changed) return;
  state_->links_changed = false;
  state_->name_components(state_->find_components(riders.size()));
  if (state_->next_group != state_->group)
    add_group_events(state_->group, state_->next_group, time_s, riders, cause, events);
  for (std::size_t i = 0; i < riders.size(); ++i)
    if (state_->group[i] != no_group && state_->next_group[i] == no_group) state_->came_off_s[i] = time_s;
  state_->group = state_->next_group;
}

std::span<const std::int32_t> Groups::group_of() const { return state_->group; }

}  // namespace leewheel
