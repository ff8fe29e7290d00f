#pragma once
/// What riders should be warned of: gusts across the road.

#include <span>
#include <vector>

#include "leewheel/wind.hpp"
#include "model/riders.hpp"

namespace leewheel {

class Cautions {
 public:
  explicit Cautions(std::size_t riders);
  /// What the wind does across, and whether that is worth a caution. Once a second.
  void feel_side_force(const Riders& riders, std::span<const RiderIndex> order, std::span<const std::int32_t> group_of,
                       const WindSettings& settings, bool gusty, double time_s, std::vector<Event>& events);

  double side_force_N(RiderIndex i) const { return side_force_N_[i]; }
  double largest_side_force_N(RiderIndex i) const { return largest_side_force_N_[i]; }

 private:
  std::vector<double> side_force_N_, largest_side_force_N_;
  std::vector<double> quiet_until_s_;  ///< no further caution for a gust until then
};

}  // namespace leewheel
