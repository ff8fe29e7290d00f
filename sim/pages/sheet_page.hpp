#pragma once
/// What the parts of the plan sheet share: the ride that is told, and how its figures are written.

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "pages/sheet.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

inline constexpr double pays_W = 5.0;  ///< a wheel that saves less is not felt (assumed)

struct Page {
  const Sheet& sheet;
  ShownUnits units;
  const Scenario& scenario() const { return sheet.scenario; }
  bool group() const { return scenario().riders.size() > 1; }
  const std::string& name(std::size_t rider) const { return scenario().riders[rider].name; }
  double effort(std::size_t rider, double power_W) const { return power_W / scenario().riders[rider].critical_power_W; }
  std::string speed(double mps) const { return fmt::format("{:.0f} {}", units.speed(mps), units.speed_name()); }
  std::string way(double m) const { return fmt::format("{:.1f} {}", units.way(m), units.way_name()); }
  std::string climb(double m) const { return fmt::format("{:.0f} {}", units.height(m), units.height_name()); }
  const std::vector<SheetRidden>& ridden(std::size_t rider) const { return sheet.riders[rider].facts.stretches; }
  /// One rider on one stretch; nullptr when its end was not reached.
  const SheetRidden* ridden(std::size_t rider, std::size_t stretch) const {
    return stretch < ridden(rider).size() ? &ridden(rider)[stretch] : nullptr;
  }
  DayClock clock() const { return DayClock(scenario().start); }
  /// The end of the road is its highest point.
  bool ends_on_top() const;
  const char* end_word() const { return ends_on_top() ? "at the top" : "at the finish"; }
};

inline std::string whole(double value) { return fmt::format("{:.0f}", value); }

/// "190 to 221"; empty without a range.
inline std::string figures_range(const std::optional<SheetRange>& range, double unit = 1.0) {
  return range ? fmt::format("{:.0f} to {:.0f}", range->low / unit, range->high / unit) : std::string();
}
/// "59:10 to 1:02:30"; empty without a range.
inline std::string clock_range(const std::optional<SheetRange>& range) {
  return range ? fmt::format("{} to {}", clock_text(range->low), clock_text(range->high)) : std::string();
}

// sheet_plan_words.cpp: the plan and the day.
std::string forecast_text(const Page& page);
std::string kind_text(const Scenario& scenario);
/// Places where the group waits or stops.
std::string regroup_places(const Page& page);
/// Who leaves whom behind after the longest wait; empty where nobody does.
std::string given_up_words(const Page& page);
std::string wind_text(const Page& page, const SheetStretch& stretch);
std::string what_to_do(const Page& page, const SheetStretch& stretch);
std::string who_with_whom(const Page& page, const SheetStretch& stretch);
/// When the first and the last arrive at the end of a stretch, and when they go on where they wait.
std::string first_and_last(const Page& page, std::size_t stretch);
/// What was drawn for the other days, with one standard deviation.
std::string spread_words(const Page& page);
/// The cautions that this road, this day and these riders ask for, beside those that always hold.
std::vector<std::string> cautions_of_the_day(const Page& page);

// sheet_head_words.cpp: what a captain says before the start.
/// Day, meeting and start by the clock where the start is known.
std::string meeting_text(const Page& page);
/// At the start: as the scenario says, then the others by name.
std::string order_text(const Page& page);
/// One line a place: who is there first and last, and when all go on.
std::vector<std::string> regroup_lines(const Page& page);
/// The stretch where a wheel saves most, for a group that rides it in a line; empty where no wheel saves worth a word.
std::string close_up_text(const Page& page);
std::string look_after_text(const Page& page);
/// What is seen on the road, and what is done then.
std::vector<std::string> when_to_change(const Page& page);

// sheet_line_words.cpp: who follows whom.
/// Behind or in front of others, as told on the card: never where everyone rides at the own pace.
bool rides_in_line(const Page& page, std::size_t rider, std::size_t stretch);
/// The rider ahead in the line; nobody for who rides alone or never sits in.
std::optional<std::size_t> wheel_to_follow(const Page& page, std::size_t rider, std::size_t stretch);
/// How long a turn in front is by the rule of the stretch: infinite for who stays there, 0 for who has none.
double planned_turn_s(const Page& page, std::size_t rider, std::size_t stretch);
/// "behind Dirk, lead 45 s", "own pace".
std::string whom_to_follow(const Page& page, std::size_t rider, std::size_t stretch);
struct TurnsOnWay {
  std::string from, to, text;
};
/// The rule of the turns in road order; stretches with the same rule are one.
std::vector<TurnsOnWay> turns_by_stretch(const Page& page);
/// The same as one rule for the whole ride.
std::string rule_for_turns(const Page& page);

// sheet_card_words.cpp: what one rider is told.
/// Share of critical power in a word (assumed).
const char* effort_word(double share);
double mean_effort(const Page& page, std::size_t rider);
/// Way, climbing, time and work left from the end of a stretch, and W' when going on where little is left; empty at the end of the ride.
std::string left_text(const Page& page, std::size_t rider, std::size_t stretch);
std::string sit_in_text(const Page& page, std::size_t rider);
/// The stretches ridden clearly below the rider's own mean; empty where the effort is even.
std::string ease_text(const Page& page, std::size_t rider);
std::string turn_text(const Page& page, std::size_t rider);
/// For who comes last where others wait; else empty.
std::string regroup_text(const Page& page, std::size_t rider);
std::string energy_text(const Page& page, std::size_t rider);
std::string energy_range(const Page& page, std::size_t rider);
/// Food and drink in one line; common practice, no source.
std::string food_text(const Page& page, std::size_t rider);

// sheet_on_the_way.cpp: what is beside the road and in it; empty where there is nothing.
/// Where there is water, and when this rider is there.
std::string water_text(const Page& page, std::size_t rider);
/// What to do in the heat, and what of it this page counts.
std::string heat_text(const Page& page);
/// Ramps on which this rider stands up or walks.
std::string low_gear_text(const Page& page, std::size_t rider);

}  // namespace leewheel
