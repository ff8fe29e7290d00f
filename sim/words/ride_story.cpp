/// What happened in a ride: who came in together, who gave, when and why groups changed.

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "words/give_and_take_words.hpp"
#include "words/phrases.hpp"
#include "words/plain_text.hpp"
#include "words/ride_parts.hpp"

namespace leewheel {

namespace {

constexpr std::size_t events_shown = 20, debts_shown = 5;

/// How much an event matters to someone who reads of the ride afterwards: 0 always shown, 2 only counted.
int rank_of(EventKind kind) {
  switch (kind) {
    case EventKind::dropped:
    case EventKind::split:
    case EventKind::merged:
    case EventKind::regrouped:
    case EventKind::leaves:
    case EventKind::caution: return 0;
    case EventKind::formed:
    case EventKind::joined:
    case EventKind::lets_go:
    case EventKind::chases:
    case EventKind::goes_alone:
    case EventKind::waits: return 1;
    default: return 2;
  }
}

/// The events worth a line, at most `events_shown`, in order of time: the weightier kinds first have their place.
std::set<std::size_t> shown_events(const RideResult& result) {
  std::set<std::size_t> shown;
  for (const int rank : {0, 1})
    for (std::size_t i = 0; i < result.events.size() && shown.size() < events_shown; ++i)
      if (rank_of(result.events[i].kind) == rank) shown.insert(i);
  return shown;
}

}  // namespace

std::string at_the_finish(const Told& told) {
  const auto groups = finish_groups(told.result);
  if (told.scenario.ride.kind != RideKind::race || groups.size() < 2) return "";
  constexpr std::size_t shown_groups = 12;
  std::string text = told.ink.heading("At the finish, groups a second or more apart") + "\n";
  const double first_s = told.result.riders[groups.front().front()].finish_time_s;
  for (std::size_t k = 0; k < std::min(groups.size(), shown_groups); ++k) {
    const double behind_s = told.result.riders[groups[k].front()].finish_time_s - first_s;
    const std::vector<std::string> names = names_of(told.scenario, groups[k]);
    text +=
        fmt::format("  {:>9}  {:>4} {}  {}\n", k == 0 ? told.clock.beside(first_s) : "+" + clock_text(behind_s),
                    groups[k].size(), groups[k].size() == 1 ? "rider " : "riders", shortened(enumerated_briefly(names), 60));
  }
  if (groups.size() > shown_groups)
    text += told.ink.quiet(fmt::format("and {} groups more in summary.json", groups.size() - shown_groups)) + "\n";
  return text;
}

std::string who_gave(const Told& told) {
  std::vector<TowDebt> debts = told.result.debts;
  std::stable_sort(debts.begin(), debts.end(), [](const TowDebt& a, const TowDebt& b) { return a.saved_J > b.saved_J; });
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < std::min(debts.size(), debts_shown) && debts[i].saved_J >= 50.0; ++i)
    parts.push_back(fmt::format("{} to {} {:.1f} kJ", told.scenario.riders.at(debts[i].giver).name,
                                told.scenario.riders.at(debts[i].receiver).name, debts[i].saved_J / 1000.0));
  if (parts.empty()) return "";
  std::string text =
      told.ink.heading("Who towed most") + "\n" + wrapped("  ", fmt::format("{}", fmt::join(parts, ", ")), summary_columns);
  const GiveAndTake shared = give_and_take(told.result.riders.size(), told.result.debts);
  for (const std::string& line : give_and_take_lines(shared, rider_names(told.scenario)))
    text += wrapped("  ", line, summary_columns);
  return text;
}

std::string groups_story(const Told& told) {
  const std::set<std::size_t> shown = shown_events(told.result);
  std::string text = told.ink.heading("The groups") + "\n";
  for (const std::size_t i : shown) {
    const Event& event = told.result.events[i];
    const std::string when = fmt::format("  {:>7}  {} {:>4.1f}  ", told.clock.beside(event.time_s), told.units.way_name(),
                                         told.units.way(event.distance_m));
    text +=
        wrapped(when,
                event_story(event, enumerated_briefly(names_of(told.scenario, event.riders)), rider_names(told.scenario)) +
                    ": " + because_text(event.because, event.group, rider_names(told.scenario), told.units),
                summary_columns);
  }
  std::map<std::size_t, int> others;
  for (std::size_t i = 0; i < told.result.events.size(); ++i)
    if (!shown.contains(i)) ++others[static_cast<std::size_t>(told.result.events[i].kind)];
  std::vector<std::string> counts;
  for (const auto& [kind, count] : others) counts.push_back(fmt::format("{}\u00a0×\u00a0{}", event_names[kind], count));
  if (shown.empty()) text += "  nobody joined and nobody left\n";
  if (!counts.empty()) text += wrapped("  and in events.csv: ", fmt::format("{}", fmt::join(counts, ", ")), summary_columns);
  return text;
}

}  // namespace leewheel
