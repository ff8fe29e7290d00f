/// What a recorded ride tells of the whole road: watts saved along it, and where it is most exposed.

#include <algorithm>

#include "leewheel/tactics.hpp"
#include "viz/view/replay.hpp"

namespace leewheel::view {
namespace {

constexpr std::size_t most_values = 6'000'000;  // of each column: about as many as are read in a third of a second

}  // namespace

std::optional<MostExposed> Replay::most_exposed() const {
  constexpr double step_m = 100.0, least_head_mps = 1.0, stands_out = 1.15;
  const auto steps = static_cast<std::size_t>(road_.length_m() / step_m);
  const std::size_t kilometre = static_cast<std::size_t>(1000.0 / step_m);
  if (steps < 2 * kilometre) return {};
  std::vector<double> sums{0.0};  // of the headwind up to each step
  for (std::size_t k = 0; k < steps; ++k) {
    const auto met = met_wind((static_cast<double>(k) + 0.5) * step_m);
    sums.push_back(sums.back() + (met ? -met->along_mps : 0.0));
  }
  MostExposed most{0.0, 0.0, 0.0};
  for (std::size_t k = 0; k + kilometre <= steps; ++k)
    if (const double head_mps = (sums[k + kilometre] - sums[k]) / kilometre; head_mps > most.head_mps)
      most = {static_cast<double>(k) * step_m, static_cast<double>(k + kilometre) * step_m, head_mps};
  const double everywhere_mps = sums.back() / static_cast<double>(steps);
  if (most.head_mps < least_head_mps || most.head_mps < stands_out * everywhere_mps) return {};
  return most;
}

double Replay::power_scale_W() const {
  if (power_scale_W_ <= 0.0) power_scale_W_ = saved_along().scale_W();
  return power_scale_W_;
}

const SavedAlong& Replay::saved_along() const {
  if (saved_along_) return *saved_along_;
  saved_along_.emplace(road_.length_m(), riders());
  const std::size_t block = source_->rows_a_block(), blocks = (samples_ + block - 1) / block;
  const std::size_t every = std::max<std::size_t>(1, samples_ * riders() / most_values);
  std::vector<float> place_m, power_W, alone_W, role;
  for (std::size_t b = 0; b < blocks; b += every) {
    const std::size_t first = b * block, count = std::min(block, samples_ - first);
    source_->rows(&RideSample::distance_m, first, count, place_m);
    source_->rows(&RideSample::power_W, first, count, power_W);
    source_->rows(&RideSample::alone_power_W, first, count, alone_W);
    source_->rows(&RideSample::role, first, count, role);
    for (std::size_t t = 0; t < count; ++t) {
      const std::size_t sample = first + t;
      const double passed_s = sample == 0 ? 0.0 : head().time_s[sample] - head().time_s[sample - 1];
      for (std::size_t i = 0; i < riders(); ++i) {
        const std::size_t at = t * riders() + i;
        const auto doing = static_cast<Role>(static_cast<int>(role[at]));
        if (doing != Role::waiting && doing != Role::finished)
          saved_along_->add(i, place_m[at], alone_W[at], power_W[at], passed_s);
      }
    }
  }
  return *saved_along_;
}

}  // namespace leewheel::view
