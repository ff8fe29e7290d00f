#pragma once
/// How long it still is to the finish, for kinds of ride that spend W' by then.

#include <span>
#include <vector>

#include "leewheel/road.hpp"
#include "model/riders.hpp"

namespace leewheel::riding {

class ToFinish {
 public:
  ToFinish() = default;
  ToFinish(const Road& road, const Riders& riders);
  /// Time (s) that a rider alone would still take at critical power in calm air; 0 when none was worked out.
  double s(RiderIndex i, double x_m) const;

 private:
  std::size_t pieces_ = 0;
  double length_m_ = 0.0;
  std::vector<float> left_s_;  ///< by rider and piece of road, at its start; one more at the finish
};

}  // namespace leewheel::riding
