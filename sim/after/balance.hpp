#pragma once
/// The balance of energy of every block as a function of the numbers that are asked for, with its derivatives.

#include <Eigen/Dense>
#include <array>
#include <vector>

#include "after/fit.hpp"

namespace leewheel {

/// Places of the numbers in the vector that is fitted; -1 where a number is not asked for.
struct Layout {
  std::vector<FittedNumber> numbers;
  std::vector<std::array<int, 4>> rider;  ///< drag area, power scale, mass, company
  std::array<int, surface_names.size()> rolling;
  std::vector<int> wind;  ///< east by hour; north is the next

  int add(Learnt what, std::size_t of, double before, double sd) {
    numbers.push_back({what, of, before, sd, before, sd});
    return static_cast<int>(numbers.size()) - 1;
  }
};

/// Residuals and their derivatives, for Eigen's solver. The vector holds (value - before) / before_sd.
class Balance {
 public:
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  Balance(const RideAir& air, const std::vector<Block>& blocks, const Layout& layout, double wind_an_hour_mps);

  const std::vector<Block>& blocks() const { return blocks_; }
  const Layout& layout() const { return layout_; }
  int inputs() const { return static_cast<int>(layout_.numbers.size()); }
  int values() const { return static_cast<int>(blocks_.size()) + inputs(); }
  double value(const Eigen::VectorXd& u, int k) const {
    const FittedNumber& n = layout_.numbers[static_cast<std::size_t>(k)];
    return n.before + n.before_sd * u[k];
  }
  WindChange wind(const Eigen::VectorXd& u) const;
  /// Watts that went in beyond what road and air took.
  double surplus_W(const Eigen::VectorXd& u, const Block& block, const WindChange& change) const;

  /// Of every block, in standard deviations, with what it shares with the block before taken off: independent of one another.
  Eigen::VectorXd misses(const Eigen::VectorXd& u) const;

  int operator()(const Eigen::VectorXd& u, Eigen::VectorXd& out) const;
  int df(const Eigen::VectorXd& u, Eigen::MatrixXd& jacobian) const;

  std::vector<double> weight;  ///< by block, a factor of its residual

 private:
  /// Work against the air and its derivatives by drag area, company, and wind east and north.
  struct AirWork {
    double J = 0.0, by_area = 0.0, by_company = 0.0;
    Eigen::Vector2d by_wind{0.0, 0.0};
  };
  AirWork air_work(const Eigen::VectorXd& u, const Block& block, const WindChange& change, bool derive) const;
  double push_J(const BlockSecond& second, const Eigen::Vector2d& enu_mps) const;  ///< on 1 m2
  double value_or(const Eigen::VectorXd& u, int k, double otherwise) const { return k < 0 ? otherwise : value(u, k); }
  double rolling_J_per_kg(const Eigen::VectorXd& u, const Block& block) const;
  void derive_block(const Eigen::VectorXd& u, const Block& block, const WindChange& change, Eigen::VectorXd& row) const;

  const RideAir& air_;
  const std::vector<Block>& blocks_;
  const Layout& layout_;
  double wind_an_hour_mps_;
  std::vector<double> share_,
      sd_W_;  ///< of the block before; what is left. The factor of Cholesky of the blocks' covariance
};

}  // namespace leewheel
