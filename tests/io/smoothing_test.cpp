#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <random>

#include "leewheel/smoothing.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

struct Recorded {
  std::vector<double> distance_m, elevation_m;
};

template <class Shape>
Recorded recorded(double length_m, double every_m, const Shape& shape) {
  Recorded r;
  for (int i = 0; i * every_m <= length_m + 1e-9; ++i) {
    r.distance_m.push_back(i * every_m);
    r.elevation_m.push_back(shape(i * every_m));
  }
  return r;
}

std::vector<double> smooth(const Recorded& r, const SmoothingSettings& settings = {}) {
  return smooth_elevation(r.distance_m, r.elevation_m, settings);
}

double rms(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v * v;
  return std::sqrt(sum / static_cast<double>(values.size()));
}

}  // namespace

TEST_CASE("a straight slope comes out as it went in", "[smoothing]") {
  const auto slope = [](double s) { return 250.0 + 0.08 * s; };
  const std::vector<double> z = smooth(recorded(5000.0, 7.0, slope));
  // A line has no curvature to punish; what is left is the rounding of the solver (largest seen 1e-7 m).
  for (std::size_t i = 0; i < z.size(); ++i) REQUIRE_THAT(z[i], WithinAbs(slope(static_cast<double>(i)), 1e-5));
}

TEST_CASE("the grade of a parabola is kept in the middle and bends straight at the ends by sqrt(2) lengths of its curvature",
          "[smoothing]") {
  // z'''' = 0, so in the middle nothing pulls. At the free ends z'' = 0 = z''': the solution of z + L^4 z'''' = parabola
  // there differs from it by a decaying wave exp(-s / (sqrt(2) L)) whose slope at the end is sqrt(2) L times the curvature.
  const double curvature_1pm = 0.06 / 3000.0;  // 6 % steeper after 3 km
  const std::vector<double> z = smooth(recorded(3000.0, 10.0, [&](double s) { return 0.5 * curvature_1pm * s * s; }));
  for (std::size_t i = 500; i < 2500; ++i)
    REQUIRE_THAT(z[i + 1] - z[i], WithinAbs(curvature_1pm * (static_cast<double>(i) + 0.5), 1e-5));
  const double at_the_end = std::sqrt(2.0) * SmoothingSettings{}.length_m * curvature_1pm;
  for (std::size_t i = 0; i < 3000; ++i)
    REQUIRE_THAT(z[i + 1] - z[i], WithinAbs(curvature_1pm * (static_cast<double>(i) + 0.5), at_the_end));
}

TEST_CASE("half of a wave of 2 pi lengths is left, and almost nothing of a wave of one length", "[smoothing]") {
  const double length_m = 60.0;
  const auto amplitude_left = [&](double wavelength_m) {
    const std::vector<double> z =
        smooth(recorded(8000.0, 5.0, [&](double s) { return std::sin(2.0 * std::numbers::pi * s / wavelength_m); }),
               {.length_m = length_m});
    return *std::max_element(z.begin() + 3000, z.begin() + 5000);
  };
  // Gain 1 / (1 + (q length)^4), q the wavenumber; the robust weights take a little more (below 1 %).
  CHECK_THAT(amplitude_left(2.0 * std::numbers::pi * length_m), WithinRel(0.5, 0.01));
  CHECK_THAT(amplitude_left(length_m), WithinAbs(1.0 / (1.0 + std::pow(2.0 * std::numbers::pi, 4)), 1e-3));
}

TEST_CASE("a spike of 40 m moves a smooth road by less than 10 cm", "[smoothing]") {
  const auto road = [](double s) { return 300.0 + 0.05 * s; };
  Recorded r = recorded(3000.0, 10.0, road);
  r.elevation_m[150] += 40.0;
  const std::vector<double> z = smooth(r);
  for (std::size_t i = 0; i < z.size(); ++i) REQUIRE_THAT(z[i], WithinAbs(road(static_cast<double>(i)), 0.1));
}

TEST_CASE("noise of 1 m shrinks to less than half in elevation and to less than 1 % in grade", "[smoothing]") {
  std::mt19937 random(1);  // its numbers are fixed by the standard; normal_distribution's are not, hence the sum of twelve
  const auto noise = [&] {
    double sum = -6.0;
    for (int k = 0; k < 12; ++k) sum += random() / 4294967296.0;
    return sum;
  };
  const auto road = [](double s) { return 300.0 + 0.04 * s + 20.0 * std::sin(s / 600.0); };
  const std::vector<double> z = smooth(recorded(10000.0, 10.0, [&](double s) { return road(s) + noise(); }));
  std::vector<double> elevation_error, grade_error;
  for (std::size_t i = 0; i + 1 < z.size(); ++i) {
    const auto s = static_cast<double>(i);
    elevation_error.push_back(z[i] - road(s));
    grade_error.push_back(z[i + 1] - z[i] - (road(s + 1.0) - road(s)));
  }
  INFO("elevation " << rms(elevation_error) << " m, grade " << rms(grade_error));
  CHECK(rms(elevation_error) < 0.5);
  CHECK(rms(grade_error) < 0.01);
}

TEST_CASE("recording the same road ten times as densely moves the result by less than 20 cm", "[smoothing]") {
  const auto road = [](double s) { return 300.0 + 30.0 * std::sin(s / 400.0); };
  const std::vector<double> dense = smooth(recorded(4000.0, 2.0, road)), sparse = smooth(recorded(4000.0, 20.0, road));
  REQUIRE(dense.size() == sparse.size());
  for (std::size_t i = 0; i < dense.size(); ++i) REQUIRE_THAT(dense[i], WithinAbs(sparse[i], 0.2));
}

TEST_CASE("two points are enough and the grid covers the last of them", "[smoothing]") {
  const std::vector<double> z = smooth_elevation({0.0, 10.5}, {100.0, 101.05}, {});
  REQUIRE(z.size() == 12);
  CHECK_THAT(z[5], WithinAbs(100.5, 1e-6));
}
