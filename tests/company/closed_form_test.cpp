#include "evidence/even_line.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {
evidence::EvenLine plain_line() {
  evidence::EvenLine line{WheelGapWake{}, {}};
  line.load.bearings = false;
  line.load.efficiency = 1.0;
  line.load.rolling = 0.0;
  return line;
}
}  // namespace

// 0.32 m2 and 1.225 kg/m3 meet 0.196 v3 alone. The one-wheel law at a gap of 1 m has the factor
// 0.62 - 0.0104 + 0.0452 = 0.6548 for everyone but the first.
TEST_CASE("the closed form of a line by hand", "[closed_form]") {
  evidence::EvenLine line = plain_line();
  line.gap_m = 1.0;
  line.plan_W = 196.0;
  CHECK(evidence::even_line_speed(line, 1).speed_mps == Approx(10.0));
  const evidence::LineSpeed four = evidence::even_line_speed(line, 4);
  const double mean_factor = (1.0 + 3.0 * 0.6548) / 4.0;  // 0.7411
  CHECK(four.speed_mps == Approx(10.0 / std::cbrt(mean_factor)));
  CHECK(four.power_W[0] == Approx(196.0 / mean_factor));
  CHECK(four.power_W[3] == Approx(196.0 * 0.6548 / mean_factor));
  CHECK(evidence::even_line_gain(line, 4) == Approx(0.10503).margin(1e-5));

  line.cap_W = 1.1 * 196.0;  // below the 264 W that the mean would allow: the front's speed is that of 1.1 times the power
  CHECK(evidence::even_line_gain(line, 4) == Approx(std::cbrt(1.1) - 1.0));
}

// On 5 % the weight of 80 kg takes 39.18 N at 5 m/s, the air of a head wind of 3 m/s 0.196 * 64 = 12.54 N: 258.6 W.
TEST_CASE("the closed form of a line by hand, uphill into the wind", "[closed_form]") {
  evidence::EvenLine line = plain_line();
  line.load.grade = 0.05;
  line.load.wind_along_mps = -3.0;
  const std::vector<double> powers = evidence::powers_W(line, 2, 5.0);
  CHECK(powers[0] == Approx(5.0 * (39.178 + 12.544)).epsilon(1e-4));
  line.plan_W = powers[0];
  CHECK(evidence::even_line_speed(line, 1).speed_mps == Approx(5.0));
  line.headway_s = 0.068;  // 0.66 + 0.34 m at 5 m/s
  CHECK(evidence::powers_W(line, 2, 5.0)[1] == Approx(5.0 * (39.178 + 0.6548 * 12.544)).epsilon(1e-4));
}

TEST_CASE("the closed form takes a scenario's own values", "[closed_form]") {
  Scenario s = scenes::scene(scenes::constant_grade(3000.0, 0.02), {scenes::plain_rider("a"), scenes::plain_rider("b")});
  scenes::set_wind(s, 6.0, 0.0);
  const evidence::EvenLine line = evidence::even_line(s);
  CHECK(line.load.grade == Approx(0.02));
  CHECK(line.load.density_kgpm3 == Approx(1.225));
  CHECK(line.load.wind_along_mps == Approx(-6.0 * rider_height_ratio(Exposure::open_slope, 1.2)));
  CHECK(line.gap_m == Approx(1.2 - 0.6 * 0.9));
  CHECK(line.cap_W == Approx(TacticsSettings{}.front_effort * 250.0));
}
