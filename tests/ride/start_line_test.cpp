/// Where riders stand at the start, and two groups by strength.

#include <catch2/catch.hpp>

#include "riding/decide.hpp"
#include "support/on_road.hpp"

using namespace leewheel;

namespace {

Scenario starting(std::size_t riders) {
  Scenario s = scenes::scene(scenes::flat_road(1000.0), {});
  for (std::size_t k = 0; k < riders; ++k)
    s.riders.push_back(scenes::plain_rider(std::string(1, static_cast<char>('a' + k))));
  return s;
}

RideSample start_of(const Scenario& s) {
  RideSample sample;
  Ride(s).sample(sample);
  return sample;
}

}  // namespace

TEST_CASE("riders line up by name, those named in the order first, the last with the front wheel at the start", "[start]") {
  Scenario s = starting(3);
  CHECK(start_of(s).distance_m == std::vector<float>{5.4f, 2.7f, 0.0f});  // 1.7 m and 1 m each
  s.ride.start_order = {"c"};
  CHECK(start_of(s).distance_m == std::vector<float>{2.7f, 0.0f, 5.4f});
  s.ride.start_gap_m = 2.0;
  CHECK(start_of(s).distance_m == std::vector<float>{3.7f, 0.0f, 7.4f});
}

TEST_CASE("abreast, riders share the road's width in rows, from the edge of the side kept", "[start]") {
  Scenario s = starting(3);
  s.ride.start_abreast = 2;
  const double width_m = s.road.width_m(0.0);
  RideSample start = start_of(s);
  CHECK(start.distance_m == std::vector<float>{2.7f, 2.7f, 0.0f});
  CHECK(start.lateral_m[0] == Approx(-0.25 * width_m));
  CHECK(start.lateral_m[1] == Approx(0.25 * width_m));
  CHECK(start.lateral_m[2] == Approx(-0.25 * width_m));
  s.ride.keep_right = false;
  start = start_of(s);
  CHECK(start.lateral_m[0] == Approx(0.25 * width_m));
}

TEST_CASE("one behind the other, riders stand in the middle of the side they keep", "[start]") {
  Scenario s = starting(2);
  CHECK(start_of(s).lateral_m[0] == Approx(-0.25 * s.road.width_m(0.0)));
  s.ride.keep_right = false;
  CHECK(start_of(s).lateral_m[0] == Approx(0.25 * s.road.width_m(0.0)));
}

TEST_CASE("by strength the second group starts 150 m behind the first", "[start]") {
  Scenario s = starting(4);
  s.ride.kind = RideKind::by_strength;
  const double strength_W[] = {200.0, 300.0, 210.0, 290.0};
  for (std::size_t i = 0; i < 4; ++i) s.riders[i].critical_power_W = strength_W[i];
  const RideSample start = start_of(s);
  CHECK(start.distance_m[1] == Approx(150.0 + 3 * 2.7));
  CHECK(start.distance_m[3] == Approx(150.0 + 2 * 2.7));
  CHECK(start.distance_m[0] == Approx(2.7));
  CHECK(start.distance_m[2] == 0.0f);
}

TEST_CASE("two groups by strength part at the widest step between the first and the last quarter", "[start]") {
  const auto second_group = [](const std::vector<double>& critical_power_W) {
    scenes::OnRoad field(critical_power_W.size());
    for (std::size_t i = 0; i < critical_power_W.size(); ++i) {
      field.riders.settings[i].critical_power_W = critical_power_W[i];
    }
    riding::part_by_strength(field.scenario, field.riders);
    return std::vector<int>(field.riders.squad.begin(), field.riders.squad.begin() + critical_power_W.size());
  };
  using Squads = std::vector<int>;
  CHECK(second_group({300, 290, 280, 230, 220, 215, 210, 205}) == Squads{0, 0, 0, 1, 1, 1, 1, 1});
  CHECK(second_group({205, 300, 210, 290, 220, 280, 215, 230}) == Squads{1, 0, 1, 0, 1, 0, 1, 1});
  // The widest step of all, between the first and the second, would leave less than a quarter in front.
  CHECK(second_group({400, 290, 280, 270, 240, 235, 230, 225}) == Squads{0, 0, 0, 0, 1, 1, 1, 1});
  CHECK(second_group({300, 200, 100}) == Squads{0, 0, 0});  // too few for two groups
}
