#include "evidence/closed_forms.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace leewheel;
using namespace leewheel::evidence;
using Catch::Matchers::WithinAbs;

namespace {
const Strength rider{.critical_power_W = 250.0, .w_prime_J = 20000.0, .peak_power_W = 1000.0};
}

TEST_CASE("the turbulence of MIL-F-8785C has the values worked in its own feet", "[closed_forms]") {
  constexpr double m_per_ft = 0.3048;
  CHECK_THAT(dryden_length_m(20.0 * m_per_ft) / m_per_ft, WithinAbs(143.59, 0.005));
  CHECK_THAT(dryden_intensity(20.0 * m_per_ft), WithinAbs(0.1929, 0.5e-4));
  CHECK_THAT(dryden_length_m(100.0 * m_per_ft) / m_per_ft, WithinAbs(505.17, 0.005));
  CHECK_THAT(dryden_intensity(100.0 * m_per_ft), WithinAbs(0.1716, 0.5e-4));
  CHECK(dryden_length_m(1.5) == dryden_length_m(10.0 * m_per_ft));  // its lowest height, 23 m
  CHECK_THAT(dryden_length_m(1.5), WithinAbs(23.1, 0.5));
}

TEST_CASE("Taylor and Lee's rule has the value worked by hand, and the field's anchor lies near it", "[closed_forms]") {
  // Ridge h 100 m, L 500 m, z 10 m: 0.3767. Askervein (hill, 116 m, half-length about 220 m): measured 0.8 to 0.9 at 10 m.
  CHECK_THAT(crest_speed_up(HillShape::ridge, 100.0, 500.0, 10.0), WithinAbs(0.3767, 0.5e-4));
  CHECK_THAT(crest_speed_up(HillShape::ridge, 116.0, 220.0, 10.0), WithinAbs(0.85, 0.15));
}

TEST_CASE("time to exhaustion meets the list of the two-parameter form", "[closed_forms]") {
  // Monod & Scherrer 1965, Ergonomics 8:329; list for W' 50 kJ, CP 200 W rounded to the second or a decimal.
  const Strength list_rider{.critical_power_W = 200.0, .w_prime_J = 50000.0, .peak_power_W = 1500.0};
  struct Row {
    double power_W, time_s, half_digit_s;
  };
  const auto row = GENERATE(values<Row>({{225, 2000, 0.5},
                                         {250, 1000, 0.5},
                                         {275, 667, 0.5},
                                         {300, 500, 0.5},
                                         {350, 333, 0.5},
                                         {400, 250, 0.5},
                                         {500, 167, 0.5},
                                         {1000, 62.5, 0.05}}));
  REQUIRE_THAT(exhaustion_two_parameter_s(list_rider, row.power_W), WithinAbs(row.time_s, row.half_digit_s));
}

TEST_CASE("time to exhaustion meets the three-parameter form worked by hand", "[closed_forms]") {
  // Morton 1996, Ergonomics 39:611, its equation for CP 250 W, W' 20 kJ, P_max 1000 W; half of the last digit.
  struct Row {
    double power_W, time_s;
  };
  const auto row = GENERATE(values<Row>({{275, 773.3}, {300, 373.3}, {350, 173.3}, {400, 106.7}, {500, 53.3}}));
  REQUIRE_THAT(exhaustion_three_parameter_s(rider, row.power_W), WithinAbs(row.time_s, 0.05));
}

TEST_CASE("nobody tires at critical power and nobody lasts at peak power", "[closed_forms]") {
  REQUIRE(std::isinf(exhaustion_two_parameter_s(rider, 250.0)));
  REQUIRE(std::isinf(exhaustion_three_parameter_s(rider, 250.0)));
  REQUIRE(exhaustion_three_parameter_s(rider, 1000.0) == 0.0);
  REQUIRE(exhaustion_three_parameter_s(rider, 600.0) < exhaustion_two_parameter_s(rider, 600.0));
}
