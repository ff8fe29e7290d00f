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

}  // namespace

std::string riders_table(const RideResult& result, const std::vector<RideResult>& solo, const Ink& ink,
                         const ShownUnits& units) {
  std::size_t name_columns = columns_of("Riders");
  for (const RiderResult& rider : result.riders) name_columns = std::max(name_columns, columns_of(rider.name));
  name_columns = std::min<std::size_t>(name_columns, 16);

  std::string text =
      ink.heading(left_aligned("Riders", name_columns) + right_aligned("finish", 9) + right_aligned("against alone", 16) +
                  right_aligned("mean", 7) + right_aligned("work", 7) + right_aligned("saved", 8) + right_aligned("", 8) +
                  right_aligned("gave", 8) + right_aligned("drafting", 12) + right_aligned("W′ left", 9)) +
      "\n";
  text += ink.quiet(left_aligned("", name_columns) + right_aligned("", 9) + right_aligned("", 16) + right_aligned("W", 7) +
                    right_aligned("kJ", 7) + right_aligned("kJ", 8) + right_aligned("%", 8) + right_aligned("kJ", 8) +
                    right_aligned("% of time", 12) + right_aligned("kJ", 9)) +
          "\n";
  for (std::size_t i = 0; i < std::min(result.riders.size(), summary_riders); ++i) {
    const RiderResult& r = result.riders[i];
    text += left_aligned(r.name, name_columns) +
            right_aligned(r.finished ? clock_text(r.finish_time_s)
                                     : fmt::format("{} {:.1f}", units.way_name(), units.way(r.distance_m)),
                          9) +
            right_aligned(against_alone(time_saved_s(r, solo_of(solo, i))), 16) +
            right_aligned(number_text(r.mean_power_W, 0), 7) + right_aligned(number_text(r.ledger.pedal_J / 1000.0, 0), 7) +
            ink.saving(right_aligned(number_text(r.ledger.saved_J / 1000.0, 1), 8) +
                       right_aligned(number_text(percent(r.ledger.saved_J, r.ledger.alone_J), 1), 8)) +
            right_aligned(number_text(r.given_J / 1000.0, 1), 8) +
            right_aligned(number_text(100.0 * r.sheltered_share, 0), 12) +
            right_aligned(number_text(r.wbal_end_J / 1000.0, 1), 9) + "\n";
  }
  if (result.riders.size() > summary_riders)
    text += ink.quiet(fmt::format("and {} more in riders.csv", result.riders.size() - summary_riders)) + "\n";
  return text;
}

std::string at_landmarks(const RideResult& result, const Ink& ink) {
  std::size_t landmarks = 0, name_columns = columns_of("At the landmarks");
  for (const RiderResult& rider : result.riders) landmarks = std::max(landmarks, rider.landmarks.size());
  if (landmarks == 0) return "";
  constexpr std::size_t side_by_side = 3, cell_columns = 27;
  std::string text;
  for (std::size_t first = 0; first < landmarks; first += side_by_side) {
    const std::size_t end = std::min(landmarks, first + side_by_side);
    std::string names = left_aligned(first == 0 ? "At the landmarks" : "", name_columns);
    for (std::size_t k = first; k < end; ++k)
      for (const RiderResult& rider : result.riders)
        if (k < rider.landmarks.size()) {
          names += right_aligned(shortened(rider.landmarks[k].name, cell_columns - 2), cell_columns);
          break;
        }
    text += ink.heading(names) + "\n";
    for (std::size_t i = 0; i < std::min(result.riders.size(), summary_riders); ++i) {
      const RiderResult& rider = result.riders[i];
      text += left_aligned(rider.name, name_columns);
      for (std::size_t k = first; k < end; ++k) {
        const bool there = k < rider.landmarks.size();
        text +=
            right_aligned(there ? fmt::format("{}  {:>3.0f} W  W\u2032 {:>4.1f} kJ", clock_text(rider.landmarks[k].time_s),
                                              rider.landmarks[k].power_W, rider.landmarks[k].wbal_J / 1000.0)
                                : "–",
                          cell_columns);
      }
      text += "\n";
    }
  }
  if (result.riders.size() > summary_riders) text += ink.quiet("the others in stretches.csv") + "\n";
  return text;
}

std::string where_it_saved(const Scenario& scenario, const RideResult& result, const Ink& ink, const ShownUnits& units) {
  const std::vector<StretchOfRide> stretches = stretches_of_ride(scenario, result);
  if (stretches.empty()) return "";
  double largest_W = 0.1;
  for (const StretchOfRide& s : stretches) largest_W = std::max(largest_W, s.saved_W);

  std::string text = ink.heading(left_aligned("Where the wheel saved", 40) + right_aligned(units.way_name(), 6) +
                                 right_aligned("grade", 9) + right_aligned("on average", 12) + "   " + "most") +
                     "\n";
  for (const StretchOfRide& s : stretches) {
    const auto bar = static_cast<std::size_t>(std::lround(std::clamp(s.saved_W / largest_W, 0.0, 1.0) * 10.0));
    std::string bars;
    for (std::size_t k = 0; k < bar; ++k) bars += "▪";
    text += left_aligned(s.from + " to " + s.to, 40) + right_aligned(number_text(units.way(s.to_m - s.from_m), 1), 6) +
            right_aligned(number_text(s.grade * 100.0, 1) + " %", 9) +
            ink.saving(right_aligned(number_text(s.saved_W, 0) + " W", 12)) + "   " +
            left_aligned(fmt::format("{} {}", result.riders[s.most].name, number_text(s.most_W, 0) + " W"), 18) + " " +
            ink.saving(bars);
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

}  // namespace leewheel
