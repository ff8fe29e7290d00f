#pragma once
/// How rules are asked. A rule answers one question; it has no clock, no event and no command. How long it must hold, and
/// what follows, stands in its row of a table; the order of the rows is their priority.

#include <span>

#include "riding/snapshot.hpp"

namespace leewheel::riding {

/// What one rider sees.
struct View {
  const Snapshot& now;
  RiderIndex rider;
  RiderIndex wheel;              ///< nearest rider ahead whose wheel can be taken, or nobody
  const Memory& own;             ///< as proposed so far
  std::span<const Ahead> ahead;  ///< by rider: what those ahead have just proposed

  const Riders& riders() const { return now.riders; }
  const TacticsSettings& settings() const { return now.settings; }
  const Outlook& outlook() const { return now.outlook[rider]; }
  double gap_m() const { return now.gap_m(rider, wheel); }  ///< to the wheel
  const Memory& memory(RiderIndex other) const { return now.memory[other]; }
  /// What another rider is doing: riders ahead as they have just proposed, the others as they were.
  Role role_of(RiderIndex other) const {
    return now.rank_of[other] < now.rank_of[rider] ? ahead[other].role : now.memory[other].role;
  }
};

struct Answer {
  bool holds = false;
  Because because{};
  RiderIndex about = nobody;  ///< whom an event is about
  bool holds_off = false;     ///< the rows below are not asked
};

struct Rule {
  Answer (*asks)(const View&);
  double TacticsSettings::*lasts_s;                     ///< how long it must hold; nullptr: acted on at once
  Clock clock;                                          ///< of a rule that must last
  void (*then)(const View&, const Answer&, Proposal&);  ///< what follows
  bool goes_on = false;                                 ///< the rows below are asked all the same
};

/// The first row that has held for its time is acted on.
void follow_rules(std::span<const Rule> rules, const View& view, Proposal& proposal);

}  // namespace leewheel::riding
