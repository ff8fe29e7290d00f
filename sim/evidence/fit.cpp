#include "evidence/fit.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <unsupported/Eigen/NonLinearOptimization>
#include <unsupported/Eigen/NumericalDiff>

#include "evidence/report.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"

namespace leewheel::evidence {
namespace {

/// What is fitted, and how the shipped value was rounded: it may lie this far from the fit.
struct Free {
  double SuperposedWakes::*member;
  double rounding;
};
constexpr Free free_coefficients[] = {
    {&SuperposedWakes::obstruction, 0.02}, {&SuperposedWakes::length_m, 0.5},  {&SuperposedWakes::half_width_m, 0.01},
    {&SuperposedWakes::line_depth, 0.002}, {&SuperposedWakes::closing, 0.005}, {&SuperposedWakes::push, 0.001},
    {&SuperposedWakes::push_reach_m, 0.2},
};

const char* held_because(double SuperposedWakes::*member) {
  if (member == &SuperposedWakes::crowd_depth) return "limit: with line_depth it must leave some wind even deep inside";
  if (member == &SuperposedWakes::wake_scale) return "the named uncertainty, 1 by definition";
  if (member == &SuperposedWakes::calm_turbulence) return "assumed; outdoors only";
  return "chosen";
}

/// Weighted residuals of the fitted rows as a function of the logarithms of the coefficients.
struct Residuals {
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  std::vector<Group> groups;  ///< the fitted rows alone
  std::size_t count = 0;

  explicit Residuals(const std::vector<Group>& all) {
    for (const Group& group : all) {
      Group some{group.name, group.title, {}, {}, {}, {}};
      for (const Row& row : group.rows)
        if (row.role == Role::fitted && row.set_aside.empty()) some.rows.push_back(row);
      for (const Row& row : some.rows) count += row.published.size();
      if (!some.rows.empty()) groups.push_back(std::move(some));
    }
  }
  int inputs() const { return static_cast<int>(std::size(free_coefficients)); }
  int values() const { return static_cast<int>(count); }

  static SuperposedWakes settings_of(const Eigen::VectorXd& logs) {
    SuperposedWakes settings;
    for (int k = 0; k < logs.size(); ++k) settings.*free_coefficients[k].member = std::exp(logs[k]);
    return settings;
  }
  int operator()(const Eigen::VectorXd& logs, Eigen::VectorXd& into) const {
    int at = 0;
    for (const JudgedGroup& group : judge(groups, settings_of(logs)))
      for (const Line& line : group.lines) into[at++] = line.row->weight * line.residual;
    return 0;
  }
};

double half_squares(const Residuals& residuals, const Eigen::VectorXd& logs) {
  Eigen::VectorXd values(residuals.values());
  residuals(logs, values);
  return 0.5 * values.squaredNorm();
}

std::vector<Spread> wake_spreads(const std::vector<Group>& groups, const SuperposedWakes& settings) {
  for (const JudgedGroup& group : judge(groups, settings))
    if (group.group->name == "drafting") return spreads(group);
  return {};
}

}  // namespace

bool FittedCoefficient::agrees() const { return held() || std::abs(shipped - fitted) <= rounding; }

bool Fit::shipped_agree() const {
  return std::all_of(coefficients.begin(), coefficients.end(), [](const FittedCoefficient& c) { return c.agrees(); });
}

Fit fit_wake(const std::vector<Group>& groups) {
  const Residuals residuals(groups);
  Eigen::VectorXd shipped_logs(residuals.inputs());
  for (int k = 0; k < residuals.inputs(); ++k) shipped_logs[k] = std::log(SuperposedWakes{}.*free_coefficients[k].member);

  Eigen::VectorXd logs = shipped_logs;
  Eigen::NumericalDiff<Residuals, Eigen::Central> with_slopes(residuals, 1e-10);
  Eigen::LevenbergMarquardt<Eigen::NumericalDiff<Residuals, Eigen::Central>> method(with_slopes);
  method.parameters.ftol = method.parameters.xtol = 1e-10;
  method.parameters.maxfev = 2000;
  const auto status = method.minimize(logs);

  Fit fit;
  fit.values = residuals.count;
  fit.converged = status == Eigen::LevenbergMarquardtSpace::RelativeReductionTooSmall ||
                  status == Eigen::LevenbergMarquardtSpace::RelativeErrorTooSmall ||
                  status == Eigen::LevenbergMarquardtSpace::RelativeErrorAndReductionTooSmall ||
                  status == Eigen::LevenbergMarquardtSpace::CosinusTooSmall;
  fit.evaluations = static_cast<int>(method.nfev);
  fit.cost_fitted = half_squares(residuals, logs);
  fit.cost_shipped = half_squares(residuals, shipped_logs);
  const SuperposedWakes fitted = Residuals::settings_of(logs), shipped;
  for (const NumberField<SuperposedWakes>& field : SuperposedWakes::fields()) {
    FittedCoefficient c{&field, fitted.*field.member, shipped.*field.member, 0.0, ""};
    for (const Free& one : free_coefficients)
      if (one.member == field.member) c.rounding = one.rounding;
    if (c.held()) c.held_because = held_because(field.member);
    fit.coefficients.push_back(c);
  }
  fit.with_fitted = wake_spreads(groups, fitted);
  fit.with_shipped = wake_spreads(groups, shipped);
  return fit;
}

std::string fit_text(const Fit& fit) {
  std::string out = fmt::format(
      "Fit of the wake model to {} published numbers: Levenberg-Marquardt, {} evaluations, {}.\n"
      "Half the weighted sum of squares (points squared): fit {:.3f}, shipped {:.3f}.\n\n",
      fit.values, fit.evaluations, fit.converged ? "converged" : "NOT converged", fit.cost_fitted, fit.cost_shipped);
  out += fmt::format("{:<24}{:>10}{:>10}{:>10}  {}\n", "coefficient", "fit", "shipped", "rounding", "");
  for (const FittedCoefficient& c : fit.coefficients)
    out += c.held()
               ? fmt::format("{:<24}{:>10}{:>10.4g}{:>10}  held: {}\n", c.field->name, "-", c.shipped, "-", c.held_because)
               : fmt::format("{:<24}{:>10.5g}{:>10.4g}{:>10.3g}  {}\n", c.field->name, c.fitted, c.shipped, c.rounding,
                             c.agrees() ? "agrees" : "DIFFERS");
  out += fmt::format("\n{:<46}{:>10}{:>10}\n", "rms in points", "fit", "shipped");
  for (std::size_t i = 0; i < fit.with_fitted.size(); ++i)
    out +=
        fmt::format("{:<46}{:>10.2f}{:>10.2f}\n", fit.with_fitted[i].title, fit.with_fitted[i].rms, fit.with_shipped[i].rms);
  return out;
}

std::string fit_json(const Fit& fit) {
  nlohmann::ordered_json root{{"layout_version", json_layout::evidence_fit},
                              {"values", fit.values},
                              {"converged", fit.converged},
                              {"evaluations", fit.evaluations},
                              {"cost_fitted", fit.cost_fitted},
                              {"cost_shipped", fit.cost_shipped},
                              {"shipped_agree", fit.shipped_agree()}};
  for (const FittedCoefficient& c : fit.coefficients)
    root["coefficients"].push_back({{"name", c.field->name},
                                    {"shipped", c.shipped},
                                    {"fitted", c.held() ? nlohmann::ordered_json() : nlohmann::ordered_json(c.fitted)},
                                    {"rounding", c.rounding},
                                    {"held", c.held_because},
                                    {"agrees", c.agrees()}});
  return json_text(root) + "\n";
}

}  // namespace leewheel::evidence
