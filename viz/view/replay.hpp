#pragma once
/// A recorded ride made ready for showing: any moment by interpolation, and what needs the whole ride (who passed where
/// when, shelter so far, the wind that was met). Samples stay in the file; only small tables are kept in memory.

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "io/trace_file.hpp"

namespace leewheel::view {

/// Where samples come from: a trace file, or memory in tests.
class RideSource {
 public:
  virtual ~RideSource() = default;
  virtual const TraceHead& head() const = 0;
  virtual void sample(std::size_t index, RideSample& into) = 0;
};

/// A trace file. Throws InputFault when it cannot be used.
std::unique_ptr<RideSource> open_trace(const std::string& path);

/// Wind at rider height where the first rider met it.
struct MetWind {
  double distance_m, along_mps, cross_mps;  ///< > 0 pushes on; > 0 towards the left
};

inline constexpr double sheltered_below = 0.95;  ///< lee factor below which a rider counts as sheltered (docs/model.md)

class Replay {
 public:
  /// Reads every sample once. Throws InputFault on a ride without riders or samples.
  explicit Replay(std::unique_ptr<RideSource> source, const std::string& name);

  const TraceHead& head() const { return source_->head(); }
  const Road& road() const { return road_; }
  std::size_t riders() const { return head().riders.size(); }
  double start_s() const { return head().time_s.front(); }
  double end_s() const { return head().time_s.back(); }

  /// Numbers run straight between samples; group, role and wheel change at the samples. Times outside take the nearer end.
  void interpolate(double time_s, RideSample& into);
  double sheltered_share(std::size_t rider, double time_s) const;   ///< of the riding time so far
  /// When the rider was first at that place; nothing if never recorded there.
  std::optional<double> passing_s(std::size_t rider, double distance_m) const;
  std::optional<double> finish_s(std::size_t rider) const;
  std::optional<std::size_t> find_rider(const std::string& name) const;
  const std::vector<MetWind>& met_wind() const { return met_wind_; }

 private:
  std::size_t interval(double time_s) const;  ///< index of the sample at or before
  void index_ride();
  void load(std::size_t index);

  std::unique_ptr<RideSource> source_;
  Road road_;
  std::size_t samples_ = 0;
  std::vector<float> distance_m_, sheltered_s_, riding_s_;  ///< samples x riders
  std::vector<double> finish_s_;                            ///< negative: not finished
  std::vector<MetWind> met_wind_;
  RideSample before_, after_;
  std::size_t loaded_ = SIZE_MAX;
};

}  // namespace leewheel::view
