#include "plan/ride_report_observers.hpp"

#include <algorithm>
#include <numeric>

#include "ride/leader.hpp"

namespace leewheel {

namespace {

constexpr double groups_seen_at = 0.75;  // share of a stretch that the first has ridden

double first_m(const RideView& view) { return *std::max_element(view.now.distance_m.begin(), view.now.distance_m.end()); }

}  // namespace

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
