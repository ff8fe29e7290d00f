#include "after/balance.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {
constexpr double least_factor = 0.05;  // of drag in company
}

Balance::Balance(const RideAir& air, const std::vector<Block>& blocks, const Layout& layout, double wind_an_hour_mps)
    : weight(blocks.size(), 1.0), air_(air), blocks_(blocks), layout_(layout), wind_an_hour_mps_(wind_an_hour_mps) {
  for (std::size_t k = 0; k < blocks.size(); ++k) {
    const Block& b = blocks[k];
    const double own = b.model_W * b.model_W + b.from_W * b.from_W + b.to_W * b.to_W;
    const double with_before = b.follows ? -blocks[k - 1].to_W * b.from_W : 0.0;
    share_.push_back(k > 0 ? with_before / sd_W_[k - 1] : 0.0);
    sd_W_.push_back(std::sqrt(std::max(own - share_[k] * share_[k], b.model_W * b.model_W)));
  }
}

WindChange Balance::wind(const Eigen::VectorXd& u) const {
  WindChange change;
  change.by_hour_mps.clear();
  for (const int k : layout_.wind) change.by_hour_mps.emplace_back(value(u, k), value(u, k + 1));
  return change;
}

double Balance::push_J(const BlockSecond& s, const Eigen::Vector2d& enu_mps) const {
  const RoadWind w = air_.wind(s.distance_m, enu_mps);
  return air_force_N(s.half_density, 1.0, s.speed_mps - w.along_mps, w.cross_mps) * s.way_m;
}

Balance::AirWork Balance::air_work(const Eigen::VectorXd& u, const Block& block, const WindChange& change,
                                   bool derive) const {
  constexpr double d = 1e-3;
  const auto& at = layout_.rider[block.rider];
  const double area = value(u, at[0]), company = value_or(u, at[3], 1.0);
  AirWork sum;
  for (const BlockSecond& s : block.seconds) {
    const double factor = std::max(least_factor, 1.0 - company * s.saved_share);
    const double met_m2 = area * s.area_m2 * factor + s.wheel_area_m2;
    const Eigen::Vector2d enu = s.forecast_enu_mps + change.at(s.time_s);
    const double unit_J = push_J(s, enu);
    sum.J += met_m2 * unit_J;
    if (!derive) continue;
    sum.by_area += s.area_m2 * factor * unit_J;
    if (factor > least_factor) sum.by_company -= area * s.area_m2 * s.saved_share * unit_J;
    sum.by_wind.x() += met_m2 * (push_J(s, enu + Eigen::Vector2d(d, 0.0)) - unit_J) / d;
    sum.by_wind.y() += met_m2 * (push_J(s, enu + Eigen::Vector2d(0.0, d)) - unit_J) / d;
  }
  return sum;
}

double Balance::rolling_J_per_kg(const Eigen::VectorXd& u, const Block& b) const {
  double sum = 0.0;
  for (std::size_t s = 0; s < surface_names.size(); ++s) sum += value_or(u, layout_.rolling[s], 1.0) * b.rolling_J_per_kg[s];
  return sum;
}

double Balance::surplus_W(const Eigen::VectorXd& u, const Block& b, const WindChange& change) const {
  const auto& at = layout_.rider[b.rider];
  const double taken_J = b.kinetic_J + b.bearings_J + air_work(u, b, change, false).J +
                         value(u, at[2]) * (b.kinetic_J_per_kg + b.rise_J_per_kg + rolling_J_per_kg(u, b));
  return (b.wheel_J / value(u, at[1]) - taken_J) / b.span_s;
}

Eigen::VectorXd Balance::misses(const Eigen::VectorXd& u) const {
  const WindChange change = wind(u);
  Eigen::VectorXd out(static_cast<Eigen::Index>(blocks_.size()));
  double before = 0.0;
  for (std::size_t k = 0; k < blocks_.size(); ++k)
    before = out[static_cast<Eigen::Index>(k)] = (surplus_W(u, blocks_[k], change) - share_[k] * before) / sd_W_[k];
  return out;
}

int Balance::operator()(const Eigen::VectorXd& u, Eigen::VectorXd& out) const {
  out.head(static_cast<Eigen::Index>(blocks_.size())) =
      misses(u).cwiseProduct(Eigen::Map<const Eigen::VectorXd>(weight.data(), static_cast<Eigen::Index>(weight.size())));
  const auto first = static_cast<Eigen::Index>(blocks_.size());
  out.tail(inputs()) = u;
  for (std::size_t h = 1; h < layout_.wind.size(); ++h)
    for (int axis = 0; axis < 2; ++axis)
      out[first + layout_.wind[h] + axis] =
          (value(u, layout_.wind[h] + axis) - value(u, layout_.wind[h - 1] + axis)) / wind_an_hour_mps_;
  return 0;
}

void Balance::derive_block(const Eigen::VectorXd& u, const Block& b, const WindChange& change, Eigen::VectorXd& row) const {
  const auto& at = layout_.rider[b.rider];
  const AirWork work = air_work(u, b, change, true);
  const double scale = value(u, at[1]), mass_kg = value(u, at[2]);
  row.setZero();
  row[at[0]] = -work.by_area;
  row[at[1]] = -b.wheel_J / (scale * scale);
  row[at[2]] = -(b.kinetic_J_per_kg + b.rise_J_per_kg + rolling_J_per_kg(u, b));
  if (at[3] >= 0) row[at[3]] = -work.by_company;
  for (std::size_t s = 0; s < surface_names.size(); ++s)
    if (layout_.rolling[s] >= 0) row[layout_.rolling[s]] = -mass_kg * b.rolling_J_per_kg[s];
  const double hour = std::clamp((b.from_s + 0.5 * b.span_s) / 3600.0, 0.0, static_cast<double>(layout_.wind.size() - 1));
  const auto before = static_cast<std::size_t>(hour);
  const double share = hour - static_cast<double>(before);
  for (int axis = 0; axis < 2; ++axis) {
    row[layout_.wind[before] + axis] -= (1.0 - share) * work.by_wind[axis];
    if (share > 0.0) row[layout_.wind[before + 1] + axis] -= share * work.by_wind[axis];
  }
  for (int k = 0; k < inputs(); ++k) row[k] *= layout_.numbers[static_cast<std::size_t>(k)].before_sd;
}

int Balance::df(const Eigen::VectorXd& u, Eigen::MatrixXd& jacobian) const {
  const WindChange change = wind(u);
  Eigen::VectorXd row(inputs()), before = Eigen::VectorXd::Zero(inputs());
  jacobian.setZero();
  for (std::size_t k = 0; k < blocks_.size(); ++k) {
    derive_block(u, blocks_[k], change, row);
    before = (row / blocks_[k].span_s - share_[k] * before) / sd_W_[k];
    jacobian.row(static_cast<Eigen::Index>(k)) = weight[k] * before.transpose();
  }
  const auto first = static_cast<Eigen::Index>(blocks_.size());
  for (int k = 0; k < inputs(); ++k) jacobian(first + k, k) = 1.0;
  for (std::size_t h = 1; h < layout_.wind.size(); ++h)
    for (int axis = 0; axis < 2; ++axis) {
      const int now = layout_.wind[h] + axis, last = layout_.wind[h - 1] + axis;
      jacobian(first + now, now) = layout_.numbers[static_cast<std::size_t>(now)].before_sd / wind_an_hour_mps_;
      jacobian(first + now, last) = -layout_.numbers[static_cast<std::size_t>(last)].before_sd / wind_an_hour_mps_;
    }
  return 0;
}

}  // namespace leewheel
