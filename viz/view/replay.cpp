#include "viz/view/replay.hpp"

#include <algorithm>
#include <cmath>

#include "io/fault.hpp"
#include "leewheel/tactics.hpp"

namespace leewheel::view {
namespace {

class TraceSource : public RideSource {
 public:
  explicit TraceSource(const std::string& path) : reader_(path) {}
  const TraceHead& head() const override { return reader_.head(); }
  void sample(std::size_t index, RideSample& into) override { reader_.sample(index, into); }
  void rows(std::vector<float> RideSample::*column, std::size_t first, std::size_t count,
            std::vector<float>& into) override {
    reader_.rows(column, first, count, into);
  }
  std::size_t rows_a_block() const override { return reader_.rows_a_chunk(); }

 private:
  TraceReader reader_;
};

bool jumps(const SampleColumn& column) {
  return column.values == &RideSample::group_id || column.values == &RideSample::role ||
         column.values == &RideSample::wheel_of;
}

std::unique_ptr<RideSource> checked(std::unique_ptr<RideSource> source, const std::string& name) {
  const TraceHead& head = source->head();
  if (head.riders.empty()) throw InputFault(Fault{name, 0, 0, "riders", "found none, expected at least one rider"});
  if (head.time_s.empty()) throw InputFault(Fault{name, 0, 0, "time_s", "found no samples, expected at least one"});
  return source;
}

}  // namespace

std::unique_ptr<RideSource> open_trace(const std::string& path) { return std::make_unique<TraceSource>(path); }

void RideSource::rows(std::vector<float> RideSample::*column, std::size_t first, std::size_t count,
                      std::vector<float>& into) {
  into.clear();
  RideSample one;
  for (std::size_t t = first; t < first + count; ++t) {
    sample(t, one);
    into.insert(into.end(), (one.*column).begin(), (one.*column).end());
  }
}

LazyColumn::LazyColumn(RideSource& source, std::vector<float> RideSample::*column)
    : source_(&source),
      column_(column),
      rows_(std::max<std::size_t>(1, source.rows_a_block())),
      riders_(source.head().riders.size()),
      blocks_((source.head().time_s.size() + rows_ - 1) / rows_) {}

std::span<const float> LazyColumn::row(std::size_t sample) {
  std::vector<float>& block = blocks_[sample / rows_];
  if (block.empty()) {
    const std::size_t first = sample / rows_ * rows_;
    source_->rows(column_, first, std::min(rows_, source_->head().time_s.size() - first), block);
  }
  return std::span<const float>(block).subspan(sample % rows_ * riders_, riders_);
}

float LazyColumn::at(std::size_t sample, std::size_t rider) { return row(sample)[rider]; }

namespace {

/// No wind over a road whose land counts as it did in the ride.
WindSettings calm(double change_length_m) {
  WindSettings settings;
  settings.change_length_m = change_length_m;
  return settings;
}

}  // namespace

Replay::Replay(std::unique_ptr<RideSource> source, const std::string& name)
    : source_(checked(std::move(source), name)),
      name_(name),
      road_(source_->head().road),
      give_and_take_(give_and_take_story(source_->head())),
      wind_(calm(source_->head().change_length_m), road_),
      samples_(head().time_s.size()),
      distance_m_(*source_, &RideSample::distance_m),
      role_(*source_, &RideSample::role),
      drag_factor_(*source_, &RideSample::drag_factor),
      wind_along_mps_(*source_, &RideSample::wind_along_mps),
      wind_cross_mps_(*source_, &RideSample::wind_cross_mps),
      pedal_J_(*source_, &RideSample::pedal_J),
      saved_J_(*source_, &RideSample::saved_J),
      finish_s_(riders()) {}

bool Replay::finished(std::size_t sample, std::size_t rider) const {
  return role_.at(sample, rider) == static_cast<float>(Role::finished);
}

/// Sheltered, riding and waiting time since the start, on from where it was last needed.
void Replay::add_up_times(std::size_t to_sample) const {
  const std::size_t n = riders();
  const auto add = [&](std::vector<float>& sums, bool counts, float passed_s) {
    sums.push_back((sums.size() < n ? 0.0f : sums[sums.size() - n]) + (counts ? passed_s : 0.0f));
  };
  for (std::size_t t = riding_s_.size() / n; t <= to_sample; ++t) {
    const auto passed_s = static_cast<float>(t == 0 ? 0.0 : head().time_s[t] - head().time_s[t - 1]);
    const auto drag_factor = drag_factor_.row(t);
    for (std::size_t i = 0; i < n; ++i) {
      const bool waiting = role_.at(t, i) == static_cast<float>(Role::waiting), riding = !waiting && !finished(t, i);
      add(riding_s_, riding, passed_s);
      add(sheltered_s_, riding && drag_factor[i] < sheltered_below, passed_s);
      add(waited_s_, waiting, passed_s);
    }
  }
}

std::optional<MetWind> Replay::met_wind(double distance_m) const {
  std::size_t low = 0, high = samples_;  // first sample with anyone at or beyond the place
  while (low < high) {
    const std::size_t mid = (low + high) / 2;
    (std::ranges::max(distance_m_.row(mid)) < distance_m ? low = mid + 1 : high = mid);
  }
  if (low == samples_) return {};
  const auto places = distance_m_.row(low);
  const auto first = static_cast<std::size_t>(std::ranges::max_element(places) - places.begin());
  if (low == 0 && places[first] > distance_m + 250.0) return {};  // recorded from further on only
  return MetWind{wind_along_mps_.at(low, first), wind_cross_mps_.at(low, first)};
}

const std::vector<StoryLine>& Replay::story(Units units) const {
  if (story_units_ != units) story_ = story_lines(head(), units), story_units_ = units;
  return story_;
}

std::size_t Replay::interval(double time_s) const {
  const auto& times = head().time_s;
  const auto next = std::upper_bound(times.begin(), times.end(), time_s);
  const auto index = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, next - times.begin() - 1));
  return std::min(index, samples_ - 1);
}

void Replay::load(std::size_t index) {
  if (loaded_ == index) return;
  const std::size_t next = std::min(index + 1, samples_ - 1);
  if (loaded_ != SIZE_MAX && loaded_ + 1 == index)
    std::swap(before_, after_);
  else
    source_->sample(index, before_);
  source_->sample(next, after_);
  loaded_ = index;
}

void Replay::interpolate(double time_s, RideSample& into) {
  time_s = std::clamp(time_s, start_s(), end_s());
  const std::size_t index = interval(time_s);
  load(index);
  const double span_s = after_.time_s - before_.time_s;
  const float share = span_s > 0 ? static_cast<float>((time_s - before_.time_s) / span_s) : 0.0f;
  into.time_s = time_s;
  for (const SampleColumn& column : sample_columns()) {
    const auto &from = before_.*column.values, &to = after_.*column.values;
    auto& out = into.*column.values;
    out = from;
    if (jumps(column) || share <= 0.0f) continue;
    for (std::size_t i = 0; i < out.size(); ++i)
      if (std::isfinite(from[i]) && std::isfinite(to[i])) out[i] = std::lerp(from[i], to[i], share);
  }
}

double Replay::between(LazyColumn& column, std::size_t rider, double time_s) const {
  time_s = std::clamp(time_s, start_s(), end_s());
  const std::size_t from = interval(time_s), to = std::min(from + 1, samples_ - 1);
  const double span_s = head().time_s[to] - head().time_s[from];
  const double share = span_s > 0 ? (time_s - head().time_s[from]) / span_s : 0.0;
  return std::lerp(static_cast<double>(column.at(from, rider)), static_cast<double>(column.at(to, rider)), share);
}

double Replay::place_m(std::size_t rider, double time_s) const { return between(distance_m_, rider, time_s); }

double Replay::pedal_J(std::size_t rider, double time_s) const { return between(pedal_J_, rider, time_s); }

double Replay::saved_J(std::size_t rider, double time_s) const { return between(saved_J_, rider, time_s); }

double Replay::sheltered_share(std::size_t rider, double time_s) const {
  const std::size_t sample = interval(time_s), at = sample * riders() + rider;
  add_up_times(sample);
  return riding_s_[at] > 0 ? sheltered_s_[at] / riding_s_[at] : 0.0;
}

double Replay::waited_s(std::size_t rider, double time_s) const {
  const std::size_t sample = interval(time_s);
  add_up_times(sample);
  return waited_s_[sample * riders() + rider];
}

std::optional<double> Replay::passing_s(std::size_t rider, double distance_m) const {
  std::size_t low = 0, high = samples_;  // first sample at or beyond the place
  while (low < high) {
    const std::size_t mid = (low + high) / 2;
    (distance_m_.at(mid, rider) < distance_m ? low = mid + 1 : high = mid);
  }
  if (low == samples_) return {};
  if (low == 0) return head().time_s[0];
  const double before_m = distance_m_.at(low - 1, rider), after_m = distance_m_.at(low, rider);
  const double share = (distance_m - before_m) / std::max(1e-9, after_m - before_m);
  return std::lerp(head().time_s[low - 1], head().time_s[low], std::clamp(share, 0.0, 1.0));
}

std::optional<double> Replay::finish_s(std::size_t rider) const {
  auto& known = finish_s_[rider];
  if (known) return *known;
  std::size_t low = 0, high = samples_;  // first sample at home
  while (low < high) {
    const std::size_t mid = (low + high) / 2;
    (finished(mid, rider) ? high = mid : low = mid + 1);
  }
  known = std::optional<double>();
  if (low < samples_) *known = passing_s(rider, road_.length_m()).value_or(head().time_s[low]);
  return *known;
}

std::optional<std::size_t> Replay::find_rider(const std::string& name) const {
  for (std::size_t i = 0; i < riders(); ++i)
    if (head().riders[i].name == name) return i;
  return {};
}

}  // namespace leewheel::view
