#include "leewheel/integral_wbal.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace leewheel;

namespace {
const Strength rider{.critical_power_W = 250.0, .w_prime_J = 20000.0, .peak_power_W = 1000.0};
}

TEST_CASE("six hard minutes with six easy ones leave what the published sum leaves", "[integral_wbal]") {
  // Worked apart from this code with tau = 546 exp(-1) + 316 = 516.9 s; half of the last digit given.
  std::vector<PowerPiece> pieces;
  for (int k = 0; k < 6; ++k) pieces.insert(pieces.end(), {{60.0, 350.0}, {60.0, 150.0}});
  const std::vector<double> left_J = integral_wbal_J(rider, pieces);
  CHECK(left_J[0] == Approx(14330.0).margin(0.5));
  CHECK(left_J[1] == Approx(14951.0).margin(0.5));
  CHECK(left_J[5] == Approx(7775.0).margin(0.5));
  CHECK(left_J[10] == Approx(-572.0).margin(0.5));
  CHECK(left_J[11] == Approx(1683.0).margin(0.5));
}

TEST_CASE("the sum of a ride so far ends as the published sum of the whole ride", "[integral_wbal]") {
  // Three ranges of power; 3e-6 of the work spent, some hundred kJ, is under a joule.
  for (const double range_W : {40.0, 80.0, 120.0}) {
    std::vector<PowerPiece> pieces;
    IntegralWbal so_far;
    const IntegralWbal::Decay decay(1.0);
    for (int k = 0; k < 3600; ++k) {
      const double power_W = 100.0 + range_W * static_cast<double>((k / 40) * 7 % 5);
      pieces.push_back({1.0, power_W});
      so_far.add(power_W - rider.critical_power_W, decay);
    }
    INFO("steps of " << range_W << " W");
    CHECK(rider.w_prime_J - so_far.spent_J() == Approx(integral_wbal_J(rider, pieces).back()).margin(1.0));
  }
}

TEST_CASE("until the first second below critical power tau is at its longest", "[integral_wbal]") {
  IntegralWbal so_far;
  const IntegralWbal::Decay decay(1.0);
  for (int k = 0; k < 60; ++k) so_far.add(100.0, decay);
  const double per_s = std::exp(-1.0 / (546.0 + 316.0));
  CHECK(so_far.spent_J() == Approx(100.0 * (1.0 - std::pow(per_s, 60)) / (1.0 - per_s)).epsilon(1e-5));
}
