#pragma once
/// Forecasts: points of time in YAML, the short form of one time, or a CSV file. docs/wind.md tells the forms.

#include <string>
#include <vector>

#include "io/clock_time.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

/// Points with rising times.
std::vector<ForecastPoint> read_points(const std::vector<YamlValue>& items, const StartTime& start);

/// `forecast`, or the short form of one time (from, speed). `into` stays as it is when it was a fault.
void read_forecast_or_short(YamlMap& map, const StartTime& start, std::vector<ForecastPoint>& into);

/// A forecast as CSV: the columns are the keys of a forecast in YAML, in any order, named in the first line. Empty cells
/// are not given, lines that begin with # are remarks. Adds faults with file, line, column and field.
std::vector<ForecastPoint> read_forecast_csv(const std::string& path, const StartTime& start, Faults& faults);

}  // namespace leewheel
