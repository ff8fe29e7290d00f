#include "after/pace_profile.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {

constexpr double freewheel_W = 10.0, no_limit_mps = 60.0;
constexpr double moving_mps = 1.0;
constexpr double near_landmark_m = 100.0;  // (assumed)
constexpr std::size_t bridged_cells = 5;   // so far from one with power, power is taken from its neighbours (assumed)
constexpr double braking_way_m = 120.0;    // before a stand, the brakes belong to the stand (assumed)

/// Cells that nobody measured take what lies between their neighbours.
void fill_gaps(std::vector<double>& values, double otherwise) {
  std::size_t last = values.size();
  for (std::size_t k = 0; k < values.size(); ++k) {
    if (std::isnan(values[k])) continue;
    const double from = last < values.size() ? values[last] : values[k];
    const std::size_t first = last < values.size() ? last + 1 : 0;
    for (std::size_t j = first; j < k; ++j)
      values[j] = std::lerp(from, values[k], static_cast<double>(j + 1 - first) / static_cast<double>(k + 1 - first));
    last = k;
  }
  for (std::size_t j = last < values.size() ? last + 1 : 0; j < values.size(); ++j)
    values[j] = last < values.size() ? values[last] : otherwise;
}

/// Cells with a measured one within a few on either side.
std::vector<bool> close_to_measured(const std::vector<double>& values) {
  std::vector<bool> close(values.size(), false);
  for (std::size_t k = 0; k < values.size(); ++k)
    if (!std::isnan(values[k]))
      for (std::size_t j = k - std::min(k, bridged_cells); j <= std::min(k + bridged_cells, values.size() - 1); ++j)
        close[j] = true;
  return close;
}

struct Cell {
  double energy_J = 0.0, time_s = 0.0, factor_s = 0.0, moving_s = 0.0, fastest_mps = 0.0;
  bool freewheeled = false;
};

/// When every edge of cells was reached, in seconds from the first value; NaN where it never was.
std::vector<double> arrivals_s(std::span<const double> distance_m, double length_m, std::size_t cells) {
  std::vector<double> arrival_s(cells + 1, not_recorded);
  std::size_t k = 0;
  for (std::size_t c = 0; c <= cells; ++c) {
    const double at_m = std::min(static_cast<double>(c) * cell_length_m, length_m);
    if (at_m < distance_m.front()) continue;
    while (k + 1 < distance_m.size() && distance_m[k + 1] < at_m) ++k;
    if (k + 1 >= distance_m.size()) break;
    const double step_m = distance_m[k + 1] - distance_m[k];
    arrival_s[c] = static_cast<double>(k) + (step_m > 0.0 ? std::clamp((at_m - distance_m[k]) / step_m, 0.0, 1.0) : 0.0);
  }
  return arrival_s;
}

}  // namespace

PaceProfile profile_of(const RiddenSeconds& ridden, double length_m) {
  const auto cells = static_cast<std::size_t>(std::ceil(length_m / cell_length_m));
  std::vector<Cell> all(cells);
  PaceProfile out;
  const std::size_t n = ridden.distance_m.size();
  const auto cell_at = [&](double m) {
    return std::min(static_cast<std::size_t>(std::max(0.0, m) / cell_length_m), cells - 1);
  };
  for (std::size_t k = 0; k < n; ++k) {
    const double v = ridden.speed_mps[k];
    if (v < moving_mps) continue;
    Cell& cell = all[cell_at(ridden.distance_m[k])];
    cell.moving_s += 1.0, cell.factor_s += ridden.drag_factor[k];
    cell.fastest_mps = std::max(cell.fastest_mps, v);
    if (std::isnan(ridden.power_W[k])) continue;
    cell.energy_J += ridden.power_W[k], cell.time_s += 1.0;
    cell.freewheeled = cell.freewheeled || ridden.power_W[k] < freewheel_W;
  }
  for (const Cell& cell : all) {
    out.power_W.push_back(cell.time_s > 0.0 ? cell.energy_J / cell.time_s : not_recorded);
    out.drag_factor.push_back(cell.moving_s > 0.0 ? cell.factor_s / cell.moving_s : not_recorded);
    out.limit_mps.push_back(cell.freewheeled ? cell.fastest_mps : no_limit_mps);
  }
  out.measured = close_to_measured(out.power_W);
  fill_gaps(out.power_W, 0.0);
  fill_gaps(out.drag_factor, 1.0);
  out.stands = ridden.stands;
  for (const Stand& stand : out.stands)
    for (std::size_t c = cell_at(stand.at_m - braking_way_m); c <= cell_at(stand.at_m); ++c) out.limit_mps[c] = no_limit_mps;
  out.start_m = ridden.distance_m.front(), out.end_m = ridden.distance_m.back();
  out.start_mps = std::max(1.0, ridden.speed_mps.front());
  out.arrival_s = arrivals_s(ridden.distance_m, length_m, cells);
  return out;
}

double take_effort_of_plan(const PaceProfile& plan, double from_m, double to_m, PaceProfile& profile) {
  double measured = 0.0, all = 0.0;
  const auto first = static_cast<std::size_t>(from_m / cell_length_m);
  if (first < profile.measured.size() && !profile.measured[first]) profile.start_mps = plan.start_mps;
  for (std::size_t c = 0; c < profile.measured.size(); ++c) {
    const double at_m = cell_length_m * static_cast<double>(c);
    if (at_m >= from_m && at_m < to_m) ++all, measured += profile.measured[c];
    if (!profile.measured[c]) profile.power_W[c] = plan.power_W[c], profile.limit_mps[c] = plan.limit_mps[c];
  }
  return all > 0.0 ? measured / all : 0.0;
}

void stand_before_landmarks(const Road& road, PaceProfile& profile) {
  for (Stand& stand : profile.stands)
    for (const Landmark& mark : road.landmarks()) {
      const double past_m = stand.at_m - mark.distance_m;
      if (past_m < 0.0 || past_m > near_landmark_m) continue;
      for (std::size_t edge = 0; edge < profile.arrival_s.size(); ++edge) {
        const double at_m = cell_length_m * static_cast<double>(edge);
        if (at_m >= mark.distance_m && at_m <= stand.at_m && profile.arrival_s[edge] <= stand.from_s + 1.0)
          profile.arrival_s[edge] += stand.stood_s();
      }
      stand.at_m = std::max(0.0, mark.distance_m - 1.0);
      break;
    }
}

}  // namespace leewheel
