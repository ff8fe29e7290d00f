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

 private:
  TraceReader reader_;
};

bool jumps(const SampleColumn& column) {
  return column.values == &RideSample::group_id || column.values == &RideSample::role || column.values == &RideSample::wheel_of;
}

std::unique_ptr<RideSource> checked(std::unique_ptr<RideSource> source, const std::string& name) {
  const TraceHead& head = source->head();
  if (head.riders.empty()) throw InputFault(Fault{name, 0, 0, "riders", "found none, expected at least one rider"});
  if (head.time_s.empty()) throw InputFault(Fault{name, 0, 0, "time_s", "found no samples, expected at least one"});
  return source;
}

constexpr double met_wind_spacing_m = 50.0;

}  // namespace

std::unique_ptr<RideSource> open_trace(const std::string& path) { return std::make_unique<TraceSource>(path); }

Replay::Replay(std::unique_ptr<RideSource> source, const std::string& name)
    : source_(checked(std::move(source), name)), road_(source_->head().road), samples_(head().time_s.size()) {
  index_ride();
}

void Replay::index_ride() {
  const std::size_t n = riders();
  distance_m_.resize(samples_ * n), sheltered_s_.resize(samples_ * n), riding_s_.resize(samples_ * n);
  finish_s_.assign(n, -1.0);
  const auto finished_role = static_cast<float>(Role::finished);
  double next_wind_m = 0.0;
  RideSample sample;
  for (std::size_t t = 0; t < samples_; ++t) {
    source_->sample(t, sample);
    const double passed_s = t == 0 ? 0.0 : head().time_s[t] - head().time_s[t - 1];
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t at = t * n + i, last = t == 0 ? at : at - n;
      const bool riding = sample.role[i] != finished_role;
      const bool sheltered = riding && sample.lee_factor[i] < sheltered_below;
      distance_m_[at] = t == 0 ? sample.distance_m[i] : std::max(sample.distance_m[i], distance_m_[last]);
      sheltered_s_[at] = static_cast<float>((t == 0 ? 0.0 : sheltered_s_[last]) + (sheltered ? passed_s : 0.0));
      riding_s_[at] = static_cast<float>((t == 0 ? 0.0 : riding_s_[last]) + (riding ? passed_s : 0.0));
      if (!riding && finish_s_[i] < 0.0) finish_s_[i] = passing_s(i, road_.length_m()).value_or(head().time_s[t]);
    }
    const std::size_t first = static_cast<std::size_t>(std::ranges::max_element(sample.distance_m) - sample.distance_m.begin());
    if (sample.distance_m[first] >= next_wind_m && sample.role[first] != finished_role) {
      met_wind_.push_back({sample.distance_m[first], sample.wind_along_mps[first], sample.wind_cross_mps[first]});
      next_wind_m = sample.distance_m[first] + met_wind_spacing_m;
    }
  }
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
  if (loaded_ != SIZE_MAX && loaded_ + 1 == index) std::swap(before_, after_);
  else source_->sample(index, before_);
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

double Replay::sheltered_share(std::size_t rider, double time_s) const {
  const std::size_t at = interval(time_s) * riders() + rider;
  return riding_s_[at] > 0 ? sheltered_s_[at] / riding_s_[at] : 0.0;
}

std::optional<double> Replay::passing_s(std::size_t rider, double distance_m) const {
  const std::size_t n = riders();
  const auto distance = [&](std::size_t t) { return double{distance_m_[t * n + rider]}; };
  std::size_t low = 0, high = samples_;  // first sample at or beyond the place
  while (low < high) {
    const std::size_t mid = (low + high) / 2;
    (distance(mid) < distance_m ? low = mid + 1 : high = mid);
  }
  if (low == samples_) return {};
  if (low == 0) return head().time_s[0];
  const double share = (distance_m - distance(low - 1)) / std::max(1e-9, distance(low) - distance(low - 1));
  return std::lerp(head().time_s[low - 1], head().time_s[low], std::clamp(share, 0.0, 1.0));
}

std::optional<double> Replay::finish_s(std::size_t rider) const {
  return finish_s_[rider] < 0.0 ? std::nullopt : std::optional(finish_s_[rider]);
}

std::optional<std::size_t> Replay::find_rider(const std::string& name) const {
  for (std::size_t i = 0; i < riders(); ++i)
    if (head().riders[i].name == name) return i;
  return {};
}

}  // namespace leewheel::view
