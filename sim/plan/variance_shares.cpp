#include "plan/variance_shares.hpp"

#include <Eigen/QR>
#include <cmath>

namespace leewheel {

namespace {

/// Standardised columns of the regression: the shared inputs, then every rider's own.
Eigen::MatrixXd regressors(const std::vector<Draw>& draws) {
  const std::size_t riders = draws.front().own.size();
  Eigen::MatrixXd x(static_cast<Eigen::Index>(draws.size()), static_cast<Eigen::Index>(shared_inputs + riders * own_inputs));
  for (std::size_t n = 0; n < draws.size(); ++n) {
    const auto row = static_cast<Eigen::Index>(n);
    Eigen::Index column = 0;
    for (const double z : draws[n].shared) x(row, column++) = z;
    for (const auto& own : draws[n].own)
      for (const double z : own) x(row, column++) = z;
  }
  for (auto column : x.colwise()) {
    column.array() -= column.mean();
    const double deviation = std::sqrt(column.squaredNorm() / static_cast<double>(draws.size()));
    if (deviation > 0.0) column /= deviation;
  }
  return x;
}

/// Which share one column belongs to.
std::size_t share_index(std::size_t column, std::size_t rider) {
  if (column < shared_inputs) return column;
  const std::size_t whose = (column - shared_inputs) / own_inputs,
                    input = shared_inputs + (column - shared_inputs) % own_inputs;
  if (whose == rider) return input;
  return input == static_cast<std::size_t>(Input::critical_power) ? all_inputs : all_inputs + 1;
}

}  // namespace

std::size_t least_runs_for_shares(std::size_t riders) { return 10 * (shared_inputs + riders * own_inputs); }

VarianceShares variance_shares(const std::vector<Draw>& draws, const std::vector<double>& times_s, std::size_t rider) {
  const Eigen::MatrixXd x = regressors(draws);
  Eigen::VectorXd y = Eigen::Map<const Eigen::VectorXd>(times_s.data(), static_cast<Eigen::Index>(times_s.size()));
  y.array() -= y.mean();
  const double runs = static_cast<double>(times_s.size()), freedom = runs - 1.0 - static_cast<double>(x.cols());
  const double variance = y.squaredNorm() / runs;
  VarianceShares result;
  result.share.assign(shown_inputs, 0.0);
  result.rest = 1.0;
  if (!(variance > 0.0)) return result;
  const Eigen::VectorXd slope = x.colPivHouseholderQr().solve(y);
  const double noise = (y - x * slope).squaredNorm() / freedom;
  for (Eigen::Index k = 0; k < slope.size(); ++k) {
    const double share = (slope[k] * slope[k] - noise / runs) / variance;
    result.share[share_index(static_cast<std::size_t>(k), rider)] += share;
    result.rest -= share;
  }
  result.explained = 1.0 - noise / (y.squaredNorm() / (runs - 1.0));
  return result;
}

}  // namespace leewheel
