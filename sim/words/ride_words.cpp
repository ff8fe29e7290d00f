#include "words/ride_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "leewheel/compass.hpp"
#include "words/cautions.hpp"
#include "words/plain_text.hpp"
#include "words/ride_parts.hpp"

namespace leewheel {

namespace {

std::string the_road(const Scenario& scenario, const ShownUnits& units) {
  const RoadFacts f = scenario.road.facts();
  return fmt::format(
      "{:.1f} {km}, {:.0f} {m} up, {:.0f} {m} down, {:.1f} % on average; steepest 100 m {:.1f} % from {km} {:.1f}",
      units.way(f.length_m), units.height(f.ascent_m), units.height(f.descent_m), f.mean_grade * 100.0,
      f.steepest_100m_grade * 100.0, units.way(f.steepest_at_m), fmt::arg("km", units.way_name()),
      fmt::arg("m", units.height_name()));
}

std::string the_day(const Scenario& scenario, const ShownUnits& units) {
  const std::vector<ForecastPoint>& forecast = scenario.wind.forecast;
  const auto wind = [&](const ForecastPoint& at) {
    return fmt::format("{:.0f} {} from {}", units.wind(at.speed_mps), units.wind_name(), compass_point(at.from_rad));
  };
  std::string text = "wind " + wind(forecast.front());
  if (forecast.size() > 1)
    text += fmt::format(", at {} {}", DayClock(scenario.start).beside(forecast.back().time_s), wind(forecast.back()));
  return text + fmt::format(" (10 m up); {:.0f} {}, air {:.2f} kg/m³", units.warmth(scenario.air.temperature_C),
                            units.warmth_name(), start_density_kgpm3(scenario));
}

/// As people say it; the file's word is in `ride_kind_names`.
const char* kind_words(RideKind kind) {
  switch (kind) {
    case RideKind::together: return "all together";
    case RideKind::steady: return "a steady group ride";
    case RideKind::free: return "everyone by the own plan";
    case RideKind::race: return "a race";
    case RideKind::by_strength: return "in two groups, the stronger and the weaker";
  }
  return "";
}

std::string the_ride(const Scenario& scenario, const RideResult& result, const DayClock& clock, bool more) {
  const auto finished = std::count_if(result.riders.begin(), result.riders.end(), [](const auto& r) { return r.finished; });
  const std::size_t all = result.riders.size();
  std::string end;
  if (static_cast<std::size_t>(finished) == all)
    end = "all at the finish after " +
          clock.beside(std::ranges::max(result.riders, {}, &RiderResult::finish_time_s).finish_time_s);
  else if (result.end == RideEnd::time_limit)
    end = fmt::format("{} of {} at the finish within the time limit of {}", finished, all, clock_text(result.time_s));
  else if (result.end == RideEnd::rider_stalled)
    end = fmt::format("{} of {} at the finish; a rider came to a stop, ended after {}", finished, all,
                      clock_text(result.time_s));
  else
    end = fmt::format("{} of {} at the finish, cut off after {}", finished, all, clock_text(result.time_s));
  std::string text = fmt::format("{}, {}, {}", kind_words(scenario.ride.kind), counted(all, "rider"), end);
  return more ? text + fmt::format("; seed {}, step {} s", scenario.ride.seed, scenario.ride.step_s) : text;
}

/// The published laws of recovery disagree: the rider for whom that matters most.
std::string recovery_band(const RideResult& result) {
  const auto band_J = [](const RiderResult& rider) {
    const auto [least, most] = std::minmax_element(rider.wbal_end_by_law_J.begin(), rider.wbal_end_by_law_J.end());
    return std::pair(*least, *most);
  };
  const auto width_J = [&](const RiderResult& rider) { return band_J(rider).second - band_J(rider).first; };
  const auto worst_side =
      std::max_element(result.riders.begin(), result.riders.end(),
                       [&](const RiderResult& a, const RiderResult& b) { return width_J(a) < width_J(b); });
  const auto [least_J, most_J] = band_J(*worst_side);
  return fmt::format("W\u2032 laws    disagree by up to {:.1f} kJ at the end: {} ends with {:.1f} to {:.1f} kJ\n",
                     width_J(*worst_side) / 1000.0, shortened(worst_side->name, 16), least_J / 1000.0, most_J / 1000.0);
}

std::string ledger_and_laws(const RideResult& result) {
  if (result.riders.empty()) return "";
  const RiderResult& worst = result.riders[worst_ledger(result)];
  std::string text = fmt::format("Energy     the ledger closes to {:.0e} of the work (largest error, {})\n",
                                 worst.ledger.error(), shortened(worst.name, 16));
  text += recovery_band(result);
  return text;
}

std::string hazards(const RideResult& result) {
  if (result.riders.empty()) return "";
  double overlap_s = 0.0;
  const RiderResult* worst_side = &result.riders.front();
  for (const RiderResult& rider : result.riders) {
    overlap_s += rider.overlap_s;
    if (rider.largest_side_force_N > worst_side->largest_side_force_N) worst_side = &rider;
  }
  return wrapped("The means  ",
                 "are of riding time; waits and stops count in arrivals and from door to door, and alone there are none",
                 summary_columns) +
         fmt::format("Hazards    wheels overlapped for {}, all riders added up; largest push from the side {:.0f} N ({})\n",
                     overlap_s < 120.0 ? fmt::format("{:.0f} s", overlap_s) : minutes_text(overlap_s),
                     worst_side->largest_side_force_N, shortened(worst_side->name, 16));
}

}  // namespace

namespace {
/// The finish on the further days, for those riders who finished on enough of them.
std::string other_days(const Told& told, const FinishRanges& ranges) {
  if (ranges.days == 0)
    return wrapped("The range  ", "none: one ride with one set of inputs; leewheel spread rides it on many days",
                   summary_columns);
  std::string finishes;
  double ends_s = 0.0;
  for (std::size_t i = 0; i < std::min(ranges.finish_s.size(), summary_riders); ++i)
    if (const std::optional<Middle80>& range = ranges.finish_s[i]) {
      ends_s = std::max(ends_s, range->ends_error);
      finishes += fmt::format("{}{} {} to {}, in the middle {}", finishes.empty() ? "" : "; ", told.result.riders[i].name,
                              clock_text(range->low), clock_text(range->high), clock_text(range->middle));
    }
  if (!finishes.empty()) finishes += fmt::format("; ends good to {}", clock_text(ends_s));
  return wrapped("The range  ",
                 fmt::format("the finish on 8 of 10 of {} further days, with wind, legs and drag drawn anew: {}",
                             ranges.days, finishes.empty() ? "nobody is there often enough" : finishes),
                 summary_columns);
}
}  // namespace

std::string summary_text(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo,
                         const FinishRanges& ranges, const SummaryStyle& style) {
  const ShownUnits& units = style.units;
  const RideFacts facts = facts_of(scenario, result, solo);
  const Told told{scenario, result, solo, facts, DayClock(scenario.start), Ink{style.colour}, units, style.more};
  std::string text = told.ink.title(shortened(scenario.title, summary_columns)) + "\n";
  if (!scenario.question.empty()) text += wrapped("", scenario.question, summary_columns);
  text += "\n" + in_short(told, ranges) + "\n" + wrapped("The road  ", the_road(scenario, units), summary_columns) +
          wrapped("The day   ", the_day(scenario, units), summary_columns) +
          wrapped("The ride  ", the_ride(scenario, result, told.clock, style.more), summary_columns);
  if (told.clock.known())
    text += wrapped("The start ", fmt::format("{}, {} by the clock there", told.clock.date(), told.clock.at(0.0)),
                    summary_columns);
  text += "\n" + riders_table(told) + "\n" + other_days(told, ranges);
  for (const std::string& part : {at_landmarks(told), where_they_waited(told), at_the_finish(told), where_it_saved(told),
                                  who_gave(told), groups_story(told)})
    if (!part.empty()) text += "\n" + part;
  text += "\n" + (style.more ? ledger_and_laws(result) : "") + hazards(result) +
          (style.more ? "" : "With --more: W\u2032, what each gave, the energy ledger, the laws of recovery.\n") + "\n";
  for (const char* caution : ride_cautions) text += told.ink.quiet(caution) + "\n";
  return text;
}

}  // namespace leewheel
