#pragma once
/// Dates and times of day as a person writes them, local and without a time zone.

#include <chrono>
#include <optional>

#include "io/yaml_reader.hpp"

namespace leewheel {

using StartTime = std::optional<std::chrono::local_seconds>;

/// "2027-05-16 09:00", seconds if wanted. Nothing when it is not given or was a fault.
StartTime read_start(const YamlValue& value);

/// The same of a text; nothing when it is none.
StartTime date_and_time(std::string_view text);

/// Seconds after `start` of a time of day, or of a date with one. A time of day is the next one not before `after_s`, or
/// without that the one nearest to the start. False when it is not given or was a fault.
bool read_clock_time(const YamlValue& value, const StartTime& start, std::optional<double> after_s, double& time_s);

/// Seconds since 1970 of 2024-05-01T08:00:00Z or ...+02:00; NaN when it is not such a time. `zoned`: it has its zone; without
/// one it is taken as UTC.
double seconds_since_1970(std::string_view text, bool& zoned);

}  // namespace leewheel
