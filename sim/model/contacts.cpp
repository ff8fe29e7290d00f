#include "model/contacts.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "leewheel/wake.hpp"

namespace leewheel {

Contacts::Contacts(const GroupSettings& settings, std::size_t riders)
    : settings_(settings), first_(riders, none), last_ahead_(riders), mark_(riders, 0) {
  for (auto& ahead : last_ahead_) ahead.fill(none);
}

double Contacts::leave_gap_m(double speed_mps) const {
  return std::max(settings_.leave_gap_m, settings_.leave_headway_s * speed_mps);
}

bool Contacts::is_pair(std::uint32_t a, std::uint32_t b) {
  for (Place place = first_[a]; place != none; place = pairs_[place].next(a))
    if (pairs_[place].other(a) == b) return true;
  return false;
}

void Contacts::add(std::uint32_t a, std::uint32_t b) {
  if (free_.empty()) {
    free_.push_back(static_cast<Place>(pairs_.size()));
    pairs_.emplace_back();
  }
  const Place place = free_.back();
  free_.pop_back();
  pairs_[place] = {{a, b}, first_[a], first_[b]};
  first_[a] = first_[b] = place;
}

void Contacts::forget(Place place) {
  Pair& pair = pairs_[place];
  for (const std::uint32_t rider : {pair.a, pair.b}) {
    Place* at = &first_[rider];
    while (*at != place) at = &pairs_[*at].next(rider);
    *at = pair.next(rider);
    last_ahead_[rider].fill(none);
  }
  pair.a = none;
  pair.linked = false;
  free_.push_back(place);
}

void Contacts::find(std::span<const GroupRider> riders, std::span<const std::uint32_t> order) {
  for (std::size_t at = 1; at < order.size(); ++at) {
    const std::uint32_t behind = order[at];
    const double leave_m = leave_gap_m(riders[behind].speed_mps);
    for (std::size_t k = 1; k <= std::min(neighbours_ahead, at); ++k) {
      const std::uint32_t ahead = order[at - k];
      if (wheel_gap_m(riders[ahead].distance_m, riders[behind].distance_m) > leave_m) break;
      std::uint32_t& known = last_ahead_[behind][k - 1];
      if (known == ahead) continue;
      known = ahead;
      const auto [a, b] = std::minmax(ahead, behind);
      if (!is_pair(a, b)) add(a, b);
    }
  }
}

void Contacts::time(double time_s, double interval_s, std::span<const GroupRider> riders,
                    std::span<const double> came_off_s) {
  came_.clear();
  went_.clear();
  for (Place place = 0; place < pairs_.size(); ++place) {
    Pair& pair = pairs_[place];
    if (pair.a == none) continue;
    const GroupRider &a = riders[pair.a], &b = riders[pair.b];
    if (!a.riding || !b.riding) {
      if (pair.linked) went_.push_back(pair);
      forget(place);
      continue;
    }
    const double gap_m = wheel_gap_m(std::max(a.distance_m, b.distance_m), std::min(a.distance_m, b.distance_m));
    const double speed_mps = 0.5 * (a.speed_mps + b.speed_mps);
    const bool near = gap_m < std::max(settings_.join_gap_m, settings_.join_headway_s * speed_mps) &&
                      std::abs(a.speed_mps - b.speed_mps) < settings_.join_speed_difference_mps;
    pair.near_s = near ? pair.near_s + interval_s : 0.0;
    pair.far_s = gap_m > leave_gap_m(speed_mps) ? pair.far_s + interval_s : 0.0;
    const bool rested = time_s - std::max(came_off_s[pair.a], came_off_s[pair.b]) >= settings_.rest_s;
    const bool linked = pair.linked ? pair.far_s < settings_.leave_for_s : rested && pair.near_s >= settings_.join_for_s;
    if (linked != pair.linked) (linked ? came_ : went_).push_back(pair);
    pair.linked = linked;
    if (!linked && !near) forget(place);
  }
}

bool Contacts::regroup(std::span<const std::uint32_t> component) {
  return std::any_of(came_.begin(), came_.end(), [&](const Link& link) { return component[link.a] != component[link.b]; }) ||
         std::any_of(went_.begin(), went_.end(), [&](const Link& link) { return !hang_together(link); });
}

/// Looks at the links of the next rider that a search has reached.
Contacts::Found Contacts::widen(Search& search, std::uint32_t others_mark) {
  if (search.looked_at == search.reached.size()) return Found::nobody;
  const std::uint32_t from = search.reached[search.looked_at++];
  for (Place place = first_[from]; place != none; place = pairs_[place].next(from)) {
    if (!pairs_[place].linked) continue;
    const std::uint32_t to = pairs_[place].other(from);
    if (mark_[to] == others_mark) return Found::the_other;
    if (mark_[to] == search.mark) continue;
    mark_[to] = search.mark;
    search.reached.push_back(to);
  }
  return Found::somebody;
}

/// Whether two who were linked are so still by way of others: a search from either side, in turns, until they meet or one has
/// no one left. In a bunch they meet at once; where a few come off, theirs is soon done.
bool Contacts::hang_together(const Link& link) {
  const std::uint32_t ends[] = {link.a, link.b};
  for (std::size_t side = 0; side < 2; ++side) {
    searches_[side].reached.assign(1, ends[side]);
    searches_[side].looked_at = 0;
    mark_[ends[side]] = searches_[side].mark = ++last_mark_;
  }
  for (std::size_t side = 0;; side = 1 - side) {
    const Found found = widen(searches_[side], searches_[1 - side].mark);
    if (found != Found::somebody) return found == Found::the_other;
  }
}

}  // namespace leewheel
