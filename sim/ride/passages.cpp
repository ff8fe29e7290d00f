#include "ride/passages.hpp"

#include <algorithm>

namespace leewheel {

Passages::Passages(const Road& road, std::size_t riders, std::span<const double> timing_points_m)
    : road_(road),
      timing_points_m_(timing_points_m.begin(), timing_points_m.end()),
      riders_(riders),
      next_mark_m_(riders, 0.0) {}

void Passages::note_one(const Riders& r, RiderIndex i, double before_s, double step_s) {
  constexpr double moving_mps = 0.1;
  OfRider& own = riders_[i];
  const std::vector<Landmark>& landmarks = road_.landmarks();
  const double x_m = r.x_m[i], v_mps = r.v_mps[i], length_m = road_.length_m();
  const auto note = [&](std::vector<Passage>& into, const std::string& name, double at_m) {
    const double back_s = v_mps > moving_mps ? std::min(step_s, (x_m - at_m) / v_mps) : 0.0;
    const EnergyLedger ledger = r.ledgers.of(i);
    into.push_back({name, at_m, before_s + step_s - back_s, r.power_W[i], r.wbal_J[i], ledger.pedal_J, ledger.saved_J,
                    ledger.alone_J, r.sheltered_s[i]});
  };
  for (; own.next_landmark < landmarks.size() && x_m >= landmarks[own.next_landmark].distance_m; ++own.next_landmark)
    note(own.landmarks, landmarks[own.next_landmark].name, landmarks[own.next_landmark].distance_m);
  while (own.timing.size() < timing_points_m_.size() && x_m >= timing_points_m_[own.timing.size()])
    note(own.timing, "", timing_points_m_[own.timing.size()]);
  double& next_m = next_mark_m_[i];
  next_m = length_m;
  if (own.next_landmark < landmarks.size()) next_m = std::min(next_m, landmarks[own.next_landmark].distance_m);
  if (own.timing.size() < timing_points_m_.size()) next_m = std::min(next_m, timing_points_m_[own.timing.size()]);
  if (x_m < length_m) return;
  note(own.landmarks, "finish", length_m);
  own.finish_s = own.landmarks.back().time_s;
}

void Passages::note(const Riders& r, std::span<const RiderIndex> order, double before_s, double step_s,
                    std::vector<RiderIndex>& finished) {
  for (const RiderIndex i : order) {
    if (r.x_m[i] < next_mark_m_[i]) continue;
    note_one(r, i, before_s, step_s);
    if (r.x_m[i] >= road_.length_m()) finished.push_back(i);
  }
}

}  // namespace leewheel
