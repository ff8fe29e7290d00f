/// Why the chosen plan is chosen.

#include <fmt/format.h>

#include <cmath>

#include "app/lineup_tables.hpp"
#include "app/lineup_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

/// What the chosen plan gains for the aim over another, on the day as expected, of the numbers that the table shows; empty
/// where it gains nothing there.
std::string shown_gain(const Lineup& lineup, const Scenario& scenario, const PlanResult& chosen, const PlanResult& other) {
  if (lineup.aim == LineupAim::time) {
    const double sooner_s = std::round(other.expected.last_s) - std::round(chosen.expected.last_s);
    return sooner_s <= 0.0 ? "" : fmt::format("the last is at the finish {} sooner", clock_text(sooner_s));
  }
  if (lineup.aim == LineupAim::weakest) {
    const double less =
        std::round(100.0 * other.expected.weakest_effort) - std::round(100.0 * chosen.expected.weakest_effort);
    return less <= 0.0 ? ""
                       : fmt::format("{} needs {:.0f} % of critical power less", scenario.riders[lineup.weakest].name, less);
  }
  const double closer = std::round(1000.0 * other.expected.unfairness) - std::round(1000.0 * chosen.expected.unfairness);
  return closer <= 0.0 ? "" : fmt::format("efforts lie {:.1f} % of critical power closer together", closer / 10.0);
}

/// Against the plan clubs ride, with the days on which it holds.
std::string gain_words(const Lineup& lineup, const Scenario& scenario) {
  constexpr const char* better[] = {"sooner", "easier for the weakest", "fairer"};
  const std::string gain = shown_gain(lineup, scenario, lineup.best(), lineup.clubs),
                    days =
                        fmt::format("on {} of {} drawn days", lineup.against_clubs.days_better, lineup.best().days.size());
  const char* const word = better[static_cast<std::size_t>(lineup.aim)];
  return gain.empty() ? fmt::format("Against the plan clubs ride it is {} {}.", word, days)
                      : fmt::format("Against the plan clubs ride {}; it is {} {}.", gain, word, days);
}

/// Plans that are better for the aim on drawn days, yet wait too long for what it brings.
std::string waits_refused(const Lineup& lineup) {
  std::string text;
  for (std::size_t k = 0; lineup.within_limits && k < lineup.table.size(); ++k)
    if (lineup.against[k].loses && lineup.aim == LineupAim::time) {
      const double sooner_s = std::round(lineup.best().expected.last_s) - std::round(lineup.table[k].expected.last_s);
      text += fmt::format("{} is {}, too little for a wait of {}. ", plan_letter(k),
                          sooner_s > 0.0 ? clock_text(sooner_s) + " sooner"
                                         : fmt::format("sooner on {} of {} drawn days", lineup.against[k].days_worse,
                                                       lineup.best().days.size()),
                          clock_text(lineup.table[k].expected.longest_wait_s));
    }
  return text;
}

}  // namespace

std::string why_chosen(const Lineup& lineup, const Scenario& scenario) {
  const PlanResult& best = lineup.best();
  const std::size_t days = best.days.size();
  std::string text = lineup.within_limits ? "" : "No plan keeps to the limits; this one is nearest to them. ";
  text += waits_refused(lineup);
  if (best.plan.name == lineup.clubs.plan.name)
    return text + fmt::format("It is the plan clubs ride: nothing tried beats it on {} drawn days.", days);
  if (lineup.against_clubs.wins) return text + gain_words(lineup, scenario);
  const double longer_s = lineup.clubs.expected.longest_wait_s - best.expected.longest_wait_s;
  if ((lineup.clubs.unfit == Unfit::none || lineup.clubs.unfit == Unfit::beaten) && longer_s >= least_wait_s)
    return text +
           fmt::format("The plan clubs ride is as good on drawn days, but somebody waits {} longer.", clock_text(longer_s));
  return text +
         fmt::format("The plan clubs ride {}.", lineup.clubs.unfit == Unfit::none || lineup.clubs.unfit == Unfit::beaten
                                                    ? "is as good on drawn days, and no better in any column of the table"
                                                    : unfit_words(lineup.clubs, lineup, scenario));
}

}  // namespace leewheel
