/// What the wind does across, and the caution for it.

#include "ride/cautions.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "support/on_road.hpp"

using namespace leewheel;
using scenes::OnRoad;

namespace {

/// Riders in a wind across, once a second.
struct Gusty {
  explicit Gusty(std::size_t count) : field(count), cautions(count), group_of(count, no_group) {}
  std::vector<Event> feel(double time_s = 0.0, bool gusty = true) {
    std::vector<Event> events;
    cautions.feel_side_force(field.riders, field.order, group_of, settings, gusty, time_s, events);
    return events;
  }
  OnRoad field;
  Cautions cautions;
  std::vector<std::int32_t> group_of;
  WindSettings settings;
};

}  // namespace

TEST_CASE("the side force is that of the air met, across, and of a rider's side", "[cautions]") {
  Gusty scene(1);
  scene.field.riders.wind_cross_mps[0] = -6.0;
  scene.field.riders.wind_along_mps[0] = 2.0;
  scene.feel();
  CHECK(scene.cautions.side_force_N(0) == Approx(0.6125 * scene.settings.side_area_m2 * 6.0 * std::sqrt(64.0 + 36.0)));
}

TEST_CASE("the others' wakes take their part of the side force", "[cautions]") {
  Gusty scene(2);
  scene.field.riders.wind_cross_mps[0] = scene.field.riders.wind_cross_mps[1] = 6.0;
  scene.field.riders.side_factor[1] = 0.4;
  scene.feel();
  CHECK(scene.cautions.side_force_N(1) == Approx(0.4 * scene.cautions.side_force_N(0)));
}

TEST_CASE("the largest side force is kept, the present one follows the wind", "[cautions]") {
  Gusty scene(1);
  scene.field.riders.wind_cross_mps[0] = 6.0;
  scene.feel();
  const double most_N = scene.cautions.side_force_N(0);
  scene.field.riders.wind_cross_mps[0] = 1.0;
  scene.feel(1.0);
  CHECK(scene.cautions.largest_side_force_N(0) == most_N);
  CHECK(scene.cautions.side_force_N(0) < 0.3 * most_N);
}

TEST_CASE("gusts above the limit are told with the riders in road order and the hardest force, once in two minutes",
          "[cautions]") {
  Gusty scene(3);
  scene.group_of = {4, 4, 4};
  for (RiderIndex i = 0; i < 3; ++i) scene.field.riders.wind_cross_mps[i] = 12.0;
  scene.field.riders.side_factor[1] = 0.1;
  scene.field.riders.side_factor[0] = 0.9;
  std::vector<Event> events = scene.feel(10.0);
  REQUIRE(scene.cautions.side_force_N(2) > scene.settings.side_force_caution_N);
  REQUIRE(events.size() == 1);
  CHECK(events[0].kind == EventKind::caution);
  CHECK(events[0].riders == std::vector<std::uint32_t>{0, 2});
  CHECK(events[0].group == 4);
  CHECK(events[0].distance_m == scene.field.riders.x_m[0]);
  CHECK(events[0].because == Because{Reason::gust_across, nobody, {scene.cautions.side_force_N(2)}});
  CHECK(scene.feel(129.9).empty());
  CHECK(scene.feel(130.0).size() == 1);
}

TEST_CASE("a steady wind and a force at the limit are no cause for a caution", "[cautions]") {
  Gusty scene(1);
  scene.field.riders.wind_cross_mps[0] = 12.0;
  CHECK(scene.feel(0.0, false).empty());
  scene.settings.side_force_caution_N = scene.cautions.side_force_N(0);
  CHECK(scene.feel().empty());
  scene.settings.side_force_caution_N -= 0.001;
  CHECK(scene.feel().size() == 1);
}
