#include "viz/view/wake.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::view {
namespace {

constexpr double kernels_a_picture = 300000;  // pairs of riders to look at while playing: a few milliseconds

std::vector<BunchRider> on_the_road(const View& view, const Replay& replay) {
  std::vector<BunchRider> riders;
  for (const std::uint32_t i : view.order)
    if (const RiderView& r = view.riders[i]; !r.finished)
      riders.push_back(in_bunch({r.distance_m, r.lateral_m, r.speed_mps, r.wind_along_mps, r.wind_cross_mps, r.drag_area_m2,
                                 r.drag_factor, r.air_W, r.alone_W},
                                replay.head().riders[i], wake_base(replay.head().wake_law),
                                replay.turbulence_intensity(r.distance_m)));
  return riders;
}

}  // namespace

std::size_t WakeField::affordable_columns() const {
  const std::vector<double>& x_m = further_.distances_m();
  const double window_m = further_.reach().ahead_m + further_.reach().behind_m;
  std::size_t crowd = 1, low = 0;  // the most riders within one window
  for (std::size_t high = 0; high < x_m.size(); ++high) {
    while (x_m[low] - x_m[high] > window_m) ++low;
    crowd = std::max(crowd, high - low + 2);
  }
  const double a_column = static_cast<double>(grid_.rows) * static_cast<double>(crowd) * static_cast<double>(crowd);
  return std::max<std::size_t>(1, static_cast<std::size_t>(kernels_a_picture / a_column));
}

void WakeField::renew_column(std::size_t column, double reference_m) {
  const double distance_m = reference_m + grid_.first_along_m + static_cast<double>(column) * grid_.along_step_m;
  for (std::size_t row = 0; row < grid_.rows; ++row) {
    const double lateral_m = grid_.first_across_m + static_cast<double>(row) * grid_.across_step_m;
    const double share = further_.drag_share(distance_m, lateral_m);
    shares_[row * grid_.columns + column] = static_cast<float>(share);
    saved_W_[row * grid_.columns + column] = static_cast<float>(further_.saved_W(distance_m, share));
  }
}

void WakeField::update(const View& view, const Replay& replay, const WakeGrid& grid, double reference_m,
                       std::size_t columns_now) {
  if (grid.columns == 0 || grid.rows == 0) return;
  if (!(grid == grid_)) {
    grid_ = grid;
    shares_.assign(grid.columns * grid.rows, 1.0f);
    saved_W_.assign(grid.columns * grid.rows, 0.0f);
    next_column_ = 0;
    columns_now = grid.columns;
  }
  further_.join(replay.head().wake_law, on_the_road(view, replay));
  if (columns_now < grid.columns) columns_now = std::min(columns_now, affordable_columns());
  for (std::size_t k = 0; k < std::min(columns_now, grid.columns); ++k) {
    renew_column(next_column_, reference_m);
    next_column_ = (next_column_ + 1) % grid.columns;
  }
}

}  // namespace leewheel::view
