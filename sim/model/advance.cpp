#include "model/advance.hpp"

#include <algorithm>
#include <cmath>

#include "model/advance_wide.hpp"
#include "model/gap_law.hpp"

namespace leewheel {

namespace {

constexpr double pace_time_s = 3.0;      // time in which a front rider takes up a new pace (assumed)
constexpr double free_margin = 8.0;      // times the comfortable acceleration: then the power alone decides
constexpr double limit_time_s = 1.5;     // time in which a speed limit is met (assumed)
constexpr double stop_look_m = 100.0;    // a stop is looked for so far ahead (assumed)
constexpr double stop_margin_mps = 0.5;  // braking for a stop begins this much below the speed allowed (assumed)
constexpr double stop_time_s = 0.3;      // time in which that speed is met, over two steps (assumed)
constexpr double untangle_1ps = 0.3;  // a wheel in another's way falls back by this share of the overlap a second (assumed)
constexpr double tiny_m = 1e-9;       // rounding

/// Speed of a wheel a reaction time ago.
double seen_speed_mps(const Riders& r, RiderIndex i, const StepTime& time) {
  if (time.reaction_steps == 0) return r.v_mps[i];
  return r.past_mps[(time.tick % time.reaction_steps) * r.count + i];  // the oldest row, overwritten after this step
}

double for_stop_mps2(const Riders& r, const TacticsSettings& t, RiderIndex i, double step_s) {
  const double to_stop_m = r.stop_at_m[i] - r.x_m[i], v = r.v_mps[i];
  if (to_stop_m >= stop_look_m) return never_m;
  const double allowed_mps = std::sqrt(2.0 * t.comfort_braking_mps2 * std::max(0.0, to_stop_m));
  return v > allowed_mps - stop_margin_mps ? (allowed_mps - v) / (2.0 * step_s + stop_time_s) : never_m;
}

double for_blocker_mps2(const Riders& r, const TacticsSettings& t, RiderIndex i, double step_s) {
  const RiderIndex b = r.blocker[i];
  if (b == nobody) return never_m;
  const double v = r.v_mps[i], room_m = r.gap_m(i, b) - least_gap_m;
  // Wheels that overlap come apart, or neither rider could move over.
  const double safe_mps = room_m < 0.0 ? std::max(0.0, r.v_mps[b] + untangle_1ps * room_m)
                                       : std::sqrt(r.v_mps[b] * r.v_mps[b] + 2.0 * t.comfort_braking_mps2 * room_m);
  return v > safe_mps ? (safe_mps - v) / (2.0 * step_s) : never_m;
}

}  // namespace

double wished_acceleration_mps2(const Riders& r, const Track& track, const TacticsSettings& t, RiderIndex i,
                                const StepTime& time) {
  const double v = r.v_mps[i];
  double wish = t.comfort_acceleration_mps2 * free_margin;
  if (const RiderIndex w = r.wheel_of[i]; w != nobody) {
    // Who sees late does not see the acceleration.
    const double wheel_mps2 = time.reaction_steps == 0 ? r.accel_mps2[w] : 0.0;
    const double a =
        gap_law_mps2(t, {r.gap_m(i, w), r.wish_gap_m[i], seen_speed_mps(r, w, time), wheel_mps2, r.v_mps[r.front_of[i]]}, v);
    wish = std::min(wish, std::min(a, r.most_mps2[i]));
  } else if (r.pace_mps[i] > 0.0) {
    // The pace of a rider going back is that of a line, which may be speeding up or slowing.
    const RiderIndex front = r.front_of[i];
    const double line_mps2 = front == i ? 0.0 : std::max(0.0, r.accel_mps2[front]);
    wish = std::min(wish, std::min(line_mps2 + (r.pace_mps[i] - v) * (1.0 / pace_time_s), r.most_mps2[i]));
  }
  const double limit_mps = track.cell(track.place(r.x_m[i])).speed_limit_mps;
  if (v > limit_mps - t.comfort_acceleration_mps2) wish = std::min(wish, (limit_mps - v) / limit_time_s);
  wish = std::min(wish, for_stop_mps2(r, t, i, time.step_s));
  return std::min(wish, for_blocker_mps2(r, t, i, time.step_s));
}

void advance(const Riders& r, Motion& motion, Ledgers& ledgers, const Track& track, const TacticsSettings& settings,
             std::span<const RiderIndex> order, const StepTime& time) {
  motion.x_before_m = r.x_m;
  // Wishes first, all from the state at the start of the step, so that nobody reacts to a move not yet made.
  for (const RiderIndex i : order) {
    motion.wish_mps2[i] = wished_acceleration_mps2(r, track, settings, i, time);
    motion.rides_freely[i] = r.wheel_of[i] == nobody && r.pace_mps[i] <= 0.0 ? 1.0 : 0.0;
  }
  if (time.reaction_steps > 0)
    for (RiderIndex i = 0; i < r.count; ++i)
      motion.past_mps[(time.tick % time.reaction_steps) * r.count + i] = static_cast<float>(r.v_mps[i]);
  for (RiderIndex first = 0; first < r.count; first += riders_at_once)
    advance_four(r, motion, ledgers, track, settings.hardest_braking_mps2, time.step_s, first);
}

void keep_apart(const Riders& r, Motion& motion, Ledgers& ledgers, const Track& track, std::span<const RiderIndex> order) {
  for (std::size_t place = 1; place < order.size(); ++place) {  // from the front: riders ahead are done
    const RiderIndex i = order[place];
    double limit_m = r.x_m[i], limit_mps = r.v_mps[i];
    for (std::size_t k = place; k-- > 0;) {
      const RiderIndex b = order[k];
      if (r.x_before_m[b] - limit_m > body_length_m) break;
      if (std::abs(r.y_m[b] - r.y_m[i]) >= beside_m - tiny_m || r.x_m[b] - body_length_m >= limit_m) continue;
      limit_m = std::max(r.x_m[b] - body_length_m, r.x_before_m[i]);
      limit_mps = std::min(limit_mps, r.v_mps[b]);
    }
    if (limit_m >= r.x_m[i]) continue;
    // The brakes take what is left over.
    const double rise_J = r.weight_N[i] * (track.elevation_m(limit_m) - r.elevation_m[i]);
    const double kinetic_J = 0.5 * r.moving_mass_kg[i] * (limit_mps * limit_mps - r.v_mps[i] * r.v_mps[i]);
    ledgers.potential_J[i] += rise_J;
    ledgers.kinetic_J[i] += kinetic_J;
    ledgers.braking_J[i] -= rise_J + kinetic_J;
    motion.x_m[i] = limit_m;
    motion.elevation_m[i] = track.elevation_m(limit_m);
    motion.v_mps[i] = limit_mps;
  }
}

}  // namespace leewheel
