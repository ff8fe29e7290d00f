#pragma once
/// The recorded ride as an HDF5 file; its layout stands in docs/trace.md.

#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

inline constexpr int trace_layout_version = 2;
/// Ends the title of a trace in which each rider rode alone.
inline constexpr const char* each_alone_title = ", each rider alone";

/// What stands beside the time series.
struct TraceHead {
  std::string title, scenario_text, program_version;
  std::string question, finding;  ///< as the scenario's text tells them; may be empty
  std::uint64_t seed = 1;
  double sample_interval_s = 1.0;
  bool keep_right = true;
  RoadProfile road;
  std::vector<RiderSettings> riders;
  WakeLaw wake_law;
  double change_length_m = WindSettings{}.change_length_m;  ///< over which wind and turbulence follow a change of exposure
  std::vector<double> regroup_at_m;  ///< where riders were to wait or to stop; empty in traces that do not tell
  std::optional<std::chrono::local_seconds> start;  ///< by the clock
  std::vector<std::vector<PlanStep>> plans;         ///< by rider, sorted by distance; a list may be empty
  double air_density_kgpm3 = 1.2;                   ///< at the start
  std::vector<double> time_s;                       ///< of every sample
  std::vector<Event> events;                        ///< empty in a torn file
  std::vector<TowDebt> debts;                       ///< who towed whom; empty in a torn file and in traces that do not tell
  bool complete = true;                             ///< false: the ride was cut off; what is there can be read
};

/// Writes chunks while riding to `path`.part, which takes its final name in `finish`. Throws InputFault if it cannot be
/// begun, and WriteFault, leaving nothing, if there is no room to go on.
class TraceWriter {
 public:
  TraceWriter(const std::string& path, const Scenario& scenario, const std::string& scenario_text);
  ~TraceWriter();  ///< an unfinished trace stays behind as `path`.part; one that is complete but did not appear goes
  void append(const RideSample& sample);
  /// Everything is in the file, which appears under its name with `appear`.
  void complete(const std::vector<Event>& events, const std::vector<TowDebt>& debts = {});
  void appear();
  void finish(const std::vector<Event>& events, const std::vector<TowDebt>& debts = {});  ///< both

 private:
  struct State;
  std::unique_ptr<State> state_;
};

/// Reads the head at once and samples on demand (a chunk at a time), so that a huge trace opens quickly.
class TraceReader {
 public:
  explicit TraceReader(const std::string& path);  ///< throws InputFault: missing, not HDF5, wrong layout, torn beyond use
  ~TraceReader();
  const TraceHead& head() const;
  void sample(std::size_t index, RideSample& into);
  /// One column of all riders over `count` samples, row by row. Reads nothing else, so that a long ride can be looked
  /// through quickly; best in whole chunks.
  void rows(std::vector<float> RideSample::*column, std::size_t first, std::size_t count, std::vector<float>& into);
  std::size_t rows_a_chunk() const;
  /// One column of one rider over the whole ride.
  std::vector<float> series(const std::string& column, std::size_t rider);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace leewheel
