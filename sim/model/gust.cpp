#include "leewheel/gust.hpp"

#include <algorithm>
#include <cassert>

#include "model/chance.hpp"

namespace leewheel {
namespace {

constexpr double m_per_ft = 0.3048;

double feet(double height_m) { return std::max(10.0, height_m / m_per_ft); }
double roughness_term(double height_ft) { return 0.177 + 0.000823 * height_ft; }

}  // namespace

double dryden_length_m(double height_m) {
  const double h = feet(height_m);
  return h / std::pow(roughness_term(h), 1.2) * m_per_ft;
}

double dryden_intensity(double height_m) { return 0.1 / std::pow(roughness_term(feet(height_m)), 0.4); }

namespace {

constexpr std::size_t samples_a_lane = 8192, lane_count = 256;  // powers of two: indices wrap by a mask
constexpr double samples_per_length = 20.0, lanes_per_length = 2.0;

}  // namespace

GustField::GustField(double length_m, std::uint64_t seed)
    : samples_(samples_a_lane),
      lane_start_(lane_count),
      samples_per_m_(samples_per_length / length_m),
      lanes_per_m_(lanes_per_length / length_m) {
  assert(length_m > 0.0);
  const GustStep step = gust_step(1.0, 1.0, 1.0 / samples_per_length);
  // Between samples a straight line has less variance than the process; the mean over the line is made 1.
  const double lift = 1.0 / std::sqrt((2.0 + step.carry) / 3.0);
  for (const bool across : {false, true}) {
    constexpr std::size_t memory = 640;  // 32 lengths: what came before has faded to 1e-14, so that the ring closes
    double value = 0.0;
    for (std::size_t k = samples_a_lane - memory; k < 2 * samples_a_lane; ++k) {
      const std::size_t at = k % samples_a_lane;
      value = step.carry * value + step.noise * chance_normal(seed, across, at, Purpose::gust);
      if (k >= samples_a_lane) (across ? samples_[at].across : samples_[at].along) = static_cast<float>(lift * value);
    }
  }
  for (std::size_t lane = 0; lane < lane_count; ++lane)
    lane_start_[lane] = static_cast<std::uint32_t>(chance_bits(seed, 2, lane, Purpose::gust));
}

GustField::Gust GustField::in_lane(std::int64_t lane, double position) const {
  const double below = std::floor(position);
  const auto first = static_cast<std::uint64_t>(static_cast<std::int64_t>(below)) +
                     lane_start_[static_cast<std::uint64_t>(lane) & (lane_count - 1)];
  const Sample &a = samples_[first & (samples_a_lane - 1)], &b = samples_[(first + 1) & (samples_a_lane - 1)];
  const double part = position - below;
  return {a.along + part * (b.along - a.along), a.across + part * (b.across - a.across)};
}

GustField::Gust GustField::at(double downwind_m, double sideways_m) const {
  const double position = downwind_m * samples_per_m_, row = sideways_m * lanes_per_m_;
  const double below = std::floor(row), next = row - below, here = 1.0 - next;
  const auto lane = static_cast<std::int64_t>(below);
  const Gust a = in_lane(lane, position), b = in_lane(lane + 1, position);
  const double unit = 1.0 / std::sqrt(here * here + next * next);  // two independent lanes: the variance stays 1
  return {unit * (here * a.along + next * b.along), unit * (here * a.across + next * b.across)};
}

}  // namespace leewheel
