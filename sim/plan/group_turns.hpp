#pragma once
/// The turns of a ride as a rule that riders can follow: who rides with whom, in which order, and how long each is in front.

#include <vector>

#include "leewheel/lineup.hpp"
#include "ride/stretch_tally.hpp"
#include "ride/watch.hpp"

namespace leewheel {

/// The nearest length of a turn that can be announced (s): 10, 15, 20, 30, 45, 60, 90 s, 2, 3, 4, 5 min and so on.
double round_turn_s(double turn_s);

/// An observer once a second.
class TurnsTally {
 public:
  explicit TurnsTally(const Scenario& scenario);
  void operator()(const RideView& view);
  /// The groups on a stretch, from the first on the road. @param own_pace  everyone rides there at the own pace
  std::vector<GroupTurns> on(std::size_t stretch, bool own_pace) const;

 private:
  struct Sums {
    std::vector<double> here_s, moment_s, front_s, turns, first_led_s;  ///< by rider; `moment_s` is a sum of moments
    std::vector<double> together_s;                                     ///< by pair of riders
  };
  void look_at(const RideView& view, std::size_t rider);
  GroupTurns turns_of(const Sums& s, std::vector<std::uint32_t> group, bool own_pace) const;

  std::size_t riders_;
  bool one_in_front_;    // nobody takes over: who leads longest is told as the leader
  double least_turn_s_;  // who leads for less sits in (assumed)
  StretchTally<Sums> sums_;
  struct Spell {
    std::size_t stretch = 0;
    double s = 0.0;
  };
  std::vector<Spell> in_front_;  ///< by rider, now
};

}  // namespace leewheel
