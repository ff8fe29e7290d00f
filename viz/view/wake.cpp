#include "viz/view/wake.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::view {
namespace {

constexpr double kernels_a_picture = 300000;  // pairs of riders to look at while playing: a few milliseconds

/// Turbulence a rider's wake meets, by the law that was ridden.
double turbulence(const Replay& replay, const RiderView& r) {
  const double along_mps = r.speed_mps - r.wind_along_mps, cross2 = r.wind_cross_mps * r.wind_cross_mps;
  return wake_turbulence(wake_base(replay.head().wake_law), replay.turbulence_intensity(r.distance_m),
                         r.wind_along_mps * r.wind_along_mps + cross2, along_mps * along_mps + cross2);
}

}  // namespace

void WakeField::gather(const View& view, const Replay& replay) {
  x_m_.clear(), y_m_.clear(), area_m2_.clear(), along_mps_.clear(), cross_mps_.clear(), turbulence_.clear();
  for (const std::uint32_t i : view.order) {
    const RiderView& r = view.riders[i];
    if (r.finished) continue;
    x_m_.push_back(r.distance_m), y_m_.push_back(r.lateral_m), area_m2_.push_back(r.drag_area_m2);
    along_mps_.push_back(r.speed_mps - r.wind_along_mps), cross_mps_.push_back(r.wind_cross_mps);
    turbulence_.push_back(turbulence(replay, r));
  }
}

double WakeField::share_at(const WakeLaw& law, double distance_m, double lateral_m) {
  const auto first_behind =
      static_cast<std::size_t>(std::ranges::partition_point(x_m_, [&](double x) { return x >= distance_m; }) - x_m_.begin());
  const auto beyond = [&](double limit_m) {  // riders at or ahead of that place
    return static_cast<std::size_t>(std::ranges::partition_point(x_m_, [&](double x) { return x >= limit_m; }) -
                                    x_m_.begin());
  };
  const std::size_t from = beyond(distance_m + reach_.behind_m), to = beyond(distance_m - reach_.ahead_m);
  // The further rider is as the nearest one: same speed, wind and size.
  const std::size_t like = first_behind > 0 ? first_behind - 1 : 0;
  const auto fill = [&](std::vector<double>& into, const std::vector<double>& all, double own) {
    into.assign(all.begin() + static_cast<std::ptrdiff_t>(from), all.begin() + static_cast<std::ptrdiff_t>(first_behind));
    into.push_back(own);
    into.insert(into.end(), all.begin() + static_cast<std::ptrdiff_t>(first_behind),
                all.begin() + static_cast<std::ptrdiff_t>(to));
  };
  fill(near_x_, x_m_, distance_m), fill(near_y_, y_m_, lateral_m), fill(near_area_, area_m2_, area_m2_[like]);
  fill(near_along_, along_mps_, along_mps_[like]), fill(near_cross_, cross_mps_, cross_mps_[like]);
  fill(near_turbulence_, turbulence_, turbulence_[like]);
  factor_.resize(near_x_.size()), side_.resize(near_x_.size());
  wake_factors(law, {near_x_, near_y_, near_area_, near_along_, near_cross_, near_turbulence_}, {factor_, side_});
  return factor_[first_behind - from];
}

std::size_t WakeField::affordable_columns() const {
  const double window_m = reach_.ahead_m + reach_.behind_m;
  std::size_t crowd = 1, low = 0;  // the most riders within one window
  for (std::size_t high = 0; high < x_m_.size(); ++high) {
    while (x_m_[low] - x_m_[high] > window_m) ++low;
    crowd = std::max(crowd, high - low + 2);
  }
  const double a_column = static_cast<double>(grid_.rows) * static_cast<double>(crowd) * static_cast<double>(crowd);
  return std::max<std::size_t>(1, static_cast<std::size_t>(kernels_a_picture / a_column));
}

void WakeField::renew_column(const WakeLaw& law, std::size_t column, double reference_m) {
  const double distance_m = reference_m + grid_.first_along_m + static_cast<double>(column) * grid_.along_step_m;
  for (std::size_t row = 0; row < grid_.rows; ++row) {
    const double lateral_m = grid_.first_across_m + static_cast<double>(row) * grid_.across_step_m;
    values_[row * grid_.columns + column] = x_m_.empty() ? 1.0f : static_cast<float>(share_at(law, distance_m, lateral_m));
  }
}

void WakeField::update(const View& view, const Replay& replay, const WakeGrid& grid, double reference_m,
                       std::size_t columns_now) {
  if (grid.columns == 0 || grid.rows == 0) return;
  if (!(grid == grid_)) {
    grid_ = grid;
    values_.assign(grid.columns * grid.rows, 1.0f);
    next_column_ = 0;
    columns_now = grid.columns;
  }
  gather(view, replay);
  const WakeLaw& law = replay.head().wake_law;
  reach_ = wake_reach_m(law, {x_m_, y_m_, area_m2_, along_mps_, cross_mps_, turbulence_});
  if (columns_now < grid.columns) columns_now = std::min(columns_now, affordable_columns());
  for (std::size_t k = 0; k < std::min(columns_now, grid.columns); ++k) {
    renew_column(law, next_column_, reference_m);
    next_column_ = (next_column_ + 1) % grid.columns;
  }
}

}  // namespace leewheel::view
