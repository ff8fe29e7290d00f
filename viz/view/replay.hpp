#pragma once
/// A recorded ride made ready for showing: any moment by interpolation, and what needs the whole ride (who passed where
/// when, shelter so far, the wind that was met). Nothing is read before it is shown, so that a huge trace opens at once.

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "io/trace_file.hpp"
#include "leewheel/saved_along.hpp"
#include "viz/view/story.hpp"

namespace leewheel::view {

/// Where samples come from: a trace file, or memory in tests.
class RideSource {
 public:
  virtual ~RideSource() = default;
  virtual const TraceHead& head() const = 0;
  virtual void sample(std::size_t index, RideSample& into) = 0;
  /// One column of all riders over some samples, row by row.
  virtual void rows(std::vector<float> RideSample::*column, std::size_t first, std::size_t count, std::vector<float>& into);
  virtual std::size_t rows_a_block() const { return 128; }  ///< samples best read together
};

/// A trace file. Throws InputFault when it cannot be used.
std::unique_ptr<RideSource> open_trace(const std::string& path);

/// Wind at rider height where the first rider met it.
struct MetWind {
  double along_mps, cross_mps;  ///< > 0 pushes on; > 0 towards the left
};

/// A stretch of road and the mean headwind there.
struct MostExposed {
  double from_m, to_m, head_mps;
};

inline constexpr double sheltered_below = 0.95;  ///< drag factor below which a rider counts as sheltered (docs/model.md)

/// One column of a whole ride, read a block at a time when first asked for and then kept.
class LazyColumn {
 public:
  LazyColumn(RideSource& source, std::vector<float> RideSample::*column);
  float at(std::size_t sample, std::size_t rider);
  std::span<const float> row(std::size_t sample);

 private:
  RideSource* source_;
  std::vector<float> RideSample::*column_;
  std::size_t rows_, riders_;
  std::vector<std::vector<float>> blocks_;
};

class Replay {
 public:
  /// Throws InputFault on a ride without riders or samples.
  explicit Replay(std::unique_ptr<RideSource> source, const std::string& name);

  const TraceHead& head() const { return source_->head(); }
  const std::string& name() const { return name_; }  ///< of the file
  const Road& road() const { return road_; }
  /// Who carried whom over the whole ride, in plain lines; none when the trace does not tell.
  const std::vector<std::string>& give_and_take() const { return give_and_take_; }
  /// Of the wind over the land there, as the ride had it.
  double turbulence_intensity(double distance_m) const { return wind_.turbulence_intensity(distance_m); }
  std::size_t riders() const { return head().riders.size(); }
  double start_s() const { return head().time_s.front(); }
  double end_s() const { return head().time_s.back(); }

  /// Numbers run straight between samples; group, role and wheel change at the samples. Times outside take the nearer end.
  void interpolate(double time_s, RideSample& into);
  double sheltered_share(std::size_t rider, double time_s) const;  ///< of the riding time so far
  double waited_s(std::size_t rider, double time_s) const;         ///< so far, at regroup points and stops
  /// When the rider was first at that place; nothing if never recorded there.
  std::optional<double> passing_s(std::size_t rider, double distance_m) const;
  std::optional<double> finish_s(std::size_t rider) const;
  double place_m(std::size_t rider, double time_s) const;
  double pedal_J(std::size_t rider, double time_s) const;  ///< work at the cranks so far
  double saved_J(std::size_t rider, double time_s) const;  ///< saved by company so far
  std::optional<std::size_t> find_rider(const std::string& name) const;
  /// What the first rider felt at that place; nothing if nobody was recorded there.
  std::optional<MetWind> met_wind(double distance_m) const;
  /// Watts saved along the whole road. Reads three columns of the ride when first asked for: of very long traces with
  /// many riders only every so many samples, so that the first picture comes at once.
  const SavedAlong& saved_along() const;
  /// The kilometre where the first riders met the strongest headwind; nothing where it is hardly stronger than elsewhere.
  std::optional<MostExposed> most_exposed() const;
  const std::vector<StoryLine>& story(Units units) const;  ///< put together when first asked for
  double power_scale_W() const;                            ///< one scale for every power shown, `SavedAlong::scale_W`

 private:
  std::size_t interval(double time_s) const;  ///< index of the sample at or before
  double between(LazyColumn& column, std::size_t rider, double time_s) const;
  bool finished(std::size_t sample, std::size_t rider) const;
  void add_up_times(std::size_t to_sample) const;
  void load(std::size_t index);

  std::unique_ptr<RideSource> source_;
  std::string name_;
  Road road_;
  std::vector<std::string> give_and_take_;
  Wind wind_;  ///< calm: what the land makes of it is all that is asked
  std::size_t samples_ = 0;
  // Read as far as someone has asked; what they answer does not change.
  mutable LazyColumn distance_m_, role_, drag_factor_, wind_along_mps_, wind_cross_mps_, pedal_J_, saved_J_;
  mutable std::vector<float> sheltered_s_, riding_s_, waited_s_;        ///< samples so far x riders
  mutable std::vector<std::optional<std::optional<double>>> finish_s_;  ///< by rider: looked up yet, home at all
  mutable std::optional<SavedAlong> saved_along_;
  mutable double power_scale_W_ = 0.0;
  mutable std::vector<StoryLine> story_;
  mutable std::optional<Units> story_units_;
  RideSample before_, after_;
  std::size_t loaded_ = SIZE_MAX;
};

}  // namespace leewheel::view
