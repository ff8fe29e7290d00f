#include "riding/formation.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "riding/command.hpp"

namespace leewheel::riding {

namespace {

struct Row {
  Formation formation;
  const LineFormation& rides;
  const LineFormation& rides_when_few;              ///< with fewer riders than it wants
  double TacticsSettings::*least_riders = nullptr;  ///< nullptr: any number will do
};

const std::array<Row, formation_names.size()>& rows() {
  static const std::array<Row, formation_names.size()> table{{
      {Formation::turns, turns_formation, turns_formation},
      {Formation::circulating, circulating_formation, turns_formation, &TacticsSettings::least_circulating},
      {Formation::one_in_front, one_in_front_formation, one_in_front_formation},
  }};
  return table;
}

}  // namespace

const LineFormation& formation_of(const Snapshot& now, const Lines& lines, RiderIndex front) {
  const Row& row = rows()[static_cast<std::size_t>(now.formation)];
  const bool few = row.least_riders != nullptr && static_cast<double>(lines.size[front]) < now.settings.*row.least_riders;
  return few ? row.rides_when_few : row.rides;
}

double LineFormation::turn_s(const TacticsSettings&, double by_strength_s, double least_s) const {
  return std::max(least_s, by_strength_s);
}

double LineFormation::receding_mps(const Snapshot& now, RiderIndex) const { return now.settings.drift_back_mps; }

double LineFormation::clear_room_m(const TacticsSettings& settings) const {
  return bicycle_length_m + settings.clear_behind_m;
}

double LineFormation::patience_s(const TacticsSettings& settings, std::uint32_t) const { return settings.longest_drift_s; }

/// Out of the line first, then slower than it; measured by the line's wish, so that two never brake each other down.
double LineFormation::going_back_mps(const Settling& s, RiderIndex i) const {
  const TacticsSettings& t = s.now.settings;
  const Riders& r = s.now.riders;
  const RiderIndex front = s.lines.front_of[i];
  const double v = r.v_mps[front];
  const bool clear = std::abs(r.y_m[i] - r.y_m[front]) > t.clear_aside_m;
  return promptly_mps(s.now, i, v - (clear ? t.drift_back_mps : 0.0));
}

/// Beside the outermost of the riders near: in a crosswind each of them sits a little to leeward of the one ahead.
double LineFormation::beside_line_m(const Settling& s, RiderIndex i) const {
  const TacticsSettings& t = s.now.settings;
  const Riders& r = s.now.riders;
  const RiderIndex front = s.lines.front_of[i];
  const double side = s.next[i].side;
  double outermost = side * r.y_m[front];
  for_line(s.now, s.lines, front, [&](RiderIndex j) {
    if (s.next[j].role == Role::following && std::abs(r.x_m[j] - r.x_m[i]) < t.beside_length * bicycle_length_m)
      outermost = std::max(outermost, side * r.y_m[j]);
  });
  return side * (outermost + t.swing_off_m);
}

}  // namespace leewheel::riding
