#pragma once
/// The fit of the wake law's coefficients to the rows marked as fitted. Deterministic: same rows, same bytes.

#include <string>
#include <vector>

#include "evidence/row.hpp"

namespace leewheel::evidence {

/// One coefficient beside the shipped one.
struct FittedCoefficient {
  const NumberField<SuperposedWakes>* field = nullptr;
  double fitted = 0.0, shipped = 0.0;
  double rounding = 0.0;  ///< the shipped value may differ from the fit by this; 0 = held, not fitted
  const char* held_because = "";
  bool held() const { return rounding == 0.0; }
  bool agrees() const;
};

struct Fit {
  std::vector<FittedCoefficient> coefficients;
  std::size_t values = 0;                        ///< published numbers in the fit
  double cost_fitted = 0.0, cost_shipped = 0.0;  ///< half the weighted sum of squares, points squared
  int evaluations = 0;
  bool converged = false;
  std::vector<Spread> with_fitted, with_shipped;
  bool shipped_agree() const;
};

/// Levenberg-Marquardt on the logarithms of the coefficients, from the shipped values.
Fit fit_wake(const std::vector<Group>& groups);

std::string fit_text(const Fit& fit);
std::string fit_json(const Fit& fit);

}  // namespace leewheel::evidence
