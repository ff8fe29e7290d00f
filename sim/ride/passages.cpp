#include "ride/passages.hpp"

#include <algorithm>

#include "model/advance_wide.hpp"
#include "model/recover.hpp"

namespace leewheel {

Passages::Passages(const Road& road, const RideSettings& ride, std::size_t riders, std::span<const double> timing_points_m)
    : road_(road),
      ride_(ride),
      timing_points_m_(timing_points_m.begin(), timing_points_m.end()),
      riders_(riders),
      next_mark_m_(riders, 0.0) {}

void Passages::note_one(const Riders& r, RiderIndex i, const Step& step) {
  constexpr double moving_mps = 0.1;
  OfRider& own = riders_[i];
  const std::vector<Landmark>& landmarks = road_.landmarks();
  const double x_m = r.x_m[i], v_mps = r.v_mps[i], length_m = road_.length_m();
  const auto note = [&](std::vector<Passage>& into, const std::string& name, double at_m) {
    const double back_s = v_mps > moving_mps ? std::min(step.step_s, (x_m - at_m) / v_mps) : 0.0;
    const double at_s = step.before_s + step.step_s - back_s;
    const double pedal_J = r.ledgers.pedal_J[i] - r.power_W[i] * back_s;
    const double alone_J = r.ledgers.alone_J[i] - r.alone_W[i] * back_s;
    const double sheltered_s = r.sheltered_s[i] - (r.drag_factor[i] < sheltered_below ? back_s : 0.0);
    into.push_back({name, at_m, at_s, r.power_W[i], wbal_at_J(r, ride_, i, pedal_J, at_s - step.recovered_s), pedal_J,
                    alone_J - pedal_J, alone_J, sheltered_s});
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

void Passages::note(const Riders& r, std::span<const RiderIndex> order, const Step& step,
                    std::vector<RiderIndex>& finished) {
  for (const RiderIndex i : order) {
    if (r.x_m[i] < next_mark_m_[i]) continue;
    note_one(r, i, step);
    if (r.x_m[i] >= road_.length_m()) finished.push_back(i);
  }
}

}  // namespace leewheel
