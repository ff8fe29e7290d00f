#include "leewheel/groups.hpp"

#include <algorithm>
#include <boost/pending/disjoint_sets.hpp>
#include <numeric>
#include <tuple>

#include "model/contacts.hpp"
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

constexpr std::uint32_t nobody_yet = UINT32_MAX;

/// Riders whom a component has in common with a group of the second before.
struct Claim {
  std::uint32_t riders;
  std::int32_t group;
  std::uint32_t component;
  std::int32_t next;  ///< of the component, in the list of claims; < 0: none
};

}  // namespace

struct Groups::State {
  const GroupSettings settings;
  std::vector<std::int32_t> group, next_group;  ///< by rider
  std::vector<double> came_off_s;               ///< by rider: last time out of a group
  Contacts contacts;
  std::vector<std::uint32_t> component;  ///< by rider
  std::vector<std::uint32_t> size;       ///< by component
  std::int32_t next_id = 1;

  // scratch, kept so that a second allocates nothing
  std::vector<std::uint32_t> rank, parent, number;  ///< of the sets of riders in contact
  std::vector<std::int32_t> id, first_claim;        ///< by component
  std::vector<Claim> claims;
  std::vector<std::uint8_t> taken;  ///< by group

  State(const GroupSettings& given, std::size_t riders)
      : settings(given),
        group(riders, no_group),
        came_off_s(riders, -given.rest_s),
        contacts(settings, riders),
        component(riders),
        rank(riders),
        parent(riders) {
    std::iota(component.begin(), component.end(), 0u);
  }
  void find_components();
  void claim_names();
  void name_components();
};

/// Components of the contact graph, numbered by their first rider: Boost.Graph's disjoint sets joined along the links.
void Groups::State::find_components() {
  const auto riders = static_cast<std::uint32_t>(group.size());
  boost::disjoint_sets<std::uint32_t*, std::uint32_t*> sets(rank.data(), parent.data());
  for (std::uint32_t i = 0; i < riders; ++i) sets.make_set(i);
  contacts.for_each_link([&](std::uint32_t a, std::uint32_t b) { sets.union_set(a, b); });
  number.assign(riders, nobody_yet);
  size.clear();
  for (std::uint32_t i = 0; i < riders; ++i) {
    std::uint32_t& of_set = number[sets.find_set(i)];
    if (of_set == nobody_yet) {
      of_set = static_cast<std::uint32_t>(size.size());
      size.push_back(0);
    }
    component[i] = of_set;
    ++size[of_set];
  }
}

/// Riders that each component of two or more shares with each old group.
void Groups::State::claim_names() {
  claims.clear();
  first_claim.assign(size.size(), -1);
  for (std::size_t i = 0; i < group.size(); ++i) {
    const std::uint32_t c = component[i];
    if (group[i] == no_group || size[c] == 1) continue;
    std::int32_t at = first_claim[c];
    while (at >= 0 && claims[at].group != group[i]) at = claims[at].next;
    if (at < 0) {
      at = static_cast<std::int32_t>(claims.size());
      claims.push_back({0, group[i], c, first_claim[c]});
      first_claim[c] = at;
    }
    ++claims[at].riders;
  }
}

/// The greatest overlap keeps the name; ties go to the older group.
void Groups::State::name_components() {
  claim_names();
  std::sort(claims.begin(), claims.end(), [](const Claim& p, const Claim& q) {
    return std::tuple(q.riders, p.group, p.component) < std::tuple(p.riders, q.group, q.component);
  });
  id.assign(size.size(), no_group);
  taken.assign(next_id, 0);
  for (const Claim& claim : claims) {
    if (id[claim.component] != no_group || taken[claim.group]) continue;
    id[claim.component] = claim.group;
    taken[claim.group] = 1;
  }
  next_group.resize(group.size());
  for (std::size_t i = 0; i < group.size(); ++i) {
    const std::uint32_t c = component[i];
    if (size[c] > 1 && id[c] == no_group) id[c] = next_id++;
    next_group[i] = id[c];
  }
}

Groups::Groups(const GroupSettings& settings, std::size_t riders) : state_(std::make_unique<State>(settings, riders)) {}
Groups::~Groups() = default;
Groups::Groups(Groups&&) noexcept = default;

bool Groups::update(double time_s, double interval_s, std::span<const GroupRider> riders,
                    std::span<const std::uint32_t> order, const Cause& cause, std::vector<Event>& events) {
  State& s = *state_;
  s.contacts.find(riders, order);
  s.contacts.time(time_s, interval_s, riders, s.came_off_s);
  if (!s.contacts.regroup(s.component)) return false;
  s.find_components();
  s.name_components();
  if (s.next_group == s.group) return false;
  add_group_events(s.group, s.next_group, time_s, riders, cause, events);
  for (std::size_t i = 0; i < riders.size(); ++i)
    if (s.group[i] != no_group && s.next_group[i] == no_group) s.came_off_s[i] = time_s;
  s.group.swap(s.next_group);
  return true;
}

std::span<const std::int32_t> Groups::group_of() const { return state_->group; }

}  // namespace leewheel
