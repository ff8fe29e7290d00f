#pragma once
/// Sums by stretch of the road: an observer asks for the sums of the stretch where a rider is, and adds to them.

#include <utility>
#include <vector>

#include "leewheel/road.hpp"

namespace leewheel {

template <class Sums>
class StretchTally {
 public:
  explicit StretchTally(const Road& road, const Sums& empty = {})
      : stretches_(stretches_of(road)), sums_(stretches_.size(), empty) {}

  std::size_t index_at(double distance_m) const { return stretch_at(stretches_, distance_m); }
  Sums& at(double distance_m) { return sums_[index_at(distance_m)]; }

  std::size_t size() const { return sums_.size(); }
  const RoadStretch& where(std::size_t stretch) const { return stretches_[stretch]; }
  Sums& operator[](std::size_t stretch) { return sums_[stretch]; }
  const Sums& operator[](std::size_t stretch) const { return sums_[stretch]; }
  const std::vector<Sums>& sums() const { return sums_; }

 private:
  std::vector<RoadStretch> stretches_;
  std::vector<Sums> sums_;
};

}  // namespace leewheel
