#include "leewheel/air.hpp"

#include <catch2/catch.hpp>

#include "leewheel/units.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("the standard atmosphere has the densities of ISO 2533", "[air]") {
  // ISO 2533:1975 by its own formulas at geopotential altitudes; half of the last digit given.
  struct Row {
    double altitude_m, density_kgpm3;
  };
  const auto row = GENERATE(
      values<Row>({{0, 1.22500}, {500, 1.16727}, {1000, 1.11164}, {1500, 1.05807}, {2000, 1.00649}, {3000, 0.90912}}));
  REQUIRE_THAT(standard_density_kgpm3(row.altitude_m), WithinAbs(row.density_kgpm3, 0.5e-5));
}

TEST_CASE("the standard atmosphere meets the densities printed for geometric altitudes", "[air]") {
  // ISO 2533:1975, printed table (from memory); half of the last digit.
  // Geopotential = r z / (r + z), r 6356766 m (same source).
  struct Row {
    double geometric_m, density_kgpm3;
  };
  const auto row = GENERATE(values<Row>({{1000, 1.1117}, {2000, 1.0066}, {3000, 0.9093}}));
  const double geopotential_m = 6356766.0 * row.geometric_m / (6356766.0 + row.geometric_m);
  REQUIRE_THAT(standard_density_kgpm3(geopotential_m), WithinAbs(row.density_kgpm3, 0.5e-4));
}

TEST_CASE("the standard atmosphere starts at 288.15 K and 101325 Pa and cools by 6.5 K a kilometre", "[air]") {
  // ISO 2533:1975.
  REQUIRE(standard_temperature_K(0.0) == 288.15);
  REQUIRE(standard_pressure_Pa(0.0) == 101325.0);
  REQUIRE_THAT(standard_temperature_K(1000.0), WithinAbs(281.65, 1e-9));
}

TEST_CASE("moist air has the density of CIPM-2007", "[air]") {
  // Picard, Davis, Glaeser & Fujii 2008, Metrologia 45:149, its formula worked apart from this code; half of the last digit.
  REQUIRE_THAT(air_density_kgpm3({20.0, 101325.0, 0.5}), WithinAbs(1.199314, 0.5e-6));
  REQUIRE_THAT(air_density_kgpm3({15.0, 101325.0, 0.0}), WithinAbs(1.225521, 0.5e-6));
}

TEST_CASE("dry air by CIPM-2007 and by the standard atmosphere agree to a thousandth", "[air]") {
  // Two sources for one thing; they differ by real-gas terms and the CO2 content assumed (0.043 % at sea level).
  const double altitude_m = GENERATE(0.0, 1000.0, 2000.0);
  const AirState air{standard_temperature_K(altitude_m) - kelvin_at_0C, standard_pressure_Pa(altitude_m), 0.0};
  REQUIRE_THAT(air_density_kgpm3(air), WithinRel(standard_density_kgpm3(altitude_m), 1e-3));
}

TEST_CASE("humid air is lighter than dry air and warm air lighter than cold", "[air]") {
  REQUIRE(air_density_kgpm3({20.0, 101325.0, 1.0}) < air_density_kgpm3({20.0, 101325.0, 0.0}));
  REQUIRE(air_density_kgpm3({30.0, 101325.0, 0.5}) < air_density_kgpm3({5.0, 101325.0, 0.5}));
}

TEST_CASE("air carried up from a standard sea level is the standard atmosphere", "[air]") {
  const AirState sea{15.0, 101325.0, 0.3};
  const double altitude_m = GENERATE(0.0, 180.0, 1500.0, 3000.0);
  const AirState there = air_at_altitude(sea, 0.0, altitude_m);
  REQUIRE_THAT(there.pressure_Pa, WithinRel(standard_pressure_Pa(altitude_m), 1e-12));
  REQUIRE_THAT(there.temperature_C + kelvin_at_0C, WithinRel(standard_temperature_K(altitude_m), 1e-12));
  REQUIRE(there.humidity_fraction == 0.3);
}

TEST_CASE("air carried up and down again is the air it was", "[air]") {
  const AirState valley{27.0, 96500.0, 0.6};
  const AirState back = air_at_altitude(air_at_altitude(valley, 420.0, 1900.0), 1900.0, 420.0);
  REQUIRE_THAT(back.pressure_Pa, WithinRel(valley.pressure_Pa, 1e-12));
  REQUIRE_THAT(back.temperature_C, WithinRel(valley.temperature_C, 1e-12));
}

TEST_CASE("gravity on the ellipsoid follows WGS84", "[air]") {
  // Somigliana's formula with the constants of WGS84 (NIMA TR8350.2), worked apart from this code; half of the last digit.
  struct Row {
    double latitude_deg, gravity_mps2;
  };
  const auto row = GENERATE(values<Row>({{0, 9.7803253}, {45, 9.8061978}, {90, 9.8321849}, {-45, 9.8061978}}));
  REQUIRE_THAT(normal_gravity_mps2(rad_from_deg(row.latitude_deg)), WithinAbs(row.gravity_mps2, 0.5e-7));
}
