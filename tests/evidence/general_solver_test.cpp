/// Our own solvers beside those of a general library (Boost.Math).

#include <boost/math/tools/roots.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <catch2/catch.hpp>
#include <cmath>

#include "leewheel/motion.hpp"
#include "leewheel/strength.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("the speed a power holds is the root that a general solver finds", "[evidence][motion]") {
  // TOMS 748 (Alefeld, Potra & Shi 1995, ACM Trans Math Softw 21:327) as Boost.Math has it; both solve to rounding.
  const double grade = GENERATE(-0.02, 0.0, 0.03, 0.08, 0.15), headwind_mps = GENERATE(-4.0, 0.0, 3.0, 9.0),
               power_W = GENERATE(80.0, 250.0, 600.0);
  RoadLoad load;
  load.wheel_drag_area_m2 = 0.0044;
  load.grade = grade;
  load.wind_along_mps = -headwind_mps;
  load.wind_cross_mps = 2.0;
  const auto surplus_W = [&](double v) { return road_power(load, v).crank_W - power_W; };
  std::uintmax_t most_steps = 200;
  const auto [low, high] =
      boost::math::tools::toms748_solve(surplus_W, 0.01, 60.0, boost::math::tools::eps_tolerance<double>(50), most_steps);
  REQUIRE_THAT(steady_speed_mps(load, power_W), WithinRel(0.5 * (low + high), 1e-10));
}

TEST_CASE("the two exponentials are taken up at the very place on their curve", "[evidence][strength]") {
  // W' half refilled: the time since empty by Boost.Math, then 40 s more, against one call from that state.
  const Strength strength{250.0, 20000.0, 1000.0};
  const auto share_left = [](double t) { return 0.5067 * std::exp(-t / 21.5) + 0.4933 * std::exp(-t / 388.0); };
  const double missing = GENERATE(0.9, 0.5, 0.2, 0.01);
  std::uintmax_t most_steps = 200;
  const auto [low, high] = boost::math::tools::toms748_solve([&](double t) { return share_left(t) - missing; }, 0.0, 5000.0,
                                                             boost::math::tools::eps_tolerance<double>(50), most_steps);
  const double expected_J = strength.w_prime_J * (1.0 - share_left(0.5 * (low + high) + 40.0));
  REQUIRE_THAT(wbal_after_J(RecoveryLaw::two_exponentials, strength, strength.w_prime_J * (1.0 - missing), 100.0, 40.0),
               WithinAbs(expected_J, 1e-6));
}
