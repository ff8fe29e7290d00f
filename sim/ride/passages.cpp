#include "ride/passages.hpp"

#include <algorithm>

#include "model/advance_wide.hpp"
#include "model/recover.hpp"

namespace leewheel {

Passages::Passages(const Scenario& scenario, std::size_t riders, std::span<const double> timing_points_m)
    : road_(scenario.road),
      ride_(scenario.ride),
      places_(waiting_places(scenario.ride)),
      timing_points_m_(timing_points_m.begin(), timing_points_m.end()),
      riders_(riders),
      next_mark_m_(riders, 0.0) {}

void Passages::add_counts(RiderIndex i, Passage& at) const {
  const OfRider& own = riders_[i];
  at.front_s = own.front_s;
  at.follow_s = own.follow_s;
  at.turns = own.turns;
  at.leads_on = own.spell_s >= least_turn_s;
}

Passage Passages::passage(const Riders& r, RiderIndex i, const std::string& name, double at_m, const Step& step) const {
  constexpr double moving_mps = 0.1;
  const double v_mps = r.v_mps[i];
  const double back_s = v_mps > moving_mps ? std::min(step.step_s, (r.x_m[i] - at_m) / v_mps) : 0.0;
  const double at_s = step.before_s + step.step_s - back_s;
  const double pedal_J = r.ledgers.pedal_J[i] - r.power_W[i] * back_s;
  const double alone_J = r.ledgers.alone_J[i] - r.alone_W[i] * back_s;
  const double sheltered_s = r.sheltered_s[i] - (r.drag_factor[i] < sheltered_below ? back_s : 0.0);
  Passage at{name,
             at_m,
             at_s,
             r.power_W[i],
             wbal_at_J(r, ride_, i, pedal_J, at_s - step.recovered_s),
             pedal_J,
             alone_J - pedal_J,
             alone_J,
             sheltered_s};
  add_counts(i, at);
  return at;
}

void Passages::note_one(const Riders& r, RiderIndex i, const Step& step) {
  OfRider& own = riders_[i];
  const std::vector<Landmark>& landmarks = road_.landmarks();
  const double x_m = r.x_m[i], length_m = road_.length_m();
  for (; own.next_landmark < landmarks.size() && x_m >= landmarks[own.next_landmark].distance_m; ++own.next_landmark) {
    const bool stopped_before = own.stopped_at == own.next_landmark;
    const Landmark& mark = landmarks[own.next_landmark];
    own.landmarks.push_back(stopped_before ? *own.stopped : passage(r, i, mark.name, mark.distance_m, step));
  }
  while (own.timing.size() < timing_points_m_.size() && x_m >= timing_points_m_[own.timing.size()])
    own.timing.push_back(passage(r, i, "", timing_points_m_[own.timing.size()], step));
  double& next_m = next_mark_m_[i];
  next_m = length_m;
  if (own.next_landmark < landmarks.size()) next_m = std::min(next_m, landmarks[own.next_landmark].distance_m);
  if (own.timing.size() < timing_points_m_.size()) next_m = std::min(next_m, timing_points_m_[own.timing.size()]);
  if (x_m < length_m) return;
  own.landmarks.push_back(passage(r, i, "finish", length_m, step));
  own.finish_s = own.landmarks.back().time_s;
}

void Passages::note(const Riders& r, std::span<const RiderIndex> order, const Step& step,
                    std::vector<RiderIndex>& finished) {
  const double now_s = step.before_s + step.step_s;
  if (now_s < nothing_before_s_) return;
  double least_m = never_m;
  for (const RiderIndex i : order) {
    double to_mark_m = next_mark_m_[i] - r.x_m[i];
    if (to_mark_m <= 0.0) {
      note_one(r, i, step);
      if (r.x_m[i] >= road_.length_m()) finished.push_back(i);
      to_mark_m = next_mark_m_[i] - r.x_m[i];
    }
    least_m = std::min(least_m, to_mark_m);
  }
  nothing_before_s_ = now_s + least_m / faster_than_any_mps;
}

void Passages::arrive(const Riders& r, RiderIndex i, std::size_t place, double time_s) {
  OfRider& own = riders_[i];
  own.waits.push_back({places_[place].at_m, time_s, -1.0});
  const double pedal_J = r.ledgers.pedal_J[i], alone_J = r.ledgers.alone_J[i];
  own.stopped = Passage{"", 0.0, time_s, r.power_W[i], r.wbal_J[i], pedal_J, alone_J - pedal_J, alone_J, r.sheltered_s[i]};
  add_counts(i, *own.stopped);
  own.stopped_at = landmark_near(road_, places_[place].at_m);
  if (!own.stopped_at) return;
  const Landmark& mark = road_.landmarks()[*own.stopped_at];
  own.stopped->name = mark.name;
  own.stopped->distance_m = mark.distance_m;
  if (*own.stopped_at < own.landmarks.size()) own.landmarks[*own.stopped_at] = *own.stopped;
}

void Passages::go_on(const Riders& r, RiderIndex i, double time_s) {
  OfRider& own = riders_[i];
  own.waits.back().go_on_s = time_s;
  own.stopped->waited_s = time_s - own.stopped->time_s;
  own.stopped->regained_J = r.wbal_J[i] - own.stopped->wbal_J;
  own.stopped->sheltered_waiting_s = r.sheltered_s[i] - own.stopped->sheltered_s;
  own.sheltered_waiting_s += own.stopped->sheltered_waiting_s;
  if (own.stopped_at && *own.stopped_at < own.landmarks.size()) own.landmarks[*own.stopped_at] = *own.stopped;
}

void Passages::count(RiderIndex i, bool leads, bool follows, double second_s) {
  OfRider& own = riders_[i];
  if (follows) own.follow_s += second_s;
  if (leads) own.front_s += second_s;
  const double before_s = own.spell_s;
  own.spell_s = leads ? before_s + second_s : 0.0;
  if (before_s < least_turn_s && own.spell_s >= least_turn_s) ++own.turns;
}

}  // namespace leewheel
