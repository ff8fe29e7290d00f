#include "leewheel/smoothing.hpp"

#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cassert>
#include <cmath>

namespace leewheel {

namespace {

using Matrix = Eigen::SparseMatrix<double>;
using Triplets = std::vector<Eigen::Triplet<double>>;

/// One recorded point on the grid: a share of the cell's two ends.
struct Observation {
  int cell;
  double share;     ///< of the farther end
  double weight_m;  ///< length of road it stands for, so that the result does not hang on how densely a device recorded
};

std::vector<Observation> place_on_grid(const std::vector<double>& distance_m, double spacing_m, int nodes,
                                       double longest_m) {
  std::vector<Observation> observations;
  const std::size_t n = distance_m.size();
  for (std::size_t i = 0; i < n; ++i) {
    const int cell = std::min(static_cast<int>(distance_m[i] / spacing_m), nodes - 2);
    const double before_m = i > 0 ? distance_m[i] - distance_m[i - 1] : 0.0;
    const double after_m = i + 1 < n ? distance_m[i + 1] - distance_m[i] : 0.0;
    observations.push_back({cell, distance_m[i] / spacing_m - cell, std::min(0.5 * (before_m + after_m), longest_m)});
  }
  return observations;
}

/// lambda * integral (z'')^2 ds with second differences.
Triplets roughness(int nodes, double spacing_m, double lambda) {
  Triplets entries;
  const double scale = lambda / (spacing_m * spacing_m * spacing_m);
  const double difference[] = {1.0, -2.0, 1.0};
  for (int i = 0; i + 2 < nodes; ++i)
    for (int a = 0; a < 3; ++a)
      for (int b = 0; b < 3; ++b) entries.emplace_back(i + a, i + b, scale * difference[a] * difference[b]);
  return entries;
}

double value_at(const Eigen::VectorXd& z, const Observation& o) {
  return (1.0 - o.share) * z[o.cell] + o.share * z[o.cell + 1];
}

double bisquare(double residual, double limit) {
  const double u = residual / limit;
  return std::abs(u) >= 1.0 ? 0.0 : (1.0 - u * u) * (1.0 - u * u);
}

}  // namespace

std::vector<double> smooth_elevation(const std::vector<double>& distance_m, const std::vector<double>& elevation_m,
                                     const SmoothingSettings& settings) {
  assert(distance_m.size() == elevation_m.size() && distance_m.size() >= 2);
  const double h = settings.spacing_m;
  const int nodes = std::max(2, 1 + static_cast<int>(std::ceil(distance_m.back() / h - 1e-9)));
  // A wave of wavenumber q keeps 1 / (1 + lambda q^4) of its amplitude: half at the wavelength 2 pi length_m.
  const double lambda = std::pow(settings.length_m, 4);
  const std::vector<Observation> observations = place_on_grid(distance_m, h, nodes, settings.length_m);
  const Triplets smooth_part = roughness(nodes, h, lambda);

  Eigen::SimplicialLDLT<Matrix, Eigen::Lower, Eigen::NaturalOrdering<int>> solver;  // banded already: nothing to reorder
  std::vector<double> trust(observations.size(), 1.0);
  Eigen::VectorXd z;
  for (int round = 0; round <= settings.reweightings; ++round) {
    Triplets entries = smooth_part;
    Eigen::VectorXd right = Eigen::VectorXd::Zero(nodes);
    for (std::size_t i = 0; i < observations.size(); ++i) {
      const Observation& o = observations[i];
      // A trace of weight stays on a rejected point, so that the equations can be solved whatever is rejected.
      const double w = o.weight_m * std::max(trust[i], 1e-9), near = 1.0 - o.share, far = o.share;
      entries.emplace_back(o.cell, o.cell, w * near * near);
      entries.emplace_back(o.cell + 1, o.cell + 1, w * far * far);
      entries.emplace_back(o.cell + 1, o.cell, w * near * far);
      entries.emplace_back(o.cell, o.cell + 1, w * near * far);
      right[o.cell] += w * near * elevation_m[i];
      right[o.cell + 1] += w * far * elevation_m[i];
    }
    Matrix normal(nodes, nodes);
    normal.setFromTriplets(entries.begin(), entries.end());
    solver.compute(normal);
    z = solver.solve(right);
    for (std::size_t i = 0; i < observations.size(); ++i)
      trust[i] = bisquare(elevation_m[i] - value_at(z, observations[i]), settings.spike_m);
  }
  return {z.data(), z.data() + z.size()};
}

}  // namespace leewheel
