/// A double line: short turns, always moving. Riders who come off the front go back in a line of their own beside the first.

#include <algorithm>
#include <cmath>

#include "riding/command.hpp"
#include "riding/formation.hpp"
#include "riding/placing.hpp"

namespace leewheel::riding {

namespace {

/// Riders who go back form a line of their own: by how much to be faster for the wished gap in it (m/s).
double closing_up_mps(const Settling& s, RiderIndex i) {
  const TacticsSettings& t = s.now.settings;
  const Riders& r = s.now.riders;
  for (std::size_t place = s.now.rank_of[i]; place-- > 0;) {
    const RiderIndex j = s.now.order[place];
    if (r.x_m[j] - r.x_m[i] > t.wheel_reach_m) break;
    if (s.next[j].role != Role::drifting_back || s.lines.front_of[j] != s.lines.front_of[i]) continue;
    const double over_m = s.now.gap_m(i, j) - r.own_gap_m[i] - t.headway_s * r.v_mps[i];
    return std::clamp(t.closing_gap_1ps * over_m, -t.closing_most_mps, t.closing_most_mps);
  }
  return 0.0;
}

class Circulating final : public LineFormation {
 public:
  bool turns_by_strength() const override { return false; }
  double first_turn_s(const Snapshot& now, double) const override { return now.settings.circulate_s; }
  double turn_s(const TacticsSettings& settings, double, double) const override { return settings.circulate_s; }
  /// After `circulate_s` the next has passed, and can move over in turn.
  double receding_mps(const Snapshot& now, RiderIndex front) const override {
    const TacticsSettings& t = now.settings;
    const Riders& r = now.riders;
    const double place_m = bicycle_length_m + r.own_gap_m[front] + t.headway_s * r.v_mps[front];
    return std::clamp((place_m + clear_room_m(t)) / std::max(1.0, t.circulate_s - t.moving_over_s), t.least_receding_mps,
                      t.most_receding_mps);
  }
  double clear_room_m(const TacticsSettings& settings) const override {
    return bicycle_length_m - settings.move_over_overlap_m;
  }
  double patience_s(const TacticsSettings& settings, std::uint32_t line_size) const override {
    return std::max(settings.longest_drift_s, line_size * settings.circulate_s);
  }
  /// As fast as the line until out of it, then slower, promptly, so that the next can come by.
  double going_back_mps(const Settling& s, RiderIndex i) const override {
    const RiderIndex front = s.lines.front_of[i];
    const double line_mps = s.now.riders.v_mps[front];
    if (std::abs(s.now.riders.y_m[i] - line_abeam_m(s, i)) < s.now.settings.clear_aside_m) return line_mps;
    return promptly_mps(s.now, i, line_mps - receding_mps(s.now, front) + closing_up_mps(s, i));
  }
  /// Everyone who goes back rides at the same distance beside the line, so that in a crosswind the second line fans out too.
  double beside_line_m(const Settling& s, RiderIndex i) const override {
    return line_abeam_m(s, i) + s.next[i].side * s.now.settings.swing_off_m;
  }
  bool keeps_room_beside() const override { return true; }
};

const Circulating circulating;

}  // namespace

const LineFormation& circulating_formation = circulating;

std::span<const NumberField<TacticsSettings>> circulating_fields() {
  using T = TacticsSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<T> fields[] = {
      {"circulate_s", &T::circulate_s, 3, 60, "circulating: length of a turn in front (s)",
       "double line 5-10 s, second-hand"},
      {"least_circulating", &T::least_circulating, 2, 50, "circulating: fewer riders than this take turns instead", ours},
      {"move_over_overlap_m", &T::move_over_overlap_m, 0, 1.7,
       "circulating: the first rider moves over while still overlapping the first of the other line by this (m)", ours},
      {"least_receding_mps", &T::least_receding_mps, 0.05, 5,
       "circulating: the line that goes back is at least this much slower (m/s)", ours},
      {"most_receding_mps", &T::most_receding_mps, 0.05, 5, "circulating: and at most this much slower (m/s)", ours},
      {"closing_gap_1ps", &T::closing_gap_1ps, 0, 2, "riders beside or behind a line correct their gap at this rate (1/s)",
       ours},
      {"closing_most_mps", &T::closing_most_mps, 0, 3, "and with at most this difference of speed (m/s)", ours},
  };
  return fields;
}

}  // namespace leewheel::riding
