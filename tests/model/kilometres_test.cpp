/// Where a road without landmarks is parted.

#include "leewheel/kilometres.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

std::vector<std::string> names(const Road& road) {
  std::vector<std::string> found;
  for (const Landmark& mark : road.landmarks()) found.push_back(mark.name);
  return found;
}

}  // namespace

TEST_CASE("a road without landmarks is parted every 2 km, a long one every 5 km, the last piece longer than 600 m",
          "[road]") {
  CHECK(names(with_kilometres(scenes::flat_road(2600.0))).empty());
  CHECK(names(with_kilometres(scenes::flat_road(4700.0))) == std::vector<std::string>{"Kilometre 2", "Kilometre 4"});
  CHECK(names(with_kilometres(scenes::flat_road(4600.0))) == std::vector<std::string>{"Kilometre 2"});
  CHECK(names(with_kilometres(scenes::flat_road(15100.0))) == std::vector<std::string>{"Kilometre 5", "Kilometre 10"});
}

TEST_CASE("a road with landmarks stays as it is; those of waits are none", "[road]") {
  RoadProfile profile = scenes::flat_road(7000.0).profile();
  profile.landmarks = {{"Foot", 3000.0}};
  CHECK(names(with_kilometres(Road(profile))) == std::vector<std::string>{"Foot"});
  profile.landmarks = {{"km 3.0", 3000.0}, {"km 4.0", 4010.0}};
  CHECK(names(with_kilometres(Road(profile))) == std::vector<std::string>{"Kilometre 2", "km 3.0", "km 4.0", "Kilometre 6"});
}
