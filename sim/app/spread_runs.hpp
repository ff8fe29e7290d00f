#pragma once
/// Rides the runs of `leewheel spread` into their file, and tells which are missing.

#include <functional>
#include <string>
#include <vector>

#include "io/runs_file.hpp"
#include "leewheel/ensemble.hpp"

namespace leewheel {

/// "spread_runs.ndjson", of a part "spread_runs_3_of_8.ndjson".
std::string runs_file_name(const RunsPart& part);

/// How many of the runs asked for belong to the part.
std::size_t runs_of(const RunsPart& part, std::size_t asked);

/// Runs asked for, of the part, that were neither ridden nor failed.
std::vector<std::size_t> not_ridden(const KeptRuns& kept);

/// Runs asked for that failed.
std::size_t failed_runs(const KeptRuns& kept);

/// "125 of 1000 runs are missing (part 3/8): 2, 10, 18 to 20 and 100 more"; parts are named where all of one are missing.
std::string missing_words(const std::vector<std::size_t>& missing, std::size_t asked, std::size_t parts);

/// Rides the runs of the part that are not done, those that failed among them. Each goes to the file at once; one that fails is
/// told on standard error. @return false when it was stopped before the end
bool ride_runs(const Scenario& scenario, KeptRuns& kept, RunsFile& file, std::size_t threads, bool progress,
               const std::function<RunOutcome(const Scenario&, std::uint64_t, std::uint64_t)>& ride = ride_day);

}  // namespace leewheel
