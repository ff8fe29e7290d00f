#pragma once
/// How a line shares the front. Each formation is a file of its own; the table in formation.cpp lists them.

#include "riding/line.hpp"

namespace leewheel::riding {

/// What differs from formation to formation. A formation holds no state.
class LineFormation {
 public:
  /// Whether the front is given away at all.
  virtual bool rotates() const { return true; }
  /// Whether turns are as long as strength allows, and skipped for want of it.
  virtual bool turns_by_strength() const { return true; }
  /// Length (s) of the turn of a rider who has just come to lead a line; `usual_s` otherwise.
  virtual double first_turn_s(const Snapshot&, double usual_s) const { return usual_s; }
  /// Length (s) of the next rider's turn: `by_strength_s`, and no shorter than `least_s`.
  virtual double turn_s(const TacticsSettings& settings, double by_strength_s, double least_s) const;
  /// How much slower than the line a rider goes back beside it (m/s).
  virtual double receding_mps(const Snapshot& now, RiderIndex front) const;
  /// Way (m) that a rider going back must be behind the front before the next may swing off.
  virtual double clear_room_m(const TacticsSettings& settings) const;
  /// How long (s) a rider goes back before giving up.
  virtual double patience_s(const TacticsSettings& settings, std::uint32_t line_size) const;
  /// Pace (m/s) of a rider going back.
  virtual double going_back_mps(const Settling& settling, RiderIndex i) const;
  /// Place across the road (m) of a rider going back.
  virtual double beside_line_m(const Settling& settling, RiderIndex i) const;
  /// Whether the first keeps room on the side of the swing also in a light wind.
  virtual bool keeps_room_beside() const { return false; }

 protected:
  ~LineFormation() = default;
};

/// The formation in which a line rides now: a double line wants riders enough.
const LineFormation& formation_of(const Snapshot& now, const Lines& lines, RiderIndex front);

extern const LineFormation& turns_formation;
extern const LineFormation& circulating_formation;
extern const LineFormation& one_in_front_formation;

std::span<const NumberField<TacticsSettings>> circulating_fields();

}  // namespace leewheel::riding
