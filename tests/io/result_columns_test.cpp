#include "io/result_columns.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>

#include "io/csv.hpp"
#include "io/unit_names.hpp"
#include "support/told_ride.hpp"

using namespace leewheel;

TEST_CASE("each column of the results has a name of its own and a value of a whole ride", "[results]") {
  const told_ride::Told t = told_ride::told();
  const RideFacts ride = facts_of(t.scenario, t.result, t.solo);
  const RiderRow facts{t.result.riders[0], ride.riders[0], solo_of(t.solo, 0)};
  std::set<std::string> names;
  for (const auto& column : rider_columns()) {
    INFO(column.name);
    CHECK(names.insert(column.name).second);
    CHECK(std::isfinite(column.value(facts)));
  }
  names.clear();
  for (const auto& column : stretch_columns()) {
    INFO(column.name);
    CHECK(names.insert(column.name).second);
    CHECK(std::isfinite(column.value(ride.riders[0].stretches.front())));
  }
}

TEST_CASE("a cell of CSV is rounded, quoted when it must be and empty without a value", "[csv]") {
  CHECK(csv_cell(2.5, 0) == "3");
  CHECK(csv_cell(-0.0004, 3) == "0.000");
  CHECK(csv_cell(std::nan(""), 1) == "");
  CHECK(csv_cell("Una") == "Una");
  CHECK(csv_cell("a,b") == "\"a,b\"");
  CHECK(csv_cell("5\" tyre\n") == "\"5\"\" tyre\n\"");
  CHECK(csv_row({"a", "b"}) == "a,b\n");
}

TEST_CASE("the unit of a quantity is read from the end of its name, the longest first", "[units]") {
  CHECK(plain_unit_of("air_density_kgpm3") == "kg/m3");
  CHECK(shown_unit_of("air_density_kgpm3") == "kg/m³");
  CHECK(plain_unit_of("climbed_m_per_h") == "m/h");
  CHECK(plain_unit_of("front_area_m2") == "m2");
  CHECK(plain_unit_of("rolling") == "");
  CHECK(words_of("drag_percent") == "drag");
  CHECK(words_of("saved_s_per_km") == "saved");
}
