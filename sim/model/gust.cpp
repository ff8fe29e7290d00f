#include "leewheel/gust.hpp"

#include <algorithm>
#include <cassert>

#include "leewheel/chance.hpp"

namespace leewheel {
namespace {

constexpr std::size_t samples_a_strip = 8192, strip_count = 256;  // powers of two: indices wrap by a mask
constexpr double samples_per_length = 20.0;
constexpr double wide_strip_lengths = 0.5, narrow_strip_lengths = 0.1, wide_share = 0.8;

/// A ring of samples of the process, joined by straight lines. Its own mean and variance are made 0 and 1: else strips, which
/// all lie in the one ring, would share its mean and hang together.
std::vector<double> endless_lane(std::uint64_t seed, bool across) {
  constexpr std::size_t memory = 640;  // 32 lengths: what came before has faded to 1e-14, so that the ring closes
  const GustStep step = gust_step(1.0, 1.0, 1.0 / samples_per_length);
  std::vector<double> ring(samples_a_strip);
  double value = 0.0, sum = 0.0, square = 0.0;
  for (std::size_t k = samples_a_strip - memory; k < 2 * samples_a_strip; ++k) {
    const std::size_t at = k % samples_a_strip;
    value = step.carry * value + step.noise * chance_normal(seed, across, at, Purpose::gust);
    if (k >= samples_a_strip) sum += ring[at] = value;
  }
  for (double& sample : ring) sample -= sum / samples_a_strip;
  for (std::size_t k = 0; k < samples_a_strip; ++k) {
    const double a = ring[k], b = ring[(k + 1) % samples_a_strip];
    square += (a * a + a * b + b * b) / 3.0;  // mean square of the line from a to b
  }
  for (double& sample : ring) sample /= std::sqrt(square / samples_a_strip);
  return ring;
}

}  // namespace

GustField::GustField(double length_m, std::uint64_t seed)
    : samples_(samples_a_strip), samples_per_m_(samples_per_length / length_m) {
  assert(length_m > 0.0);
  for (const bool across : {false, true}) {
    const std::vector<double> ring = endless_lane(seed, across);
    for (std::size_t k = 0; k < samples_a_strip; ++k)
      (across ? samples_[k].across : samples_[k].along) = static_cast<float>(ring[k]);
  }
  rows_[0].strips_per_m = 1.0 / (wide_strip_lengths * length_m), rows_[0].strength = std::sqrt(wide_share);
  rows_[1].strips_per_m = 1.0 / (narrow_strip_lengths * length_m), rows_[1].strength = std::sqrt(1.0 - wide_share);
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    const auto bits = [&](std::size_t strip) {
      return static_cast<std::uint32_t>(chance_bits(seed, 2 + k, strip, Purpose::gust));
    };
    for (std::size_t strip = 0; strip < strip_count; ++strip) rows_[k].strip_start.push_back(bits(strip));
    rows_[k].first_strip = static_cast<double>(bits(strip_count)) / 4294967296.0;
  }
}

GustField::Gust GustField::in_strip(std::uint32_t start, double position) const {
  const double below = std::floor(position);
  const auto first = static_cast<std::uint64_t>(static_cast<std::int64_t>(below)) + start;
  const Sample &a = samples_[first & (samples_a_strip - 1)], &b = samples_[(first + 1) & (samples_a_strip - 1)];
  const double part = position - below;
  return {a.along + part * (b.along - a.along), a.across + part * (b.across - a.across)};
}

GustField::Gust GustField::in_row(const Row& row, double position, double sideways_m) const {
  const double at = sideways_m * row.strips_per_m + row.first_strip, below = std::floor(at), next = at - below,
               here = 1.0 - next;
  const auto strip = static_cast<std::uint64_t>(static_cast<std::int64_t>(below));
  const Gust a = in_strip(row.strip_start[strip & (strip_count - 1)], position),
             b = in_strip(row.strip_start[(strip + 1) & (strip_count - 1)], position);
  const double unit = row.strength / std::sqrt(here * here + next * next);  // two independent strips: the variance stays
  return {unit * (here * a.along + next * b.along), unit * (here * a.across + next * b.across)};
}

GustField::Gust GustField::at(double downwind_m, double sideways_m) const {
  const double position = downwind_m * samples_per_m_;
  const Gust wide = in_row(rows_[0], position, sideways_m), narrow = in_row(rows_[1], position, sideways_m);
  return {wide.along + narrow.along, wide.across + narrow.across};
}

}  // namespace leewheel
