// Gusts: closed forms, and the frozen field against the process it stands for.

#include "leewheel/gust.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <numbers>
#include <vector>

#include "leewheel/wind.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double L = 20.0;

/// Mean over many fields and places of `value(field, x, y)`; fields are independent, so the error falls with their number.
template <class Value>
double mean_over_fields(int fields, Value value) {
  double sum = 0.0;
  std::size_t count = 0;
  for (int seed = 1; seed <= fields; ++seed) {
    const GustField field(L, static_cast<std::uint64_t>(seed));
    for (double x = 3.3; x < 8000.0; x += 41.7, ++count) sum += value(field, x, 0.37 * x);
  }
  return sum / static_cast<double>(count);
}

/// Series met by who stands still while the field passes at `U`, every `dt`.
std::vector<double> passing(const GustField& field, double U, double dt, std::size_t count) {
  std::vector<double> u(count);
  for (std::size_t k = 0; k < count; ++k) u[k] = field.at(-U * dt * static_cast<double>(k), 4.0).along;
  return u;
}

/// Power at one frequency (1/s), averaged over records without overlap, two-sided times two.
double power_at(const std::vector<double>& u, double dt, double frequency, std::size_t record) {
  double sum = 0.0;
  std::size_t records = 0;
  for (std::size_t from = 0; from + record <= u.size(); from += record, ++records) {
    std::complex<double> wave = 0.0;
    for (std::size_t k = 0; k < record; ++k) {
      const double window =
          1.0 - std::cos(2.0 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(record));  // Hann, times 2
      wave += window * u[from + k] * std::polar(1.0, -2.0 * std::numbers::pi * frequency * dt * static_cast<double>(k));
    }
    sum += std::norm(wave) * dt / (static_cast<double>(record) * 1.5);  // 1.5: the window's mean square
  }
  return 2.0 * sum / static_cast<double>(records);
}

}  // namespace

TEST_CASE("one step of a gust has the coefficients worked by hand", "[gust]") {
  // L 20 m, air speed 5 m/s, step 0.1 s: exp(-0.025) and sqrt(1 - exp(-0.05)); half of the last digit.
  const GustStep step = gust_step(20.0, 5.0, 0.1);
  REQUIRE_THAT(step.carry, WithinAbs(0.975310, 0.5e-6));
  REQUIRE_THAT(step.noise, WithinAbs(0.220841, 0.5e-6));
}

TEST_CASE("the length of gusts lies between what the sources give at a rider's height", "[gust]") {
  // 8 to 27 m at 1.5 to 2 m.
  REQUIRE(gust_length_m >= 8.0);
  REQUIRE(gust_length_m <= 27.0);
}

TEST_CASE("the field has mean 0 and variance 1 along and across, and the two are independent", "[gust]") {
  // 300 fields of 190 places: the error of a variance is about 1 % (places of a field hang together over 2 L).
  CHECK_THAT(mean_over_fields(300, [](auto& f, double x, double y) { return f.at(x, y).along; }), WithinAbs(0.0, 0.015));
  CHECK_THAT(mean_over_fields(300, [](auto& f, double x, double y) { return std::pow(f.at(x, y).along, 2); }),
             WithinAbs(1.0, 0.02));
  CHECK_THAT(mean_over_fields(300, [](auto& f, double x, double y) { return std::pow(f.at(x, y).across, 2); }),
             WithinAbs(1.0, 0.02));
  CHECK_THAT(mean_over_fields(300, [](auto& f, double x, double y) { return f.at(x, y).along * f.at(x, y).across; }),
             WithinAbs(0.0, 0.015));
}

TEST_CASE("along the wind two riders feel gusts that hang together as exp(-d/L)", "[gust]") {
  const double apart_m = GENERATE(2.0, 5.0, 10.0, 20.0, 40.0);
  const double found =
      mean_over_fields(300, [&](auto& f, double x, double y) { return f.at(x, y).along * f.at(x + apart_m, y).along; });
  // 0.02: chance of 300 fields, and the straight lines between samples L/20 apart.
  REQUIRE_THAT(found, WithinAbs(std::exp(-apart_m / L), 0.02));
}

TEST_CASE("sideways gusts hang together less than along the wind, and not at all a length apart", "[gust]") {
  const auto sideways = [&](double apart_m) {
    return mean_over_fields(300, [&](auto& f, double x, double y) { return f.at(x, y).along * f.at(x, y + apart_m).along; });
  };
  double length_m = 0.0;
  for (double d = 0.5; d < 25.0; d += 1.0) length_m += sideways(d);
  INFO("length sideways " << length_m << " m");
  CHECK(sideways(1.0) > 0.9);
  CHECK(sideways(10.0) < std::exp(-10.0 / L));
  CHECK_THAT(sideways(20.0), WithinAbs(0.0, 0.02));
  // Counihan 1975, Atmos. Environ. 9:871 (from memory): 0.3 to 0.4 of the length along; to two decimals of the sum here.
  CHECK(length_m > 0.28 * L);
  CHECK(length_m < 0.42 * L);
}

TEST_CASE("who stands still meets a time scale of L over the wind's speed", "[gust]") {
  const double U = 5.0, dt = 0.2;
  double at_T = 0.0, all = 0.0;
  for (std::uint64_t seed = 1; seed <= 250; ++seed) {
    const std::vector<double> u = passing(GustField(L, seed), U, dt, 8000);
    for (std::size_t k = 0; k + 20 < u.size(); ++k) at_T += u[k] * u[k + 20], all += u[k] * u[k];
  }
  REQUIRE_THAT(at_T / all, WithinAbs(std::exp(-1.0), 0.02));  // 20 steps are T = 4 s
}

TEST_CASE("the spectrum is Dryden's: level at low frequencies, falling as the square of the frequency at high ones",
          "[gust]") {
  // S(f) = 4 sigma^2 T / (1 + (2 pi f T)^2), T = L/U. Kaimal's and von Karman's fall as f^(-5/3): see the next test.
  const double U = 5.0, T = L / U, dt = 0.1;
  const auto dryden = [&](double f) { return 4.0 * T / (1.0 + std::pow(2.0 * std::numbers::pi * f * T, 2)); };
  std::vector<double> frequencies{0.02, 0.1, 0.3, 0.6, 1.2}, found(frequencies.size(), 0.0);
  constexpr int fields = 30;
  for (std::uint64_t seed = 1; seed <= fields; ++seed) {
    const std::vector<double> u = passing(GustField(L, seed), U, dt, 16000);
    for (std::size_t k = 0; k < frequencies.size(); ++k) found[k] += power_at(u, dt, frequencies[k], 1000) / fields;
  }
  for (std::size_t k = 0; k < frequencies.size(); ++k) {
    INFO(frequencies[k] << " Hz: " << found[k] << " against " << dryden(frequencies[k]));
    CHECK_THAT(found[k], WithinRel(dryden(frequencies[k]), 0.15));  // 480 records: 5 %; window and straight lines the rest
  }
  const double slope = std::log(found[3] / found[2]) / std::log(2.0);
  CHECK_THAT(slope, WithinAbs(-2.0, 0.2));
}

TEST_CASE("up to a hertz Dryden's spectrum stays within a factor of two of von Karman's at the same length", "[gust]") {
  // Von Karman: S(f) = 4 sigma^2 T / (1 + 70.8 (f T)^2)^(5/6). It falls as f^(-5/3), Dryden's as f^(-2): what a rider and
  // bicycle of two metres can feel has about the same strength: 0.55 of it at 1 Hz. Above Dryden's is too weak.
  const double T = L / 5.0;
  for (const double f : {0.01, 0.03, 0.1, 0.3, 1.0}) {
    const double dryden = 4.0 * T / (1.0 + std::pow(2.0 * std::numbers::pi * f * T, 2));
    const double karman = 4.0 * T / std::pow(1.0 + 70.8 * f * f * T * T, 5.0 / 6.0);
    INFO(f << " Hz: " << dryden / karman);
    CHECK(karman / dryden < 2.0);
    CHECK(dryden / karman < 2.0);
  }
}

TEST_CASE("three-second gusts in ten minutes reach what was measured at 2 m over open to rough land", "[gust]") {
  // Gust factor 1.6 to 1.95 at 2 m: Harper, Kepert & Ginger 2010, WMO/TD-1555 (from memory). Intensity 1/ln(z/z0) at those
  // 2 m over category II of EN 1991-1-4 and over roughly open land, carried at 5 m/s. Lower down there is more, which no
  // source at hand has measured: at 1.2 m the class open_slope (0.402) gives 1.99.
  const auto gust_factor_met = [](double roughness_m) {
    const double U = 5.0, dt = 0.25, I = standard_turbulence_intensity(2.0, roughness_m);
    double sum = 0.0;
    constexpr int fields = 40;
    for (std::uint64_t seed = 1; seed <= fields; ++seed) {
      const std::vector<double> u = passing(GustField(L, seed), U, dt, 2400);
      double highest = -10.0;
      for (std::size_t k = 0; k + 12 <= u.size(); ++k) {
        double mean = 0.0;
        for (std::size_t j = 0; j < 12; ++j) mean += u[k + j] / 12.0;
        highest = std::max(highest, mean);
      }
      sum += (1.0 + I * highest) / fields;
    }
    return sum;
  };
  const double open = gust_factor_met(0.05), rougher = gust_factor_met(0.10);
  INFO("z0 0.05: " << open << ", 0.10: " << rougher);
  CHECK(open > 1.6);
  CHECK(open < rougher);
  CHECK(rougher < 1.95);
  CHECK_THAT(open, WithinAbs(three_second_gust(standard_turbulence_intensity(2.0, 0.05)),
                             0.1 * standard_turbulence_intensity(2.0, 0.05)));
  CHECK_THAT(rougher, WithinAbs(three_second_gust(standard_turbulence_intensity(2.0, 0.10)),
                                0.1 * standard_turbulence_intensity(2.0, 0.10)));
}

TEST_CASE("gust factors of the standard at 10 m lie within what was measured", "[gust]") {
  // EN 1991-1-4 eq. 4.7 and 1 + 3.5 I; 1.4 to 1.66 at 10 m over open land (z0 0.003 to 0.05).
  for (const double z0 : {0.003, 0.01, 0.05}) {
    CHECK(gust_factor(standard_turbulence_intensity(10.0, z0)) > 1.4);
    CHECK(gust_factor(standard_turbulence_intensity(10.0, z0)) < 1.665);
  }
}

TEST_CASE("the same seed gives the same field in any order of asking, another seed another", "[gust]") {
  const GustField a(L, 7), b(L, 7), other(L, 8);
  double forwards = 0.0, backwards = 0.0;
  for (int k = 0; k <= 100; ++k) forwards = std::max(forwards, a.at(13.0 * k, 5.0 * k).along);
  for (int k = 100; k >= 0; --k) backwards = std::max(backwards, b.at(13.0 * k, 5.0 * k).along);
  CHECK(forwards == backwards);
  CHECK(a.at(100.0, 3.0).along != other.at(100.0, 3.0).along);
}

TEST_CASE("the field has no jumps and no seam where it repeats", "[gust]") {
  const GustField field(L, 3);
  double largest = 0.0;
  for (double x = -420.0 * L; x < 420.0 * L; x += 0.1)
    largest = std::max(largest, std::abs(field.at(x + 0.1, 2.0).along - field.at(x, 2.0).along));
  CHECK(largest < 0.2);  // a tenth of the way between samples that differ by at most five standard steps
  for (double y = -300.0; y < 300.0; y += 0.05)
    REQUIRE(std::abs(field.at(50.0, y + 0.05).along - field.at(50.0, y).along) < 0.2);  // a fortieth of a narrow strip
}
