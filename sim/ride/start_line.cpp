/// Where riders stand at the start.

#include <algorithm>
#include <numeric>

#include "ride/state.hpp"

namespace leewheel {

RiderPlaces::RiderPlaces(const std::vector<RiderSettings>& riders) : scenario_index(riders.size()), index_of(riders.size()) {
  std::iota(scenario_index.begin(), scenario_index.end(), 0u);
  std::sort(scenario_index.begin(), scenario_index.end(),
            [&](RiderIndex a, RiderIndex b) { return riders[a].name < riders[b].name; });
  for (RiderIndex i = 0; i < riders.size(); ++i) index_of[scenario_index[i]] = i;
}

namespace {

/// Named riders first, the others by name; a second group by strength behind the first.
std::vector<RiderIndex> start_order(const Scenario& scenario, const Riders& r) {
  std::vector<RiderIndex> order;
  for (const std::string& name : scenario.ride.start_order)
    for (RiderIndex i = 0; i < r.count; ++i)
      if (r.settings[i].name == name) order.push_back(i);
  for (RiderIndex i = 0; i < r.count; ++i)
    if (std::find(order.begin(), order.end(), i) == order.end()) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](RiderIndex a, RiderIndex b) { return r.squad[a] < r.squad[b]; });
  return order;
}

/// Moves the place in the start line up the road, so that riders at one place stand in that order there.
void put_on_the_way(Riders& r, RiderIndex i, const OnTheWay& rider) {
  r.x_m[i] += rider.at_m;
  const double missing_J = (1.0 - rider.wbal_share) * r.settings[i].w_prime_J;
  r.wbal_J[i] -= missing_J;
  r.wbal_least_J[i] = r.wbal_J[i];
  for (double& left_J : r.wbal_by_law_J[i]) left_J -= missing_J;
  r.spent[i].add(missing_J, IntegralWbal::Decay(1.0));  // as if spent in the second before
}

}  // namespace

std::vector<RiderIndex> line_up(Riders& r, const Scenario& scenario) {
  const std::vector<RiderIndex> order = start_order(scenario, r);
  const int abreast = std::max(1, scenario.ride.start_abreast);
  const double row_m = bicycle_length_m + scenario.ride.start_gap_m;
  const std::size_t rows = (order.size() + abreast - 1) / abreast;
  const double width_m = scenario.road.width_m(0.0);
  const bool two_groups = r.squad[order.back()] == 1;
  for (std::size_t place = 0; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    const std::size_t row = place / abreast, column = place % abreast;
    r.x_m[i] = static_cast<double>(rows - 1 - row) * row_m +
               (two_groups && r.squad[i] == 0 ? scenario.tactics.second_group_gap_m : 0.0);
    const double middle_m = (scenario.ride.keep_right ? -0.25 : 0.25) * width_m;
    const double from_edge_m = (static_cast<double>(column) + 0.5) * width_m / abreast;  // the edge of the side kept
    r.y_m[i] = abreast == 1 ? middle_m : (scenario.ride.keep_right ? 1.0 : -1.0) * (from_edge_m - 0.5 * width_m);
    r.y_target_m[i] = r.y_m[i];
    r.v_mps[i] = scenario.ride.start_speed_mps;
  }
  for (const OnTheWay& rider : scenario.ride.on_the_way)
    for (RiderIndex i = 0; i < r.count; ++i)
      if (r.settings[i].name == rider.rider) put_on_the_way(r, i, rider);
  return order;
}

}  // namespace leewheel
