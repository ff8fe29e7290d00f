#pragma once
/// The wake by the law that was ridden: the drag a further rider would have at each point of a grid.

#include <vector>

#include "leewheel/wake.hpp"
#include "viz/view/view.hpp"

namespace leewheel::view {

/// Grid of nodes; node (column, row) lies at first_along_m + column * along_step_m, first_across_m + row * across_step_m.
struct WakeGrid {
  double first_along_m = 0;   ///< front wheel of the further rider, from the reference distance
  double first_across_m = 0;  ///< from the middle of the road, > 0 left
  double along_step_m = 0.5, across_step_m = 0.2;
  std::size_t columns = 0, rows = 0;
  bool operator==(const WakeGrid&) const = default;
};

/// Keeps the field and renews a few columns at a time, so that drawing stays smooth with many riders.
class WakeField {
 public:
  /// Renews up to `columns_now` columns around `reference_m` on the road: fewer with many riders, where each costs more, and
  /// all of them when the grid changed or `columns_now` covers them.
  void update(const View& view, const Replay& replay, const WakeGrid& grid, double reference_m, std::size_t columns_now);
  const WakeGrid& grid() const { return grid_; }
  /// Drag of a further rider over its drag alone, by row, then column.
  float drag_share(std::size_t column, std::size_t row) const { return values_[row * grid_.columns + column]; }

 private:
  void gather(const View& view, const Replay& replay);
  std::size_t affordable_columns() const;
  void renew_column(const WakeLaw& law, std::size_t column, double reference_m);
  double share_at(const WakeLaw& law, double distance_m, double lateral_m);

  WakeGrid grid_;
  std::vector<float> values_;
  std::size_t next_column_ = 0;
  WakeReach reach_{};
  // riders on the road, from the front
  std::vector<double> x_m_, y_m_, area_m2_, along_mps_, cross_mps_, turbulence_;
  // the few around one point, the further rider among them
  std::vector<double> near_x_, near_y_, near_area_, near_along_, near_cross_, near_turbulence_, factor_, side_;
};

}  // namespace leewheel::view
