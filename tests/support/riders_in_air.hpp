#pragma once
/// Groups of riders for tests of wakes: hand-placed or random, in any order.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <random>
#include <vector>

#include "leewheel/wake.hpp"

namespace leewheel::riders_in_air {

/// Riders in any order; a law wants them by distance.
struct Field {
  std::vector<double> along, across, area, air_along, air_cross, turbulence;

  void add(double x_m, double y_m, double area_m2, double against_mps, double cross_mps = 0.0, double intensity = 0.0) {
    along.push_back(x_m);
    across.push_back(y_m);
    area.push_back(area_m2);
    air_along.push_back(against_mps);
    air_cross.push_back(cross_mps);
    turbulence.push_back(intensity);
  }
  std::size_t size() const { return along.size(); }
  Field picked(const std::vector<std::size_t>& order) const {
    Field field;
    for (const std::size_t i : order) field.add(along[i], across[i], area[i], air_along[i], air_cross[i], turbulence[i]);
    return field;
  }
  /// Its columns as a law takes them; only for a field that is in road order.
  WakeInput input() const { return {along, across, area, air_along, air_cross, turbulence}; }
};

struct Factors {
  std::vector<double> drag, side;
  std::vector<WakeLink> links;  ///< by place in road order
};

inline std::vector<std::size_t> by_distance(const Field& field) {
  std::vector<std::size_t> order(field.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return field.along[a] > field.along[b]; });
  return order;
}

/// In the order of `field`, whatever that is.
inline Factors factors_of(const WakeLaw& law, const Field& field) {
  const std::vector<std::size_t> order = by_distance(field);
  std::vector<double> drag(field.size()), side(field.size());
  Factors out{drag, side, {}};
  wake_factors(law, field.picked(order).input(), {drag, side}, &out.links);
  for (std::size_t k = 0; k < order.size(); ++k) {
    out.drag[order[k]] = drag[k];
    out.side[order[k]] = side[k];
  }
  return out;
}

inline WakeReach reach_of(const WakeLaw& law, const Field& field) {
  return wake_reach_m(law, field.picked(by_distance(field)).input());
}

inline Field line(std::size_t riders, double gap_m, double area_m2 = 0.23, double intensity = 0.0) {
  Field field;
  for (std::size_t i = 0; i < riders; ++i)
    field.add(-static_cast<double>(i) * (bicycle_length_m + gap_m), 0.0, area_m2, 12.0, 0.0, intensity);
  return field;
}

/// Groups of every sort: tight and loose, one speed or many, winds from all sides. The generator is fixed by the standard,
/// the scaling is ours, so that everyone tests the same groups.
class Chance {
 public:
  explicit Chance(std::uint32_t seed) : engine_(seed) {}
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0); }
  std::size_t up_to(std::size_t n) { return engine_() % (n + 1); }
  bool maybe() { return engine_() % 2 == 0; }

  Field group() {
    const double spread[] = {2.0, 10.0, 60.0}, width[] = {0.3, 1.5, 3.0};
    const std::size_t n = 2 + up_to(30);
    const double half_m = spread[up_to(2)], aside_m = width[up_to(2)], common_mps = between(0.0, 25.0),
                 wind_mps = maybe() ? between(0.0, 20.0) : 0.0, towards = between(0.0, 6.283185307179586),
                 intensity = maybe() ? between(0.0, 0.4) : 0.0;
    const bool one_speed = maybe();
    Field field;
    for (std::size_t i = 0; i < n; ++i)
      field.add(between(-half_m, half_m), between(-aside_m, aside_m), between(0.15, 0.7),
                (one_speed ? common_mps : between(0.0, 25.0)) - wind_mps * std::cos(towards), wind_mps * std::sin(towards),
                intensity);
    return field;
  }

 private:
  std::mt19937 engine_;
};

}  // namespace leewheel::riders_in_air
