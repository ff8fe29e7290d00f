/// What is said of a road before the start, and what another wind would change.

#include <fmt/format.h>

#include <cmath>

#include "leewheel/compass.hpp"
#include "leewheel/wheel_worth.hpp"
#include "words/notes_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr double change_felt_s = 5.0;  // another wind (assumed)

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
  const ForecastPoint& wind = scenario.wind.forecast.front();
  std::vector<std::string> lines{
      fmt::format("{:.1f} {}, {:.0f} {} up, {:.1f} % on average; steepest {:.0f} % from {} {:.1f}.",
                  units.way(road.length_m), units.way_name(), units.height(road.ascent_m), units.height_name(),
                  100.0 * road.mean_grade, 100.0 * road.steepest_100m_grade, units.way_name(),
                  units.way(road.steepest_at_m)),
      wind.speed_mps > 0.0 ? fmt::format("Wind {:.0f} {} from {}.", units.wind(wind.speed_mps), units.wind_name(),
                                         compass_point(wind.from_rad))
                           : std::string("No wind.")};
  std::vector<std::string> parts;
  for (const NotesStrength& s : notes.strengths)
    parts.push_back(fmt::format("{} asks {:.0f} W on average", clock_text(s.wished_s), s.mean_power_W));
  lines.push_back(fmt::format("{}, for {:.0f} {} of rider, bicycle and kit.", fmt::join(parts, "; "),
                              units.mass(notes.mass_kg), units.mass_name()));
  return lines;
}

std::vector<std::string> notes_after(const RoadNotes& notes) {
  std::vector<std::string> lines;
  for (const NotesWind& wind : notes.winds) lines.push_back(wind_words(wind, notes));
  lines.push_back(fmt::format(
      "Shares of effort, what a wheel saves ({:.1f} m behind) and what is left are those of a rider who takes {}; the other "
      "times ride the same shares.",
      notes.wheel_gap_m, clock_text(notes.strengths[notes.middle].wished_s)));
  return lines;
}

}  // namespace leewheel
