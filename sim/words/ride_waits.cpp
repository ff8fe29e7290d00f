/// Where riders waited: arrive, go on, and the wait between.

#include <fmt/format.h>

#include <algorithm>

#include "words/plain_text.hpp"
#include "words/ride_parts.hpp"
#include "words/wait_words.hpp"

namespace leewheel {

namespace {

struct Columns {
  std::size_t name, clock;
};

std::string rider_row(const Told& told, const WaitOfRide::Rider& w, const Columns& columns) {
  return "    " + left_aligned(told.scenario.riders.at(w.rider).name, columns.name) +
         right_aligned(told.clock.beside(w.arrive_s), columns.clock) +
         right_aligned(w.go_on_s < 0.0 ? "not yet" : told.clock.beside(w.go_on_s), columns.clock) +
         right_aligned(clock_text(w.waited_s(told.result.time_s)), 9) + "\n";
}

std::string place_rows(const Told& told, const WaitOfRide& wait, const Columns& columns) {
  const std::string head = fmt::format("{}, {} {:.1f}", place_text(told.scenario, wait.place), told.units.way_name(),
                                       told.units.way(wait.place.at_m));
  if (wait.waited.empty()) return wrapped("  ", head + ": nobody waits there", summary_columns);
  std::string text = wrapped("  ", head, summary_columns);
  for (std::size_t k = 0; k < std::min(wait.waited.size(), summary_riders); ++k)
    text += rider_row(told, wait.waited[k], columns);
  for (const WaitOfRide::GivenUp& given_up : wait.given_up)
    text += wrapped("    ", given_up_text(told.scenario, wait, given_up), summary_columns);
  return text;
}

}  // namespace

std::string where_they_waited(const Told& told) {
  const std::vector<WaitOfRide> waits = waits_of(told.scenario, told.result);
  if (waits.empty()) return "";
  const std::string title = "Regroup points and stops";
  Columns columns{columns_of(title) - 4, 11};
  for (const RiderResult& rider : told.result.riders) columns.name = std::max(columns.name, columns_of(rider.name));
  columns.name = std::min<std::size_t>(columns.name, 40);
  columns.clock = std::max(columns.clock, columns_of(told.clock.beside(told.result.time_s)) + 3);
  std::string text = told.ink.heading(left_aligned(title, columns.name + 4) + right_aligned("arrive", columns.clock) +
                                      right_aligned("go on", columns.clock) + right_aligned("wait", 9)) +
                     "\n";
  for (const WaitOfRide& wait : waits) text += place_rows(told, wait, columns);
  return text;
}

}  // namespace leewheel
