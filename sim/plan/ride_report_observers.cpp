#include "plan/ride_report_observers.hpp"

#include <algorithm>
#include <numeric>

#include "ride/leader.hpp"

namespace leewheel {

namespace {

constexpr double stands_below_mps = 0.5;  // a rider at a regroup point, slower than this
constexpr double least_turn_s = 10.0;     // shorter spells in front are no turn
constexpr double groups_seen_at = 0.75;   // share of a stretch that the first has ridden

double first_m(const RideView& view) { return *std::max_element(view.now.distance_m.begin(), view.now.distance_m.end()); }

}  // namespace

RiderTally::RiderTally(const Scenario& scenario)
    : riders_(scenario.riders.size(), StretchTally<RiddenStretch>(scenario.road)),
      before_(scenario.riders.size()),
      in_front_for_s_(scenario.riders.size(), 0.0) {}

void RiderTally::operator()(const RideView& view) {
  const double passed_s = clock_.passed_s(view);
  for (std::size_t i = 0; i < view.riders(); ++i) add_rider(view, i, passed_s);
}

void RiderTally::add_rider(const RideView& view, std::size_t rider, double passed_s) {
  const RideSample& now = view.now;
  const double pedal_J = now.pedal_J[rider] - before_[rider].pedal_J, saved_J = now.saved_J[rider] - before_[rider].saved_J;
  before_[rider] = {now.pedal_J[rider], now.saved_J[rider]};
  RiddenStretch& r = riders_[rider].at(view.distance_m(rider));
  r.pedal_J += pedal_J;
  r.alone_J += pedal_J + saved_J;
  r.wbal_end_J = now.wbal_J[rider];
  if (!view.on_road(rider)) return;
  const Role role = view.role(rider);
  const bool stands = role == Role::waiting && now.speed_mps[rider] < stands_below_mps;
  (stands ? r.waiting_s : r.riding_s) += passed_s;
  const bool leads = role == Role::front && view.group(rider) != no_group;
  if (leads) r.front_s += passed_s;
  if (role == Role::following || role == Role::drifting_back) r.follow_s += passed_s;
  double& in_front_for_s = in_front_for_s_[rider];
  in_front_for_s = leads ? in_front_for_s + passed_s : 0.0;
  if (leads && in_front_for_s >= least_turn_s && in_front_for_s < least_turn_s + passed_s) ++r.turns;
}

void LeaderTally::operator()(const RideView& view) {
  const double passed_s = clock_.passed_s(view);
  const std::optional<std::size_t> leader = leader_of(view);
  if (!leader) return;
  Sums& sums = sums_.at(view.distance_m(*leader));
  sums.time_s += passed_s;
  sums.way_m += view.now.speed_mps[*leader] * passed_s;
  sums.work_J += view.now.power_W[*leader] * passed_s;
}

void GroupsSeen::operator()(const RideView& view) {
  const std::size_t k = groups_.index_at(first_m(view));
  const RoadStretch& where = groups_.where(k);
  auto& groups = groups_[k];
  if (!groups.empty() || first_m(view) < (1.0 - groups_seen_at) * where.from_m + groups_seen_at * where.to_m) return;
  std::vector<std::uint32_t> order(view.riders());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return view.distance_m(a) > view.distance_m(b); });
  std::vector<std::int32_t> ids;
  for (const std::uint32_t i : order) {
    const auto known = view.group(i) == no_group ? ids.end() : std::find(ids.begin(), ids.end(), view.group(i));
    if (known != ids.end()) {
      groups[static_cast<std::size_t>(known - ids.begin())].push_back(i);
    } else {
      ids.push_back(view.group(i));
      groups.push_back({i});
    }
  }
}

void FirstPlaces::operator()(const RideView& view) {
  constexpr double apart_m = 1.0;
  const double at_m = std::min(road_m_, first_m(view));
  if (!found_.distance_m.empty() && at_m <= found_.distance_m.back() + apart_m) return;
  found_.distance_m.push_back(std::max(0.0, at_m));
  found_.time_s.push_back(view.time_s());
}

}  // namespace leewheel
