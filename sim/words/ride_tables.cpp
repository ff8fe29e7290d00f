/// The tables of the summary of a ride.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/plain_text.hpp"
#include "words/ride_parts.hpp"

namespace leewheel {

namespace {

std::string against_alone(double saved_s) {
  if (!std::isfinite(saved_s)) return number_text(saved_s, 0);
  if (std::lround(saved_s) == 0) return "even";
  return clock_text(std::abs(saved_s)) + (saved_s > 0.0 ? " sooner" : " later");
}

/// A row of the table of riders: the name, then cells of these widths. Two columns compare with riding alone; where nobody
/// waits they are the same, and the second is left out.
constexpr std::size_t cell_columns[] = {8, 14, 14, 6, 6, 7, 6, 7, 9, 8};
constexpr std::size_t door_to_door_cell = 2, gave_cell = 7, wbal_cell = 9;

std::string row(const Told& told, std::size_t name_columns, const std::string& name, const std::vector<std::string>& cells) {
  const auto waits = [](const RiderResult& rider) { return rider.waited_s > 0.0; };
  const bool waited = std::any_of(told.result.riders.begin(), told.result.riders.end(), waits);
  std::string text = left_aligned(name, name_columns);
  for (std::size_t k = 0; k < cells.size(); ++k) {
    if (k == door_to_door_cell && !waited) continue;
    if ((k == gave_cell || k == wbal_cell) && !told.more) continue;
    const std::string cell = right_aligned(cells[k], cell_columns[k]);
    const bool saving = k == 5 || k == 6;
    text += saving ? told.ink.saving(cell) : cell;
  }
  return text;
}

}  // namespace

std::string riders_table(const Told& told) {
  const std::vector<RiderResult>& riders = told.result.riders;
  std::size_t name_columns = columns_of("Riders");
  for (const RiderResult& rider : riders) name_columns = std::max(name_columns, columns_of(rider.name));
  name_columns = std::min<std::size_t>(name_columns, 14);
  const Told plain{told.scenario, told.result, told.solo, told.facts, told.clock, Ink{false}, told.units, told.more};
  std::string text =
      told.ink.heading(
          row(plain, name_columns, "Riders",
              {"finish", "against alone", "door to door", "mean", "work", "saved", "", "gave", "draft", "W′"})) +
      "\n" + told.ink.quiet(row(plain, name_columns, "", {"", "riding", "", "W", "kJ", "kJ", "%", "kJ", "% time", "kJ"})) +
      "\n";
  for (std::size_t i = 0; i < std::min(riders.size(), summary_riders); ++i) {
    const RiderResult& r = riders[i];
    const RiderResult* const alone_again = solo_of(told.solo, i);
    const std::string home = r.finished ? clock_text(r.finish_time_s)
                                        : fmt::format("{} {:.1f}", told.units.way_name(), told.units.way(r.distance_m));
    text += row(told, name_columns, r.name,
                {home, against_alone(time_saved_s(r, alone_again)), against_alone(door_to_door_saved_s(r, alone_again)),
                 number_text(r.mean_power_W, 0), number_text(r.ledger.pedal_J / 1000.0, 0),
                 number_text(r.ledger.saved_J / 1000.0, 1), number_text(percent(r.ledger.saved_J, r.ledger.alone_J), 1),
                 number_text(r.given_J / 1000.0, 1), number_text(100.0 * r.sheltered_share, 0),
                 number_text(r.wbal_end_J / 1000.0, 1)}) +
            "\n";
  }
  if (riders.size() > summary_riders)
    text += told.ink.quiet(fmt::format("and {} more in riders.csv", riders.size() - summary_riders)) + "\n";
  return text;
}

namespace {

/// "25:44 (09:25)  173 W", and with more "W′ 20.0 kJ".
std::string at_landmark(const Told& told, const RiderFacts& rider, std::size_t k) {
  if (k >= rider.stretches.size()) return "–";
  const StretchRidden& s = rider.stretches[k];
  return fmt::format("{}  {:>3} W", told.clock.beside(s.arrive_s), number_text(s.power_W(), 0)) +
         (told.more ? fmt::format("  W\u2032 {:>4.1f} kJ", s.wbal_J / 1000.0) : "");
}

}  // namespace

std::string at_landmarks(const Told& told) {
  const std::string title = "At the landmarks";
  const std::size_t landmarks = told.facts.stretches.size(), shown = std::min(told.facts.riders.size(), summary_riders);
  if (landmarks == 0) return "";
  std::size_t cell = told.more ? 27 : 16;
  for (std::size_t i = 0; i < shown; ++i)
    for (std::size_t k = 0; k < landmarks; ++k)
      cell = std::max(cell, columns_of(at_landmark(told, told.facts.riders[i], k)) + 2);
  const std::size_t side_by_side = std::max<std::size_t>(1, (summary_columns - columns_of(title)) / cell);
  std::string text;
  for (std::size_t first = 0; first < landmarks; first += side_by_side) {
    const std::size_t end = std::min(landmarks, first + side_by_side);
    std::string names = left_aligned(first == 0 ? title : "", columns_of(title));
    for (std::size_t k = first; k < end; ++k) names += right_aligned(shortened(told.facts.stretches[k].to, cell - 2), cell);
    text += told.ink.heading(names) + "\n";
    for (std::size_t i = 0; i < shown; ++i) {
      text += left_aligned(told.result.riders[i].name, columns_of(title));
      for (std::size_t k = first; k < end; ++k) text += right_aligned(at_landmark(told, told.facts.riders[i], k), cell);
      text += "\n";
    }
  }
  if (told.facts.riders.size() > shown) text += told.ink.quiet("the others in stretches.csv") + "\n";
  return text +
         told.ink.quiet(told.more ? "arrival, mean power on the way there, W\u2032 left on arrival"
                                  : "arrival, mean power on the way there") +
         "\n";
}

std::string where_it_saved(const Told& told) {
  const std::vector<StretchOfRide>& stretches = told.facts.stretches;
  if (stretches.empty()) return "";
  const Ink& ink = told.ink;
  double largest_W = 0.1;
  for (const StretchOfRide& s : stretches) largest_W = std::max(largest_W, s.saved_W);

  std::string text = ink.heading(left_aligned("Where the wheel saved", 40) + right_aligned(told.units.way_name(), 6) +
                                 right_aligned("grade", 9) + right_aligned("on average", 12) + "   " + "most") +
                     "\n";
  for (const StretchOfRide& s : stretches) {
    const auto bar = static_cast<std::size_t>(std::lround(std::clamp(s.saved_W / largest_W, 0.0, 1.0) * 10.0));
    std::string bars;
    for (std::size_t k = 0; k < bar; ++k) bars += "▪";
    text += left_aligned(s.from + " to " + s.to, 40) + right_aligned(number_text(told.units.way(s.to_m - s.from_m), 1), 6) +
            right_aligned(number_text(s.grade * 100.0, 1) + " %", 9) +
            ink.saving(right_aligned(number_text(s.saved_W, 0) + " W", 12)) + "   " +
            left_aligned(fmt::format("{} {}", told.result.riders[s.most].name, number_text(s.most_W, 0) + " W"), 18) + " " +
            ink.saving(bars);
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

}  // namespace leewheel
