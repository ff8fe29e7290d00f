/// ridden.h5.

#include "io/debrief_files.hpp"
#include "io/trace_file.hpp"

namespace leewheel {

std::unique_ptr<TraceWriter> ridden_trace(const std::string& path, const DebriefInput& input, const Debrief& told,
                                          const std::string& scenario_text) {
  Scenario ridden = input.scenario;
  ridden.riders.clear(), ridden.plans.clear();
  ridden.title += ", as ridden";
  ridden.ride.record_interval_s = 1.0;
  for (const std::size_t rider : input.recorded) {
    ridden.riders.push_back(input.scenario.riders[rider]);
    ridden.plans.emplace_back();
  }
  auto trace = std::make_unique<TraceWriter>(path, ridden, scenario_text);
  for (const RideSample& sample : told.ridden) trace->append(sample);
  trace->complete({});
  return trace;
}

}  // namespace leewheel
