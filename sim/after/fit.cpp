#include "after/balance.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cassert>
#include <cmath>
#include <limits>
#include <unsupported/Eigen/NonLinearOptimization>

#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr double huber_sd = 2.0;  // a block that misses by more weighs less
constexpr double used_surface_share = 0.03;
constexpr double gust_share = 0.02;     // mean drag in gusts over drag in the mean wind: not modelled (assumed)
constexpr double one_wind_s = 4500.0;   // a shorter ride has one wind (assumed)
constexpr double held_sd_share = 1e-4;  // of the spread before, for a number that is held
constexpr std::size_t least_blocks = 8;

double wind_sd_mps(const Scenario& scenario, const FitPriors& priors) {
  double strongest = 0.0;
  for (const ForecastPoint& point : scenario.wind.forecast) strongest = std::max(strongest, point.speed_mps);
  if (strongest == 0.0) return priors.wind_unknown_mps;
  return std::max(
      {0.3, scenario.uncertainty.wind_speed_mps, strongest * rad_from_deg(scenario.uncertainty.wind_direction_deg)});
}

Layout layout_of(const RideAir& air, const std::vector<RiddenForFit>& riders, const std::vector<Block>& blocks,
                 const FitPriors& priors) {
  Layout layout;
  for (std::size_t r = 0; r < riders.size(); ++r) {
    const bool used = std::any_of(blocks.begin(), blocks.end(), [&](const Block& b) { return b.rider == r; });
    const bool company =
        std::any_of(blocks.begin(), blocks.end(), [&](const Block& b) { return b.rider == r && b.company; });
    layout.rider.push_back({-1, -1, -1, -1});
    if (!used) continue;
    layout.rider[r][0] = layout.add(Learnt::drag_area, r, 1.0, priors.drag_area_share);
    layout.rider[r][1] = layout.add(Learnt::power_scale, r, 1.0, priors.power_scale);
    layout.rider[r][2] = layout.add(Learnt::mass, r, riders[r].rider.total_mass_kg(), priors.mass_kg);
    if (company) layout.rider[r][3] = layout.add(Learnt::company, r, 1.0, priors.company);
  }
  std::array<double, surface_names.size()> share{};
  double all = 0.0, end_s = 0.0;
  for (const Block& b : blocks) {
    end_s = std::max(end_s, b.from_s + block_s);
    for (std::size_t s = 0; s < share.size(); ++s) share[s] += b.rolling_J_per_kg[s], all += b.rolling_J_per_kg[s];
  }
  for (std::size_t s = 0; s < share.size(); ++s)
    layout.rolling[s] = share[s] > used_surface_share * all ? layout.add(Learnt::rolling, s, 1.0, priors.rolling_share) : -1;
  const double sd_mps = wind_sd_mps(air.scenario(), priors);
  const std::size_t hours = end_s <= one_wind_s ? 1 : static_cast<std::size_t>(std::ceil(end_s / 3600.0)) + 1;
  for (std::size_t h = 0; h < hours; ++h) {
    const double sd = std::hypot(sd_mps, priors.wind_an_hour_mps * std::sqrt(static_cast<double>(h)));
    layout.wind.push_back(layout.add(Learnt::wind_east, h, 0.0, sd));
    layout.add(Learnt::wind_north, h, 0.0, sd);
  }
  return layout;
}

void solve(Balance& balance, Eigen::VectorXd& u) {
  for (int round = 0; round < 4; ++round) {
    Eigen::LevenbergMarquardt<Balance> solver(balance);
    solver.parameters.maxfev = 60;
    solver.minimize(u);
    const Eigen::VectorXd found = balance.misses(u);
    std::vector<double> misses(found.data(), found.data() + found.size());
    for (double& miss : misses) miss = std::abs(miss);
    std::vector<double> sorted = misses;
    std::sort(sorted.begin(), sorted.end());
    const double sd = std::max(1.0, sorted[sorted.size() / 2] / 0.6745);
    for (std::size_t k = 0; k < misses.size(); ++k)
      balance.weight[k] = std::sqrt(std::min(1.0, huber_sd * sd / std::max(1e-9, misses[k])));
  }
}

/// Sum of what the blocks say against what blocks near them say, by the residuals themselves, so that errors which two blocks share
/// count as they are: a place too far on is a height gained by the one and lost by the next (Newey & West 1987, Econometrica 55:703).
Eigen::MatrixXd scatter(const Balance& balance, const Eigen::VectorXd& residuals, const Eigen::MatrixXd& jacobian) {
  constexpr std::size_t lags = 2;
  Eigen::MatrixXd sum = Eigen::MatrixXd::Zero(balance.inputs(), balance.inputs());
  const std::vector<Block>& blocks = balance.blocks();
  for (std::size_t k = 0; k < blocks.size(); ++k)
    for (std::size_t back = 0; back <= std::min(lags, k); ++back) {
      const auto i = static_cast<Eigen::Index>(k), j = static_cast<Eigen::Index>(k - back);
      const double apart_s = blocks[k].from_s - blocks[k - back].from_s;
      if (blocks[k].rider != blocks[k - back].rider || apart_s > 1.5 * block_s * static_cast<double>(back)) continue;
      const double weight = residuals[i] * residuals[j] * (1.0 - static_cast<double>(back) / (lags + 1.0));
      const Eigen::MatrixXd pair = weight * jacobian.row(i).transpose() * jacobian.row(j);
      sum += back == 0 ? pair : Eigen::MatrixXd(pair + pair.transpose());
    }
  return sum * static_cast<double>(blocks.size()) / std::max(1.0, static_cast<double>(blocks.size()) - balance.inputs());
}

/// The spread that remains, widened by the misfit where the balance misses more than expected, and by the gusts.
void take_spread(const Balance& balance, const Eigen::VectorXd& u, Fit& fit) {
  Eigen::VectorXd residuals(balance.values());
  Eigen::MatrixXd jacobian(balance.values(), balance.inputs());
  balance(u, residuals);
  balance.df(u, jacobian);
  const auto n = static_cast<Eigen::Index>(balance.blocks().size());
  const double freedom = std::max(1.0, static_cast<double>(n - balance.inputs()));
  const double expected = boost::math::quantile(boost::math::chi_squared(freedom), 0.5);
  fit.misfit = std::sqrt(residuals.head(n).squaredNorm() / expected);
  const Eigen::MatrixXd data = jacobian.topRows(n), belief = jacobian.bottomRows(balance.inputs());
  const Eigen::MatrixXd before = belief.transpose() * belief;
  const Eigen::MatrixXd inverse =
      (data.transpose() * data + before).ldlt().solve(Eigen::MatrixXd::Identity(balance.inputs(), balance.inputs()));
  fit.covariance = inverse * (scatter(balance, residuals, jacobian) + before) * inverse;
  for (int a = 0; a < balance.inputs(); ++a)
    for (int b = 0; b < balance.inputs(); ++b)
      fit.covariance(a, b) *= balance.layout().numbers[static_cast<std::size_t>(a)].before_sd *
                              balance.layout().numbers[static_cast<std::size_t>(b)].before_sd;
  for (int k = 0; k < balance.inputs(); ++k)
    if (fit.numbers[static_cast<std::size_t>(k)].what == Learnt::drag_area) fit.covariance(k, k) += gust_share * gust_share;
}

}  // namespace

namespace {

/// @param held  by number: stays as before; empty: none does
Fit fitted(const RideAir& air, const std::vector<RiddenForFit>& riders, const FitPriors& priors,
           const std::vector<bool>& held) {
  Fit fit;
  std::vector<Block> blocks;
  fit.alone_s.assign(riders.size(), 0.0), fit.used_s.assign(riders.size(), 0.0);
  for (std::size_t r = 0; r < riders.size(); ++r)
    for (Block& block : blocks_of(air, riders[r], r)) {
      fit.used_s[r] += block.span_s;
      if (block.alone) fit.alone_s[r] += block.span_s;
      blocks.push_back(std::move(block));
    }
  fit.blocks = blocks.size();
  if (blocks.size() < least_blocks) return fit;
  Layout layout = layout_of(air, riders, blocks, priors);
  for (std::size_t k = 0; k < held.size(); ++k)
    if (held[k]) layout.numbers[k].before_sd *= held_sd_share;
  Balance balance(air, blocks, layout, priors.wind_an_hour_mps);
  Eigen::VectorXd u = Eigen::VectorXd::Zero(balance.inputs());
  solve(balance, u);
  fit.numbers = layout.numbers;
  take_spread(balance, u, fit);
  for (int k = 0; k < balance.inputs(); ++k) {
    FittedNumber& number = fit.numbers[static_cast<std::size_t>(k)];
    number.after = balance.value(u, k);
    number.after_sd = std::sqrt(fit.covariance(k, k));
  }
  return fit;
}

bool asked_for(const Fit& fit, std::size_t k) {
  const FittedNumber& n = fit.numbers[k];
  return std::abs(n.after - n.before) > asked_for_sd * n.after_sd;
}

}  // namespace

Fit fit_numbers(const RideAir& air, const std::vector<RiddenForFit>& riders, const FitPriors& priors) {
  return fitted(air, riders, priors, {});
}

Fit fit_changes(const RideAir& air, const std::vector<RiddenForFit>& riders, const Fit& all, const FitPriors& priors) {
  Fit fit = all;
  std::vector<bool> held(all.numbers.size(), false);
  for (int round = 0; round < 4 && !held.empty(); ++round) {
    const std::vector<bool> before = held;
    for (std::size_t k = 0; k < held.size(); ++k) {
      if (fit.numbers[k].what == Learnt::wind_north || fit.numbers[k].what == Learnt::power_scale) continue;
      const bool wind = fit.numbers[k].what == Learnt::wind_east;
      const bool keep = !held[k] && (asked_for(fit, k) || (wind && asked_for(fit, k + 1)));
      held[k] = !keep;
      if (wind) held[k + 1] = !keep;
    }
    if (held == before) break;
    fit = fitted(air, riders, priors, held);
  }
  return fit;
}

void widen_by_mass(const RideAir& air, std::vector<RiddenForFit> riders, const FitPriors& priors, double mass_sd_kg,
                   Fit& fit) {
  for (RiddenForFit& one : riders) one.rider.body_mass_kg += mass_sd_kg;
  const Fit heavier = fit_numbers(air, riders, priors);
  assert(heavier.numbers.size() == fit.numbers.size());
  Eigen::VectorXd moved(static_cast<Eigen::Index>(fit.numbers.size()));
  for (std::size_t k = 0; k < fit.numbers.size(); ++k)
    moved[static_cast<Eigen::Index>(k)] = heavier.numbers[k].after - fit.numbers[k].after;
  fit.covariance += moved * moved.transpose();
  for (std::size_t k = 0; k < fit.numbers.size(); ++k) {
    FittedNumber& n = fit.numbers[k];
    n.after_sd = std::sqrt(fit.covariance(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(k)));
    if (n.what == Learnt::mass) n.before_sd = mass_sd_kg;
  }
}

Fit nothing_learned(Fit fit) {
  fit.covariance.setZero();
  for (std::size_t k = 0; k < fit.numbers.size(); ++k) {
    FittedNumber& n = fit.numbers[k];
    n.after = n.before, n.after_sd = n.before_sd;
    fit.covariance(static_cast<Eigen::Index>(k), static_cast<Eigen::Index>(k)) = n.before_sd * n.before_sd;
  }
  return fit;
}

const FittedNumber* Fit::find(Learnt what, std::size_t of) const {
  for (const FittedNumber& number : numbers)
    if (number.what == what && number.of == of) return &number;
  return nullptr;
}

double Fit::value(Learnt what, std::size_t of, double otherwise) const {
  const FittedNumber* const number = find(what, of);
  return number ? number->after : otherwise;
}

double Fit::correlation(std::size_t a, std::size_t b) const {
  const auto i = static_cast<Eigen::Index>(a), j = static_cast<Eigen::Index>(b);
  return covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
}

WindChange Fit::wind() const {
  WindChange change;
  change.by_hour_mps.clear();
  for (std::size_t h = 0; find(Learnt::wind_east, h); ++h)
    change.by_hour_mps.emplace_back(value(Learnt::wind_east, h, 0.0), value(Learnt::wind_north, h, 0.0));
  if (change.by_hour_mps.empty()) change.by_hour_mps.emplace_back(0.0, 0.0);
  return change;
}

}  // namespace leewheel
