#include "ride/stretch_tally.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

TEST_CASE("a place belongs to the stretch it lies in, a landmark to the stretch that begins there", "[tally]") {
  const Road road = scenes::with_landmarks(scenes::flat_road(1000.0), {200.0, 700.0});
  StretchTally<int> tally(road);
  REQUIRE(tally.size() == 3);
  for (const auto& [at_m, stretch] : std::vector<std::pair<double, std::size_t>>{
           {-5.0, 0}, {0.0, 0}, {199.999, 0}, {200.0, 1}, {699.0, 1}, {700.0, 2}, {1000.0, 2}, {1200.0, 2}}) {
    INFO(at_m);
    CHECK(tally.index_at(at_m) == stretch);
    ++tally.at(at_m);
  }
  CHECK(tally.sums() == std::vector<int>{3, 2, 3});
  CHECK(tally.where(1).from_m == 200.0);
  CHECK(tally.where(1).to_m == 700.0);
}

TEST_CASE("stretches cover the road from start to finish, with landmarks at its ends left out", "[tally]") {
  const Road road = scenes::with_landmarks(scenes::flat_road(1000.0), {0.0, 400.0, 1000.0});
  const std::vector<RoadStretch> stretches = stretches_of(road);
  REQUIRE(stretches.size() == 2);
  CHECK(stretches[0].from == "start");
  CHECK(stretches[0].to == stretches[1].from);
  CHECK(stretches[0].to_m == 400.0);
  CHECK(stretches[1].to == "finish");
  CHECK(stretches[1].to_m == 1000.0);
}

TEST_CASE("every stretch begins with the sums it is given", "[tally]") {
  StretchTally<std::vector<double>> tally(scenes::with_landmarks(scenes::flat_road(100.0), {50.0}), {1.0, 2.0});
  tally.at(80.0)[0] += 5.0;
  CHECK(tally[0] == std::vector<double>{1.0, 2.0});
  CHECK(tally[1] == std::vector<double>{6.0, 2.0});
}
