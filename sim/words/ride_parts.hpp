#pragma once
/// The parts of the summary of a ride. Each is empty when there is nothing to tell, and else ends with a line's end.

#include <string>
#include <vector>

#include "leewheel/ride_facts.hpp"
#include "leewheel/ride_report.hpp"
#include "words/day_clock.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

inline constexpr std::size_t summary_columns = 100, summary_riders = 40;

/// Terminal colours, or none.
struct Ink {
  bool on;
  std::string title(const std::string& text) const { return on ? "\x1b[1m" + text + "\x1b[0m" : text; }
  std::string heading(const std::string& text) const { return on ? "\x1b[1;36m" + text + "\x1b[0m" : text; }
  std::string quiet(const std::string& text) const { return on ? "\x1b[2m" + text + "\x1b[0m" : text; }
  std::string saving(const std::string& text) const { return on ? "\x1b[32m" + text + "\x1b[0m" : text; }
};

/// What the parts tell of.
struct Told {
  const Scenario& scenario;
  const RideResult& result;
  const std::vector<RideResult>& solo;
  const RideFacts& facts;
  DayClock clock;
  Ink ink;
  ShownUnits units;
  bool more;  ///< also what few look at: W', what was given
};

// ride_short.cpp
/// The answer in a few sentences: who is home when, where a wheel pays, who comes off, who waits, whose strength runs out.
std::string in_short(const Told& told, const FinishRanges& ranges);

// ride_tables.cpp
std::string riders_table(const Told& told);
/// When each rider arrives at each landmark, the power on the way there and W' then, a few landmarks side by side.
std::string at_landmarks(const Told& told);
std::string where_it_saved(const Told& told);

// ride_waits.cpp
/// Arrivals and departures at regroup points and stops, and who was left behind.
std::string where_they_waited(const Told& told);

// ride_story.cpp
/// In a race: the groups at the finish, a second or more apart.
std::string at_the_finish(const Told& told);
std::string who_gave(const Told& told);
/// What happened to the groups, with the reasons.
std::string groups_story(const Told& told);

}  // namespace leewheel
