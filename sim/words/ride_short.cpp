/// A ride in a few sentences.

#include <fmt/format.h>

#include <algorithm>

#include "words/plain_text.hpp"
#include "words/ride_parts.hpp"
#include "words/wait_words.hpp"

namespace leewheel {

namespace {

constexpr double together_s = 10.0;         // at the finish: riders come in together (assumed)
constexpr double little_W = 5.0;            // no wheel worth looking for (assumed)
constexpr double nearly_spent_share = 0.1;  // of W' (assumed)

std::string arrivals(const Told& told, const FinishRanges& ranges) {
  std::vector<std::size_t> home;
  for (std::size_t i = 0; i < told.result.riders.size(); ++i)
    if (told.result.riders[i].finished) home.push_back(i);
  if (home.empty()) return "Nobody gets to the finish. ";
  const auto finish_s = [&](std::size_t i) { return told.result.riders[i].finish_time_s; };
  const auto sooner = [&](std::size_t a, std::size_t b) { return finish_s(a) < finish_s(b); };
  const std::size_t first = *std::min_element(home.begin(), home.end(), sooner);
  const std::size_t last = *std::max_element(home.begin(), home.end(), sooner);
  const std::string of_days = last < ranges.finish_s.size() && ranges.finish_s[last]
                                  ? fmt::format(", on 8 of 10 days {} to {}", clock_text(ranges.finish_s[last]->low),
                                                clock_text(ranges.finish_s[last]->high))
                                  : "";
  const std::string end = told.clock.beside(finish_s(last)) + of_days;
  if (home.size() == 1) return fmt::format("{} is at the finish after {}. ", told.result.riders[last].name, end);
  if (finish_s(last) - finish_s(first) < together_s) return fmt::format("All are at the finish together after {}. ", end);
  return fmt::format("{} is at the finish first, after {}, {} last, after {}. ", told.result.riders[first].name,
                     told.clock.beside(finish_s(first)), told.result.riders[last].name, end);
}

/// Where to look for a wheel and where not to; a descent is neither.
std::string wheel(const Told& told) {
  std::vector<StretchOfRide> all = told.facts.stretches;
  std::erase_if(all, [](const StretchOfRide& s) { return s.descent(); });
  if (all.empty() || told.result.riders.size() < 2) return "";
  const auto less = [](const StretchOfRide& a, const StretchOfRide& b) { return a.saved_W < b.saved_W; };
  const StretchOfRide& most = *std::max_element(all.begin(), all.end(), less);
  const StretchOfRide& least = *std::min_element(all.begin(), all.end(), less);
  if (most.saved_W < little_W) return "A wheel saves little all the way. ";
  std::string text = fmt::format("A wheel saves most from {} to {}: {:.0f} W on average, {} {:.0f} W", most.from, most.to,
                                 most.saved_W, told.result.riders[most.most].name, most.most_W);
  if (least.saved_W < 0.5 * most.saved_W)
    text += fmt::format("; least from {} to {}, {} W at {:.1f} %", least.from, least.to, number_text(least.saved_W, 0),
                        100.0 * least.grade);
  return text + ". ";
}

std::string who_comes_off(const Told& told) {
  bool apart_freely = false;
  for (const Event& event : told.result.events) {
    const bool parts = event.kind == EventKind::split && event.because.reason != Reason::climbs_freely;
    if (comes_off(event) || parts)
      return fmt::format(
          "{} {}, at {} {:.1f}. ", enumerated_briefly(names_of(told.scenario, event.riders)),
          event.riders.size() == 1 ? "is the first to come off" : "are the first to ride apart from the others",
          told.units.way_name(), told.units.way(event.distance_m));
    apart_freely = apart_freely || event.kind == EventKind::dropped || event.kind == EventKind::split;
  }
  if (apart_freely) return "The group parts only where everyone climbs at the own pace. ";
  return told.result.riders.size() > 1 ? "Nobody comes off. " : "";
}

std::string who_waits(const Told& told) {
  const WaitOfRide::Rider* longest = nullptr;
  const WaitOfRide* where = nullptr;
  const std::vector<WaitOfRide> waits = waits_of(told.scenario, told.result);
  for (const WaitOfRide& wait : waits)
    for (const WaitOfRide::Rider& w : wait.waited)
      if (!longest || w.waited_s(told.result.time_s) > longest->waited_s(told.result.time_s)) longest = &w, where = &wait;
  if (!longest) return "";
  return fmt::format("{} waits longest, {} at {}. ", told.result.riders[longest->rider].name,
                     clock_text(longest->waited_s(told.result.time_s)), place_text(told.scenario, where->place));
}

/// W' where it decides something.
std::string whose_strength_ends(const Told& told) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < told.result.riders.size(); ++i)
    if (told.result.riders[i].wbal_least_J < nearly_spent_share * told.scenario.riders[i].w_prime_J)
      names.push_back(told.result.riders[i].name);
  if (names.empty()) return "";
  return fmt::format("{} {} nearly everything above critical power on the way. ", enumerated_briefly(names),
                     names.size() == 1 ? "spends" : "spend");
}

}  // namespace

std::string in_short(const Told& told, const FinishRanges& ranges) {
  if (told.result.riders.empty()) return "";
  std::string text =
      arrivals(told, ranges) + wheel(told) + who_comes_off(told) + who_waits(told) + whose_strength_ends(told);
  text.pop_back();
  return wrapped("In short   ", text, summary_columns);
}

}  // namespace leewheel
