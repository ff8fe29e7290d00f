#pragma once
/// The wake by the law that was ridden: the drag a further rider would have at each point of a grid, and the watts saved.

#include <vector>

#include "leewheel/further_rider.hpp"
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
  float drag_share(std::size_t column, std::size_t row) const { return shares_[row * grid_.columns + column]; }
  /// Watts a further rider would save there, at the cranks.
  float saved_W(std::size_t column, std::size_t row) const { return saved_W_[row * grid_.columns + column]; }
  /// The best place close behind that rider, by the riders of the last update; saves 0 W where nobody rides.
  WorthBehind worth_behind(const RiderView& rider) {
    return leewheel::worth_behind(further_, rider.distance_m, rider.lateral_m);
  }

 private:
  std::size_t affordable_columns() const;
  void renew_column(std::size_t column, double reference_m);

  WakeGrid grid_;
  std::vector<float> shares_, saved_W_;
  std::size_t next_column_ = 0;
  FurtherRider further_;
};

}  // namespace leewheel::view
