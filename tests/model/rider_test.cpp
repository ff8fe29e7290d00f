#include "leewheel/rider.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstring>
#include <set>
#include <stdexcept>
#include <string>

using namespace leewheel;

namespace {

const NumberField<RiderSettings>& field(const std::string& name) {
  for (const auto& f : rider_fields())
    if (name == f.name) return f;
  throw std::runtime_error("no field " + name);
}

}  // namespace

TEST_CASE("every number of a rider stands in the table of fields exactly once", "[rider]") {
  // RiderSettings is a name and doubles, so its size counts them.
  const std::size_t numbers = (sizeof(RiderSettings) - sizeof(std::string)) / sizeof(double);
  REQUIRE(rider_fields().size() == numbers);
  std::set<std::string> names;
  std::set<const double*> places;
  const RiderSettings rider;
  for (const auto& f : rider_fields()) {
    names.insert(f.name);
    places.insert(&(rider.*f.member));
  }
  REQUIRE(names.size() == numbers);
  REQUIRE(places.size() == numbers);
}

TEST_CASE("every field of a rider has a default inside its range, a meaning and a source", "[rider]") {
  const RiderSettings rider;
  for (const auto& f : rider_fields()) {
    INFO(f.name);
    REQUIRE(rider.*f.member <= f.highest);
    REQUIRE((f.lowest_excluded ? rider.*f.member > f.lowest : rider.*f.member >= f.lowest));
    REQUIRE(std::strlen(f.meaning) > 0);
    REQUIRE(std::strlen(f.source) > 0);
  }
}

TEST_CASE("a rider without mass, critical power or W' is out of range", "[rider]") {
  const auto name = GENERATE(as<std::string>{}, "body_mass_kg", "critical_power_W", "w_prime_J");
  REQUIRE(field(name).lowest == 0.0);
  REQUIRE(field(name).lowest_excluded);
}

TEST_CASE("the default bicycle is the one of the worked example", "[rider]") {
  // Martin, Milliken, Cobb, McFadden & Coggan 1998, J Appl Biomech 14:276, appendix.
  const RiderSettings rider;
  REQUIRE(rider.wheel_drag_area_m2 == 0.0044);
  REQUIRE(rider.wheel_inertia_kgm2 == 0.14);
  REQUIRE(rider.wheel_radius_m == 0.311);
  REQUIRE(rider.drivetrain_efficiency == 0.976);
}

TEST_CASE("the default rider is one of the measured groups", "[rider]") {
  const RiderSettings rider;
  // Clark et al. 2019, J Appl Physiol 127:726: 260 +- 37 W, 17.9 +- 3.3 kJ (one standard deviation, 16 riders).
  REQUIRE(std::abs(rider.critical_power_W - 260.0) < 37.0);
  REQUIRE(std::abs(rider.w_prime_J - 17900.0) < 3300.0);
  // Merkes, Menaspa & Abbiss 2019, IJSPP 14:733: seated in the field 0.363 +- 0.071 m2 (11 riders).
  REQUIRE(std::abs(rider.drag_area_hoods_m2 - 0.363) < 0.071);
  // Grappe et al. 1997, Ergonomics 40:1299: the order upright, drops.
  REQUIRE(rider.drag_area_upright_m2 > rider.drag_area_hoods_m2);
  REQUIRE(rider.drag_area_hoods_m2 > rider.drag_area_drops_m2);
}

TEST_CASE("total mass is body, kit and bicycle", "[rider]") {
  RiderSettings rider;
  rider.body_mass_kg = 60.0, rider.kit_mass_kg = 2.5, rider.bike_mass_kg = 9.5;
  REQUIRE(rider.total_mass_kg() == 72.0);
}
