/// Whether a line under the gap law keeps calm.

#include "model/gap_law.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <complex>
#include <vector>

#include "leewheel/wake.hpp"

using namespace leewheel;

namespace {

/// Whether riders take over the acceleration of the wheel ahead, as they do, or go by gap and speeds alone.
enum class Sees { speeds, acceleration };

/// Twelve riders under the gap law; the first rides 9 m/s with a sine of 0.2 m/s. Largest swing of each once it is settled.
std::vector<double> swings_mps(const TacticsSettings& t, double rad_per_s, Sees sees) {
  constexpr int riders = 12;
  constexpr double v0 = 9.0, own_gap_m = 0.6, dt = 0.002;
  std::vector<double> x(riders), v(riders, v0), a(riders, 0.0), swing(riders, 0.0);
  for (int k = 0; k < riders; ++k) x[k] = -k * (bicycle_length_m + own_gap_m + t.headway_s * v0);
  for (int step = 1; step < 400000; ++step) {
    const double time_s = step * dt, first_mps = v0 + 0.2 * std::sin(rad_per_s * time_s);
    for (int k = 1; k < riders; ++k)
      a[k] = gap_law_mps2(
          t, {x[k - 1] - x[k] - bicycle_length_m, own_gap_m, v[k - 1], sees == Sees::acceleration ? a[k - 1] : 0.0, v[0]},
          v[k]);
    a[0] = (first_mps - v[0]) / dt;
    x[0] += 0.5 * (v[0] + first_mps) * dt;
    v[0] = first_mps;
    for (int k = 1; k < riders; ++k) {
      x[k] += v[k] * dt + 0.5 * a[k] * dt * dt;
      v[k] += a[k] * dt;
    }
    if (time_s > 600.0)
      for (int k = 0; k < riders; ++k) swing[k] = std::max(swing[k], std::abs(v[k] - v0));
  }
  return swing;
}

/// The same from the law's transfer function: (s2 + (k2 + kg + k1 T) s + k1) V = (k1 + k2 s + kf s2) V_ahead + kg s V_first,
/// kf 1 for who takes over the acceleration ahead and 0 for who does not.
std::vector<double> linear_gains(const TacticsSettings& t, double rad_per_s, Sees sees) {
  const std::complex<double> s{0.0, rad_per_s};
  const double k1 = t.gap_stiffness_1ps2, k2 = t.speed_damping_1ps, kg = t.front_damping_1ps;
  std::vector<double> gains{1.0};
  std::complex<double> v = 1.0;
  for (int k = 1; k < 12; ++k) {
    v = ((k1 + k2 * s + (sees == Sees::acceleration ? s * s : 0.0)) * v + kg * s) /
        (s * s + (k2 + kg + k1 * t.headway_s) * s + k1);
    gains.push_back(std::abs(v));
  }
  return gains;
}

}  // namespace

TEST_CASE("a line that takes over the acceleration of the wheel ahead keeps its shape", "[line][string]") {
  for (double rad_per_s = 0.005; rad_per_s < 10.0; rad_per_s *= 1.05)
    for (const double gain : linear_gains(TacticsSettings{}, rad_per_s, Sees::acceleration)) REQUIRE(gain == Approx(1.0));
  const double rad_per_s = GENERATE(0.05, 0.308, 1.0);
  const std::vector<double> swing = swings_mps(TacticsSettings{}, rad_per_s, Sees::acceleration);
  for (const double s : swing) CHECK(s == Approx(swing[0]).epsilon(0.01));
}

TEST_CASE("a line slowing by 0.3 m/s2 keeps its gaps, and would close by 3 m if it went by speeds alone", "[line]") {
  // In steady slowing speeds are alike, so what the acceleration ahead does not give the gap must: 0.3 / 0.1 = 3 m.
  const TacticsSettings t;
  CHECK(gap_law_mps2(t, {0.6, 0.6, 9.0, -0.3, 9.0}, 9.0) == Approx(-0.3));
  CHECK(gap_law_mps2(t, {0.6 - 3.0, 0.6, 9.0, 0.0, 9.0}, 9.0) == Approx(-0.3));
}

TEST_CASE("a gap grows with speed by the headway", "[line]") {
  TacticsSettings t;
  t.headway_s = 0.5;
  CHECK(gap_law_mps2(t, {0.6 + 4.5, 0.6, 9.0, 0.0, 9.0}, 9.0) == Approx(0.0).margin(1e-12));
  CHECK(gap_law_mps2(t, {0.6, 0.6, 9.0, 0.0, 9.0}, 9.0) == Approx(-0.45));
}

TEST_CASE("a wheel 6 m away or more costs no speed that is not needed to meet it, a nearer one goes by the law", "[line]") {
  const TacticsSettings t;
  const auto a_mps2 = [&](double gap_m) { return gap_law_mps2(t, {gap_m, 0.6, 5.0, 0.0, 5.0}, 9.0); };
  CHECK(a_mps2(5.99) == Approx(0.1 * 5.39 - 1.5 * 4.0));
  CHECK(a_mps2(6.01) == Approx(-0.5 * 16.0 / 5.41));
  CHECK(a_mps2(40.0) == Approx(-0.5 * 16.0 / 39.4));
  CHECK(gap_law_mps2(t, {40.0, 0.6, 9.0, 0.0, 9.0}, 9.0) == Approx(0.1 * 11.4));
}

TEST_CASE("who has 3 m of room does not slow with the wheel ahead, and with half of it half as much", "[line]") {
  const TacticsSettings t;
  const auto a_mps2 = [&](double room_m, double wheel_mps2) {
    return gap_law_mps2(t, {0.6 + room_m, 0.6, 9.0, wheel_mps2, 9.0}, 9.0);
  };
  CHECK(a_mps2(-0.5, -2.0) == Approx(-0.05 - 2.0));
  CHECK(a_mps2(0.0, -2.0) == Approx(-2.0));
  CHECK(a_mps2(1.5, -2.0) == Approx(0.15 - 1.0));
  CHECK(a_mps2(2.9, -2.0) == Approx(0.29 - 2.0 / 30.0));
  CHECK(a_mps2(3.1, -2.0) == Approx(0.31));
  CHECK(a_mps2(1.5, 0.2) == Approx(0.15 + 0.2));  // speeding up is taken over whole
}

TEST_CASE("a swing of the first rider doubles down a line of twelve that goes by the speed of the wheel ahead alone",
          "[line][string]") {
  // Without the first rider's term no growth iff k1 T2/2 + k2 T >= 1; with 0.1, 1 and 0.05 s it is 0.05, and the last of twelve
  // shows 2.03 times the first's swing at worst (computed by separate code; two decimals).
  TacticsSettings t;
  t.front_damping_1ps = 0.0;
  t.headway_s = 0.05;
  double worst = 0.0;
  for (double rad_per_s = 0.1; rad_per_s < 0.4; rad_per_s += 0.001)
    worst = std::max(worst, linear_gains(t, rad_per_s, Sees::speeds).back());
  CHECK(worst == Approx(2.03).margin(0.005).epsilon(0));
  const std::vector<double> swing = swings_mps(t, 0.186, Sees::speeds);
  for (std::size_t k = 1; k < swing.size(); ++k) CHECK(swing[k] > swing[k - 1]);
  CHECK(swing.back() > 2.0 * swing[0]);
}

TEST_CASE("a line swings as the transfer function of the gap law says", "[line][string]") {
  TacticsSettings t;
  t.front_damping_1ps = GENERATE(0.0, 0.5);
  const double rad_per_s = GENERATE(0.1, 0.308, 1.0);
  const Sees sees = GENERATE(Sees::speeds, Sees::acceleration);
  const std::vector<double> swing = swings_mps(t, rad_per_s, sees), expected = linear_gains(t, rad_per_s, sees);
  for (std::size_t k = 0; k < swing.size(); ++k) CHECK(swing[k] / swing[0] == Approx(expected[k]).epsilon(0.01));
}

TEST_CASE("published gains of the gap law come out at its peaks", "[line][string]") {
  // (k1, k2, T) with no term of the first rider, computed by separate code: (0.3, 2.0, 0.5) never grows, (0.2, 0.8, 1.0) peaks
  // at 1.0039, (0.3, 1.0, 0.5) at 1.0505 near 0.304 rad/s.
  struct Row {
    double k1, k2, headway_s, peak;
  };
  const Row row = GENERATE(values<Row>({{0.3, 2.0, 0.5, 1.0}, {0.2, 0.8, 1.0, 1.0039}, {0.3, 1.0, 0.5, 1.0505}}));
  TacticsSettings t;
  t.gap_stiffness_1ps2 = row.k1, t.speed_damping_1ps = row.k2, t.headway_s = row.headway_s, t.front_damping_1ps = 0.0;
  double peak = 0.0;
  for (double w = 1e-4; w < 5.0; w += 1e-3) peak = std::max(peak, linear_gains(t, w, Sees::speeds)[1]);
  CHECK(peak == Approx(row.peak).margin(6e-5).epsilon(0));
}
