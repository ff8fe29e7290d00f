#pragma once
/// The files of a debrief. None holds a place on earth; heart rates only where they were asked for.

#include <memory>
#include <string>

#include "io/trace_file.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

std::string debrief_json(const DebriefInput& input, const Debrief& told, bool heart_rate);

/// A row for each rider and stretch.
std::string debrief_stretches_csv(const DebriefInput& input, const Debrief& told);

/// The recorded ride as a trace, which the replay opens beside the plan's (--ghost): complete, to appear with the other files. Throws
/// InputFault when it cannot be written.
std::unique_ptr<TraceWriter> ridden_trace(const std::string& path, const DebriefInput& input, const Debrief& told,
                                          const std::string& scenario_text);

}  // namespace leewheel
