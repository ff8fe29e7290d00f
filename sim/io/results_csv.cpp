/// riders.csv, stretches.csv and events.csv.

#include <fmt/format.h>

#include "io/csv.hpp"
#include "io/result_columns.hpp"
#include "io/results.hpp"
#include "words/day_clock.hpp"
#include "words/phrases.hpp"

namespace leewheel {

namespace {

/// The names of a table's columns as CSV, between those that are no numbers.
template <class Row>
std::string header(std::vector<std::string> names, std::span<const ResultColumn<Row>> columns,
                   const std::vector<std::string>& clocks) {
  for (const ResultColumn<Row>& column : columns)
    if (column.found_in != FoundIn::json) names.emplace_back(column.name);
  names.insert(names.end(), clocks.begin(), clocks.end());
  return csv_row(names);
}

template <class Row>
std::string row(std::vector<std::string> cells, std::span<const ResultColumn<Row>> columns, const Row& of,
                const std::vector<std::string>& clocks) {
  for (const ResultColumn<Row>& column : columns)
    if (column.found_in != FoundIn::json) cells.push_back(csv_cell(column.value(of), column.decimals));
  cells.insert(cells.end(), clocks.begin(), clocks.end());
  return csv_row(cells);
}

}  // namespace

std::string riders_csv(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo) {
  std::string csv = header({"name", "finished"}, rider_columns(), {"finish_at"});
  const RideFacts facts = facts_of(scenario, result, solo);
  const DayClock clock(scenario.start);
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& r = result.riders[i];
    csv += row({csv_cell(r.name), r.finished ? "yes" : "no"}, rider_columns(), {r, facts.riders[i], solo_of(solo, i)},
               {r.finished ? clock.iso(r.finish_time_s) : ""});
  }
  return csv;
}

std::string stretches_csv(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo) {
  std::string csv = header({"rider", "from", "to"}, stretch_columns(), {"arrive_at", "go_on_at"});
  const RideFacts facts = facts_of(scenario, result, solo);
  const DayClock clock(scenario.start);
  for (std::size_t i = 0; i < result.riders.size(); ++i)
    for (const StretchRidden& s : facts.riders[i].stretches)
      csv += row({csv_cell(result.riders[i].name), csv_cell(s.from), csv_cell(s.to)}, stretch_columns(), s,
                 {clock.iso(s.arrive_s), clock.iso(s.go_on_s)});
  return csv;
}

namespace {
std::string group_cell(std::int32_t group) { return group == no_group ? "" : std::to_string(group); }

/// "asked_W=208.417; will_give_W=200"
std::string values_cell(const Because& because) {
  std::vector<std::string> parts;
  const ReasonRow& row = reason_rows()[static_cast<std::size_t>(because.reason)];
  for (std::size_t k = 0; k < row.values.size() && !row.values[k].name.empty(); ++k)
    parts.push_back(fmt::format("{}={}", row.values[k].name, csv_cell(because.values[k], 3)));
  return fmt::format("{}", fmt::join(parts, "; "));
}
}  // namespace

std::string events_csv(const Scenario& scenario, const RideResult& result) {
  std::string csv = "time_s,distance_m,kind,group,riders,cause,reason,about,from_group,values\n";
  for (const Event& event : result.events)
    csv += csv_row({csv_cell(event.time_s, 1), csv_cell(event.distance_m, 1),
                    std::string(event_names[static_cast<std::size_t>(event.kind)]), group_cell(event.group),
                    csv_cell(fmt::format("{}", fmt::join(names_of(scenario, event.riders), "; "))),
                    csv_cell(because_text(event.because, event.group, rider_names(scenario))),
                    std::string(reason_rows()[static_cast<std::size_t>(event.because.reason)].name),
                    event.because.other == no_rider ? "" : csv_cell(rider_names(scenario)(event.because.other)),
                    group_cell(event.because.from_group), values_cell(event.because)});
  return csv;
}

}  // namespace leewheel
