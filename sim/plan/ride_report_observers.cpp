#include "plan/ride_report_observers.hpp"

#include <algorithm>

#include "ride/leader.hpp"

namespace leewheel {

namespace {

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

void FirstPlaces::operator()(const RideView& view) {
  constexpr double apart_m = 1.0;
  const double at_m = std::min(road_m_, first_m(view));
  if (!found_.distance_m.empty() && at_m <= found_.distance_m.back() + apart_m) return;
  found_.distance_m.push_back(std::max(0.0, at_m));
  found_.time_s.push_back(view.time_s());
}

}  // namespace leewheel
