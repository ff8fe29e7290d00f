#include "leewheel/road.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "leewheel/units.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Stretch stretch(double length_m, double grade, double bend_radius_m = 0.0) {
  Stretch s;
  s.length_m = length_m, s.grade = grade, s.bend_radius_m = bend_radius_m;
  return s;
}

Stretch towards(Stretch s, double heading_deg) {
  s.has_heading = true, s.heading_rad = rad_from_deg(heading_deg);
  return s;
}

Road road_of(const std::vector<Stretch>& stretches) { return Road(profile_from_stretches(stretches, 100.0)); }

// Angle between two headings.
double apart_rad(double a_rad, double b_rad) { return std::abs(std::remainder(a_rad - b_rad, 2.0 * std::numbers::pi)); }

}  // namespace

TEST_CASE("a road is as long as its stretches together, whatever their lengths", "[road]") {
  const double odd_m = GENERATE(0.3, 1.0, 17.49, 333.333, 12345.678);
  const Road road = road_of({stretch(odd_m, 0.02), stretch(2.0 * odd_m, 0.05)});
  REQUIRE_THAT(road.length_m(), WithinRel(3.0 * odd_m, 1e-15));
  REQUIRE_THAT(road.spacing_m(), WithinRel(1.0, 0.5));
}

TEST_CASE("a constant grade rises by the sine of its angle for each metre rolled", "[road]") {
  const double grade = GENERATE(-0.2, 0.0, 0.08, 0.35);
  const Road road = road_of({stretch(1000.0, grade)});
  // Rounding of sums near 1000 m.
  REQUIRE_THAT(road.elevation_m(1000.0), WithinAbs(100.0 + 1000.0 * std::sin(std::atan(grade)), 1e-10));
  REQUIRE_THAT(road.elevation_m(123.4), WithinAbs(100.0 + 123.4 * std::sin(std::atan(grade)), 1e-10));
  REQUIRE_THAT(road.grade(500.5), WithinAbs(grade, 1e-12));
}

TEST_CASE("elevation at the nodes is the exact integral where a stretch ends inside a cell", "[road]") {
  const Road road = road_of({stretch(10.37, 0.10), stretch(20.0, -0.05), stretch(9.7, 0.02)});
  const auto exact_m = [](double s_m) {
    const double first_m = std::min(s_m, 10.37);
    const double second_m = std::clamp(s_m - 10.37, 0.0, 20.0);
    const double third_m = std::max(s_m - 30.37, 0.0);
    return 100.0 + first_m * std::sin(std::atan(0.10)) - second_m * std::sin(std::atan(0.05)) +
           third_m * std::sin(std::atan(0.02));
  };
  const std::vector<double>& elevation_m = road.profile().elevation_m;
  for (std::size_t i = 0; i < elevation_m.size(); ++i)
    REQUIRE_THAT(elevation_m[i], WithinAbs(exact_m(static_cast<double>(i) * road.spacing_m()), 1e-12));
}

TEST_CASE("a left bend turns against the clock and a right bend with it", "[road]") {
  const double quarter_m = 50.0 * std::numbers::pi / 2.0;
  const Road left = road_of({towards(stretch(100.0, 0.0), 90.0), stretch(quarter_m, 0.0, 50.0), stretch(100.0, 0.0)});
  const Road right = road_of({towards(stretch(100.0, 0.0), 90.0), stretch(quarter_m, 0.0, -50.0), stretch(100.0, 0.0)});
  REQUIRE(apart_rad(left.heading_rad(250.0), rad_from_deg(0.0)) < 1e-9);
  REQUIRE(apart_rad(right.heading_rad(250.0), rad_from_deg(180.0)) < 1e-9);
  REQUIRE_THAT(left.curvature_1pm(140.0), WithinRel(1.0 / 50.0, 1e-9));
  REQUIRE_THAT(right.curvature_1pm(140.0), WithinRel(-1.0 / 50.0, 1e-9));
  REQUIRE_THAT(left.curvature_1pm(50.0), WithinAbs(0.0, 1e-12));
}

TEST_CASE("a full circle ends in the heading it began with", "[road]") {
  const Road road = road_of({towards(stretch(2.0 * std::numbers::pi * 40.0, 0.0, 40.0), 10.0)});
  REQUIRE(apart_rad(road.heading_rad(road.length_m()), rad_from_deg(10.0)) < 1e-9);
}

TEST_CASE("a bend across north has headings near north and the curvature of its radius", "[road]") {
  const double radius_m = GENERATE(60.0, -60.0);
  const Road road = road_of({towards(stretch(40.0, 0.0, radius_m), radius_m > 0.0 ? 20.0 : 340.0)});
  for (double s_m = 0.0; s_m <= road.length_m(); s_m += 0.1) {
    REQUIRE(apart_rad(road.heading_rad(s_m), 0.0) < rad_from_deg(20.01));
    REQUIRE(road.heading_rad(s_m) >= 0.0);
    REQUIRE(road.heading_rad(s_m) < 2.0 * std::numbers::pi);
    REQUIRE_THAT(road.curvature_1pm(s_m), WithinRel(1.0 / radius_m, 1e-9));
  }
}

TEST_CASE("half way from a heading of 350 degrees to one of 10 the road heads north", "[road]") {
  RoadProfile profile = profile_from_stretches({stretch(2.0, 0.0)}, 0.0);
  profile.heading_rad = {rad_from_deg(350.0), rad_from_deg(10.0), rad_from_deg(350.0)};
  const Road road(profile);
  REQUIRE(apart_rad(road.heading_rad(0.5), 0.0) < 1e-12);
  REQUIRE(apart_rad(road.heading_rad(1.5), 0.0) < 1e-12);
}

TEST_CASE("curvature is the turn over ten metres, so a corner is not a point", "[road]") {
  const Road road = road_of({towards(stretch(50.0, 0.0), 0.0), towards(stretch(50.0, 0.0), 60.0)});
  double largest_1pm = 0.0, turned_rad = 0.0;
  for (int i = 0; i < 100; ++i) {
    largest_1pm = std::max(largest_1pm, -road.curvature_1pm(i + 0.5));
    turned_rad -= road.curvature_1pm(i + 0.5);
  }
  REQUIRE_THAT(largest_1pm, WithinRel(rad_from_deg(60.0) / 10.0, 1e-9));
  REQUIRE_THAT(turned_rad, WithinRel(rad_from_deg(60.0), 1e-9));
}

TEST_CASE("beyond its ends a road goes on as at its nearer end", "[road]") {
  Stretch last = stretch(50.0, 0.10);
  last.width_m = 3.0, last.abreast = 1, last.surface = Surface::gravel;
  last.exposure_left = Exposure::wood, last.exposure_right = Exposure::houses;
  const Road road = road_of({towards(stretch(50.0, 0.02), 45.0), last});
  REQUIRE(road.elevation_m(-10.0) == road.elevation_m(0.0));
  REQUIRE(road.elevation_m(1e6) == road.elevation_m(100.0));
  REQUIRE(road.grade(-10.0) == road.grade(0.0));
  REQUIRE_THAT(road.grade(1e6), WithinRel(0.10, 1e-12));
  REQUIRE(road.heading_rad(1e6) == road.heading_rad(100.0));
  REQUIRE(road.width_m(1e6) == 3.0);
  REQUIRE(road.abreast(1e6) == 1);
  REQUIRE(road.rolling(1e6) == rolling_coefficient(Surface::gravel));
  REQUIRE(road.exposure_left(1e6) == Exposure::wood);
  REQUIRE(road.exposure_right(1e6) == Exposure::houses);
  REQUIRE(road.width_m(-1.0) == 5.5);
}

TEST_CASE("rougher surfaces roll harder", "[road]") {
  REQUIRE(rolling_coefficient(Surface::smooth_asphalt) < rolling_coefficient(Surface::worn_asphalt));
  REQUIRE(rolling_coefficient(Surface::worn_asphalt) < rolling_coefficient(Surface::chip_seal));
  REQUIRE(rolling_coefficient(Surface::chip_seal) < rolling_coefficient(Surface::gravel));
}

TEST_CASE("ascent less descent is the difference of the ends", "[road]") {
  const RoadFacts facts = road_of({stretch(400.0, 0.06), stretch(300.0, -0.04), stretch(500.0, 0.03)}).facts();
  REQUIRE_THAT(facts.ascent_m, WithinAbs(400.0 * std::sin(std::atan(0.06)) + 500.0 * std::sin(std::atan(0.03)), 1e-9));
  REQUIRE_THAT(facts.descent_m, WithinAbs(300.0 * std::sin(std::atan(0.04)), 1e-9));
  REQUIRE_THAT(facts.mean_grade * facts.length_m, WithinAbs(facts.ascent_m - facts.descent_m, 1e-9));
}

TEST_CASE("the steepest 100 m are found where they are", "[road]") {
  const RoadFacts facts = road_of({stretch(430.5, 0.03), stretch(100.0, 0.12), stretch(469.5, 0.05)}).facts();
  REQUIRE_THAT(facts.steepest_100m_grade,
               WithinAbs(0.12, 0.0005));  // the stretch begins inside a cell: half a metre at most
  REQUIRE_THAT(facts.steepest_at_m, WithinAbs(430.5, 1.0));
}

TEST_CASE("the steepest 100 m of a shorter road are the whole road", "[road]") {
  const RoadFacts facts = road_of({stretch(60.0, 0.07)}).facts();
  REQUIRE_THAT(facts.steepest_100m_grade, WithinRel(0.07, 1e-9));
  REQUIRE(facts.steepest_at_m == 0.0);
}

TEST_CASE("the steepest 100 m of a road that only falls are its gentlest", "[road]") {
  const RoadFacts facts = road_of({stretch(200.0, -0.08), stretch(200.0, -0.02), stretch(200.0, -0.08)}).facts();
  REQUIRE_THAT(facts.steepest_100m_grade, WithinRel(-0.02, 1e-9));
}

TEST_CASE("a stretch keeps its own exposure, surface and width from its first metre", "[road]") {
  Stretch second = stretch(100.0, 0.0);
  second.exposure_left = Exposure::wood, second.surface = Surface::chip_seal, second.width_m = 4.0;
  const Road road = road_of({stretch(100.0, 0.0), second});
  REQUIRE(road.exposure_left(99.5) == Exposure::open_slope);
  REQUIRE(road.exposure_left(100.5) == Exposure::wood);
  REQUIRE(road.exposure_right(100.5) == Exposure::open_slope);
  REQUIRE(road.rolling(100.5) == rolling_coefficient(Surface::chip_seal));
  REQUIRE(road.width_m(100.5) == 4.0);
}
