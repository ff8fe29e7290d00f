#pragma once
/// The yardstick of the benchmark: the least work that still moves riders up a road, one after another, in plain scalar
/// arithmetic. It uses nothing of leewheel, so that it stays the same while leewheel changes: a rate of the ride over that of
/// the yardstick, both in the same run, says how far the ride is from the machine's speed, on any machine. Never change it:
/// every ratio in results.csv is over this one.

#include <cstddef>
#include <vector>

namespace leewheel::bench {

/// Riders in one file: air, slope and tyres against them, a power no higher than W' allows, a gap to the wheel ahead.
class Yardstick {
 public:
  explicit Yardstick(std::size_t riders);
  void step();
  double sum() const;  ///< of the places, so that nothing is left out as unused

 private:
  struct Rider {
    double x_m, v_mps, wbal_J, pedal_J, mass_kg, area_m2, critical_W;
  };
  std::vector<Rider> riders_;
  std::vector<double> slope_;  ///< by metre, in a ring
};

}  // namespace leewheel::bench
