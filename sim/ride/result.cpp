/// The result of a ride, in the order of the scenario.

#include <algorithm>
#include <limits>

#include "model/recover.hpp"
#include "ride/state.hpp"

namespace leewheel {

namespace {

RiderResult result_of(const Ride::State& s, RiderIndex i) {
  const Riders& r = s.riders;
  RiderResult out;
  out.name = r.settings[i].name;
  out.finished = r.riding[i] == 0;
  out.finish_time_s = out.finished ? s.passages.finish_s(i) : s.time_s();
  out.distance_m = std::min(r.x_m[i], s.scenario.road.length_m());
  out.ledger = r.ledgers.of(i);
  out.waited_s = s.waited_s[i];
  const double riding_s = out.riding_s();
  out.mean_power_W = riding_s > 0.0 ? out.ledger.pedal_J / riding_s : 0.0;
  out.sheltered_s = r.sheltered_s[i];
  out.sheltered_share = riding_s > 0.0 ? (out.sheltered_s - s.passages.sheltered_waiting_s(i)) / riding_s : 0.0;
  out.wbal_end_J = r.wbal_J[i];
  out.wbal_least_J = r.wbal_least_J[i];
  out.wbal_end_by_law_J.fill(std::numeric_limits<double>::quiet_NaN());
  if (s.options.notes_laws) out.wbal_end_by_law_J = wbal_by_law_J(r, s.scenario.ride, i);
  out.wbal_end_by_law_J[static_cast<std::size_t>(s.scenario.ride.recovery_law)] = r.wbal_J[i];
  out.waits = s.passages.waits_of(i);
  out.in_group_s = s.groups.in_group_s(i);
  out.overlap_s = r.overlap_s[i];
  out.largest_side_force_N = s.cautions.largest_side_force_N(i);
  out.landmarks = s.passages.landmarks(i);
  out.timing = s.passages.timing(i);
  return out;
}

}  // namespace

RideResult Ride::result() const {
  const State& s = *state_;
  const std::vector<RiderIndex>& to_scenario = s.places.scenario_index;
  RideResult result{s.end, s.time_s(), {}, s.groups.spans(), s.events, s.debts.debts()};
  result.riders.resize(s.riders.count);
  const std::vector<double> given = s.debts.given_J(), received = s.debts.received_J();
  for (RiderIndex i = 0; i < s.riders.count; ++i) {
    const std::size_t k = to_scenario[i];
    result.riders[k] = result_of(s, i);
    result.riders[k].given_J = given[k];
    result.riders[k].received_J = received[k];
  }
  for (Event& event : result.events) {
    for (std::uint32_t& rider : event.riders) rider = to_scenario[rider];
    if (event.because.other != nobody) event.because.other = to_scenario[event.because.other];
  }
  std::stable_sort(result.events.begin(), result.events.end(),
                   [](const Event& a, const Event& b) { return a.time_s < b.time_s; });
  for (GroupSpan& group : result.groups)
    for (std::uint32_t& rider : group.riders) rider = to_scenario[rider];
  return result;
}

}  // namespace leewheel
