/// What is said of a road before the start, and what another wind would change.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/compass.hpp"
#include "leewheel/heat.hpp"
#include "leewheel/wheel_worth.hpp"
#include "words/day_clock.hpp"
#include "words/notes_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr double change_felt_s = 5.0;   // another wind (assumed)
constexpr double hot_C = 28.0;          // from here heat is told, whether it is counted or not (assumed)
constexpr double quicker_share = 0.97;  // of the time of the quickest rider: nobody listed is so strong (assumed)

/// As the forecast says it, at each of its times up to the slowest wished one where it has changed.
std::string wind_through_the_ride(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units) {
  double slowest_s = 0.0;
  for (const NotesStrength& s : notes.strengths) slowest_s = std::max(slowest_s, s.time_s);
  std::string text, last;
  for (const ForecastPoint& at : scenario.wind.forecast) {
    const std::string wind = at.speed_mps > 0.0 ? fmt::format("{:.0f} {} from {}", units.wind(at.speed_mps),
                                                              units.wind_name(), compass_point(at.from_rad))
                                                : std::string("no wind");
    if (!text.empty() && wind != last) text += fmt::format(", at {} {}", DayClock(scenario.start).beside(at.time_s), wind);
    if (text.empty()) text = at.speed_mps > 0.0 ? "Wind " + wind : "No wind";
    last = wind;
    if (at.time_s >= slowest_s) break;
  }
  return text + ".";
}

/// How warm it gets, and what of it the watts know; empty on a cool day.
std::string heat_sentence(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units) {
  double warmest_C = scenario.air.temperature_C;
  for (const NotesStretch& s : notes.stretches) warmest_C = std::max(warmest_C, s.felt_C);
  if (warmest_C < hot_C) return "";
  const std::string knows =
      scenario.heat.on ? fmt::format("who stays in it long loses about {:.0f} % of critical power, which these watts count",
                                     100.0 * heat_loss_share(warmest_C, scenario.heat.acclimatised))
                       : std::string("it takes power, which these watts do not count");
  return fmt::format("Heat: it feels like up to {:.0f} {}; {}. Start easier, drink early, look out for one another.",
                     units.warmth(warmest_C), units.warmth_name(), knows);
}

/// The wished times that nobody of the scenario rides; empty where there are none.
std::string nobody_listed(const RoadNotes& notes) {
  std::vector<std::string> times;
  for (const NotesStrength& s : notes.strengths)
    if (s.wished_s < quicker_share * notes.quickest_s) times.push_back(clock_text(s.wished_s));
  if (times.empty() || notes.quickest.empty()) return "";
  return fmt::format("Nobody listed is strong enough for {}: {}, the quickest alone, takes about {} at critical power.",
                     enumerated(times), notes.quickest, clock_text(notes.quickest_s));
}

/// Whether every strength rides each stretch at the printed share of its average.
bool same_shares(const RoadNotes& notes) {
  for (const NotesStrength& s : notes.strengths)
    for (std::size_t k = 0; k < notes.stretches.size(); ++k)
      if (std::abs(s.power_W[k] / s.mean_power_W - notes.stretches[k].effort_share) >= 0.01) return false;
  return true;
}

std::string wind_words(const NotesWind& wind, const RoadNotes& notes) {
  constexpr const char* names[] = {"With no wind", "With half as much wind again", "With the wind turned round"};
  const std::string change =
      std::abs(wind.later_s) < change_felt_s
          ? std::string("you are as quick")
          : fmt::format("you are {} {}", clock_text(std::abs(wind.later_s)), wind.later_s > 0.0 ? "later" : "sooner");
  const RoadStretch& best = notes.stretches[wind.best_stretch].where;
  const std::string wheel = wind.wheel_saves_W >= least_worth_W ? fmt::format("a wheel saves most from {} to {}, {:.0f} W",
                                                                              best.from, best.to, wind.wheel_saves_W)
                                                                : std::string("no wheel is worth looking for");
  return fmt::format("{} {} at the same effort; {}.", names[static_cast<std::size_t>(wind.kind)], change, wheel);
}

}  // namespace

std::vector<std::string> notes_before(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units) {
  const RoadFacts road = scenario.road.facts();
  std::vector<std::string> lines{
      fmt::format("{:.1f} {}, {:.0f} {} up, {:.1f} % on average; steepest {:.0f} % from {} {:.1f}.",
                  units.way(road.length_m), units.way_name(), units.height(road.ascent_m), units.height_name(),
                  100.0 * road.mean_grade, 100.0 * road.steepest_100m_grade, units.way_name(),
                  units.way(road.steepest_at_m)),
      wind_through_the_ride(scenario, notes, units)};
  std::vector<std::string> parts;
  for (const NotesStrength& s : notes.strengths)
    parts.push_back(fmt::format("{} asks {:.0f} W on average", clock_text(s.wished_s), s.mean_power_W));
  lines.push_back(fmt::format("{}, for {:.0f} {} of rider, bicycle and kit.", fmt::join(parts, "; "),
                              units.mass(notes.mass_kg), units.mass_name()));
  for (const std::string& line : {nobody_listed(notes), heat_sentence(scenario, notes, units)})
    if (!line.empty()) lines.push_back(line);
  return lines;
}

std::vector<std::string> notes_after(const RoadNotes& notes) {
  std::vector<std::string> lines;
  for (const NotesWind& wind : notes.winds) lines.push_back(wind_words(wind, notes));
  const std::string others =
      notes.strengths.size() == 1 ? std::string()
      : same_shares(notes)        ? std::string("; the other times ride the same shares")
                                  : std::string(
                                        "; the other times follow the same plan, and their watts are those that they then ride: "
                                               "other shares, as their reserve or the heat lasts another time");
  lines.push_back(fmt::format(
      "Shares of effort, what a wheel saves ({:.1f} m behind) and what is left are those of a rider who takes {}{}.",
      notes.wheel_gap_m, clock_text(notes.strengths[notes.middle].wished_s), others));
  return lines;
}

std::string times_possible(const RoadNotes& notes) {
  const std::string to = notes.possible_to_s > 0.0
                             ? fmt::format(" to {} with {:.0f} W", clock_text(notes.possible_to_s), least_critical_power_W)
                             : std::string(" and more");
  return fmt::format("{} is no time for this road: possible is {} with {:.0f} W of critical power{}",
                     clock_text(notes.not_possible_s), clock_text(notes.possible_from_s), most_critical_power_W, to);
}

}  // namespace leewheel
