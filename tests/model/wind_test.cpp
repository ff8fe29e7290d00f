#include "leewheel/wind.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstring>

#include "leewheel/units.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Stretch straight(double length_m, double heading_deg, Exposure left, Exposure right) {
  Stretch s;
  s.length_m = length_m, s.has_heading = true, s.heading_rad = rad_from_deg(heading_deg);
  s.exposure_left = left, s.exposure_right = right;
  return s;
}

Road road_of(const std::vector<Stretch>& stretches) { return Road(profile_from_stretches(stretches, 0.0)); }

Road open_road(double heading_deg) {
  return road_of({straight(500.0, heading_deg, Exposure::open_slope, Exposure::open_slope)});
}

WindSettings steady(double speed_mps, double from_deg) {
  WindSettings settings;
  settings.forecast = {{0.0, speed_mps, rad_from_deg(from_deg)}};
  return settings;
}

RoadWind mid_road(const Road& road, const WindSettings& settings) {
  return Wind(settings, road).at(0.5 * road.length_m(), 0.0);
}

Exposure any_exposure() {
  return GENERATE(Exposure::open_ridge, Exposure::open_slope, Exposure::scattered_trees, Exposure::houses, Exposure::wood);
}

}  // namespace

TEST_CASE("wind from the west blows towards the east and wind from the north towards the south", "[wind]") {
  const Eigen::Vector2d westerly = wind_enu_mps(5.0, rad_from_deg(270.0)), northerly = wind_enu_mps(5.0, 0.0);
  REQUIRE_THAT(westerly.x(), WithinAbs(5.0, 1e-12));
  REQUIRE_THAT(westerly.y(), WithinAbs(0.0, 1e-12));
  REQUIRE_THAT(northerly.x(), WithinAbs(0.0, 1e-12));
  REQUIRE_THAT(northerly.y(), WithinAbs(-5.0, 1e-12));
}

TEST_CASE("the log law has the shares worked by hand", "[wind]") {
  // u = (u*/0.4) ln(z/z0), d = 0, worked apart from this code; half of the last digit.
  struct Row {
    double roughness_m, at_1_5m, at_2m;
  };
  const auto row = GENERATE(values<Row>({{0.03, 0.6734, 0.7229}, {0.10, 0.5880, 0.6505}, {0.25, 0.4857, 0.5637}}));
  REQUIRE_THAT(log_law_ratio(1.5, row.roughness_m), WithinAbs(row.at_1_5m, 0.5e-4));
  REQUIRE_THAT(log_law_ratio(2.0, row.roughness_m), WithinAbs(row.at_2m, 0.5e-4));
}

TEST_CASE("exposure classes have the roughness of the published classes", "[wind]") {
  // Wieringa 1992, J Wind Eng Ind Aerodyn 41:357: open 0.03, roughly open 0.10, rough 0.25, very rough 0.5, closed from 1 m.
  REQUIRE(exposure_air(Exposure::open_ridge).roughness_m == 0.03);
  REQUIRE(exposure_air(Exposure::open_slope).roughness_m == 0.10);
  REQUIRE(exposure_air(Exposure::scattered_trees).roughness_m == 0.25);
  REQUIRE(exposure_air(Exposure::houses).roughness_m == 0.50);
  REQUIRE(exposure_air(Exposure::wood).roughness_m >= 1.0);
}

TEST_CASE("over the forecast's own land the two steps are the log law", "[wind]") {
  // Wieringa 1986, QJRMS 112:867: up and down over the same roughness cancels; and the share worked by hand for 1.5 m.
  REQUIRE_THAT(rider_height_ratio(Exposure::open_ridge, 1.5), WithinRel(log_law_ratio(1.5, 0.03), 1e-12));
  REQUIRE_THAT(rider_height_ratio(Exposure::open_ridge, 1.5), WithinAbs(0.6734, 0.5e-4));
}

TEST_CASE("over rougher land less of the forecast reaches the rider, step by step from ridge to wood", "[wind]") {
  const double height_m = GENERATE(0.9, 1.2, 1.5);
  for (std::size_t i = 1; i < exposure_names.size(); ++i)
    REQUIRE(rider_height_ratio(static_cast<Exposure>(i), height_m) <
            rider_height_ratio(static_cast<Exposure>(i - 1), height_m));
}

TEST_CASE("the share of the wind at a rider lies between nothing and all of it", "[wind]") {
  const Exposure exposure = any_exposure();
  for (const double height_m : {0.5, 0.8, 1.2, 1.8, 2.5}) {
    REQUIRE(rider_height_ratio(exposure, height_m) > 0.0);
    REQUIRE(rider_height_ratio(exposure, height_m) < 1.0);
  }
}

TEST_CASE("a wood leaves 8 to 14 percent of the open wind", "[wind]") {
  // Albini & Baughman 1979, USDA Forest Service INT-221, under closed forest.
  REQUIRE(rider_height_ratio(Exposure::wood, 1.2) >= 0.08);
  REQUIRE(rider_height_ratio(Exposure::wood, 1.2) <= 0.14);
}

TEST_CASE("turbulence intensity grows with roughness and stays below one", "[wind]") {
  for (std::size_t i = 1; i < exposure_names.size(); ++i)
    REQUIRE(exposure_air(static_cast<Exposure>(i)).turbulence_intensity >=
            exposure_air(static_cast<Exposure>(i - 1)).turbulence_intensity);
  REQUIRE(exposure_air(Exposure::open_ridge).turbulence_intensity > 0.0);
  REQUIRE(exposure_air(Exposure::wood).turbulence_intensity < 1.0);
}

TEST_CASE("every number of the wind stands in the table of fields with a default inside its range", "[wind]") {
  const WindSettings settings;
  using W = WindSettings;
  for (const auto member : {&W::height_m, &W::rider_height_m, &W::change_length_m, &W::gust_length_m, &W::side_area_m2,
                            &W::side_force_caution_N})
    REQUIRE(
        std::any_of(wind_fields().begin(), wind_fields().end(), [&](const auto& field) { return field.member == member; }));
  for (const auto& field : wind_fields()) {
    REQUIRE(settings.*field.member >= field.lowest);
    REQUIRE(settings.*field.member <= field.highest);
    REQUIRE(std::strlen(field.source) > 0);
  }
}

TEST_CASE("a westerly slows a rider heading west and helps one heading east", "[wind]") {
  const double here_mps = 5.0 * rider_height_ratio(Exposure::open_slope, 1.2);
  REQUIRE_THAT(mid_road(open_road(270.0), steady(5.0, 270.0)).along_mps, WithinRel(-here_mps, 1e-12));
  REQUIRE_THAT(mid_road(open_road(90.0), steady(5.0, 270.0)).along_mps, WithinRel(here_mps, 1e-12));
  const double against_mps = apparent_wind(8.0, mid_road(open_road(270.0), steady(5.0, 270.0))).along_mps;
  const double with_mps = apparent_wind(8.0, mid_road(open_road(90.0), steady(5.0, 270.0))).along_mps;
  REQUIRE(against_mps > 8.0);
  REQUIRE(with_mps < 8.0);
}

TEST_CASE("a westerly blows towards the left of a rider heading south", "[wind]") {
  // Facing south, east is to the left.
  const RoadWind wind = mid_road(open_road(180.0), steady(5.0, 270.0));
  REQUIRE(wind.cross_mps > 0.0);
  REQUIRE_THAT(wind.along_mps, WithinAbs(0.0, 1e-12));
}

TEST_CASE("calm stays calm", "[wind]") {
  const RoadWind wind = mid_road(open_road(123.0), WindSettings{});
  REQUIRE(wind.along_mps == 0.0);
  REQUIRE(wind.cross_mps == 0.0);
}

TEST_CASE("turning road and wind together changes nothing for the rider", "[wind]") {
  const double turned_deg = GENERATE(30.0, 90.0, 200.0, 359.0);
  const RoadWind before = mid_road(open_road(10.0), steady(6.0, 75.0));
  const RoadWind after = mid_road(open_road(10.0 + turned_deg), steady(6.0, 75.0 + turned_deg));
  REQUIRE_THAT(after.along_mps, WithinRel(before.along_mps, 1e-12));
  REQUIRE_THAT(after.cross_mps, WithinRel(before.cross_mps, 1e-12));
}

TEST_CASE("a mirrored road in mirrored wind has the same wind along and the opposite across", "[wind]") {
  // Mirror east and west: headings and directions change sign, left and right change places. Only rounding differs.
  const double from_deg = GENERATE(0.0, 40.0, 110.0, 200.0, 310.0);
  const auto road = [](double sign, Exposure east_side, Exposure west_side) {
    const bool mirrored = sign < 0.0;
    Stretch first = straight(200.0, sign * 20.0, mirrored ? east_side : west_side, mirrored ? west_side : east_side);
    Stretch bend = first;
    bend.has_heading = false, bend.bend_radius_m = sign * 80.0;
    return road_of({first, bend});
  };
  const Road plain = road(1.0, Exposure::wood, Exposure::open_ridge);
  const Road mirrored = road(-1.0, Exposure::wood, Exposure::open_ridge);
  const Wind plain_wind(steady(7.0, from_deg), plain), mirrored_wind(steady(7.0, -from_deg), mirrored);
  for (double s_m = 0.0; s_m < 400.0; s_m += 12.3) {
    REQUIRE_THAT(mirrored_wind.at(s_m, 0.0).along_mps, WithinAbs(plain_wind.at(s_m, 0.0).along_mps, 1e-12));
    REQUIRE_THAT(mirrored_wind.at(s_m, 0.0).cross_mps, WithinAbs(-plain_wind.at(s_m, 0.0).cross_mps, 1e-12));
  }
}

TEST_CASE("half way between 350 and 10 degrees the forecast comes from the north", "[wind]") {
  WindSettings settings;
  settings.forecast = {{0.0, 6.0, rad_from_deg(350.0)}, {3600.0, 6.0, rad_from_deg(10.0)}};
  const Wind wind(settings, open_road(0.0));
  const Eigen::Vector2d half_way = wind.forecast_enu_mps(1800.0);
  REQUIRE_THAT(half_way.x(), WithinAbs(0.0, 1e-12));
  REQUIRE_THAT(half_way.y(), WithinAbs(-6.0 * std::cos(rad_from_deg(10.0)), 1e-12));
}

TEST_CASE("before and after the forecast its nearest point holds", "[wind]") {
  WindSettings settings;
  settings.forecast = {{600.0, 3.0, rad_from_deg(270.0)}, {1200.0, 6.0, rad_from_deg(270.0)}};
  const Wind wind(settings, open_road(0.0));
  REQUIRE_THAT(wind.forecast_enu_mps(0.0).x(), WithinRel(3.0, 1e-12));
  REQUIRE_THAT(wind.forecast_enu_mps(600.0).x(), WithinRel(3.0, 1e-12));
  REQUIRE_THAT(wind.forecast_enu_mps(900.0).x(), WithinRel(4.5, 1e-12));
  REQUIRE_THAT(wind.forecast_enu_mps(1200.0).x(), WithinRel(6.0, 1e-12));
  REQUIRE_THAT(wind.forecast_enu_mps(9999.0).x(), WithinRel(6.0, 1e-12));
}

TEST_CASE("one look-up with the forecast at hand is the look-up by time", "[wind]") {
  WindSettings settings;
  settings.forecast = {{0.0, 3.0, rad_from_deg(200.0)}, {1200.0, 8.0, rad_from_deg(290.0)}};
  const Wind wind(settings, open_road(33.0));
  const RoadWind by_time = wind.at(250.0, 700.0), at_hand = wind.at(250.0, wind.forecast_enu_mps(700.0));
  REQUIRE(by_time.along_mps == at_hand.along_mps);
  REQUIRE(by_time.cross_mps == at_hand.cross_mps);
}

TEST_CASE("the land on the side the wind comes from shelters the rider", "[wind]") {
  // Heading north, a wood on the left (west), a ridge on the right (east).
  const Road road = road_of({straight(500.0, 0.0, Exposure::wood, Exposure::open_ridge)});
  const double wood = rider_height_ratio(Exposure::wood, 1.2), ridge = rider_height_ratio(Exposure::open_ridge, 1.2);
  REQUIRE_THAT(mid_road(road, steady(6.0, 270.0)).cross_mps, WithinRel(-6.0 * wood, 1e-9));
  REQUIRE_THAT(mid_road(road, steady(6.0, 90.0)).cross_mps, WithinRel(6.0 * ridge, 1e-9));
  REQUIRE_THAT(mid_road(road, steady(6.0, 0.0)).along_mps, WithinRel(-6.0 * 0.5 * (wood + ridge), 1e-9));
  REQUIRE_THAT(mid_road(road, steady(6.0, 180.0)).along_mps, WithinRel(6.0 * 0.5 * (wood + ridge), 1e-9));
}

TEST_CASE("the wind follows a change of exposure over the given length and no further", "[wind]") {
  const Road road = road_of({straight(200.0, 0.0, Exposure::open_ridge, Exposure::open_ridge),
                             straight(200.0, 0.0, Exposure::wood, Exposure::wood)});
  WindSettings settings = steady(6.0, 180.0);
  settings.change_length_m = 50.0;
  const Wind wind(settings, road);
  const double wood_mps = 6.0 * rider_height_ratio(Exposure::wood, 1.2);
  const double ridge_mps = 6.0 * rider_height_ratio(Exposure::open_ridge, 1.2);
  REQUIRE_THAT(wind.at(170.0, 0.0).along_mps, WithinRel(ridge_mps, 1e-9));
  REQUIRE_THAT(wind.at(230.0, 0.0).along_mps, WithinRel(wood_mps, 1e-9));
  REQUIRE_THAT(wind.at(199.5, 0.0).along_mps, WithinRel(0.5 * (wood_mps + ridge_mps), 1e-9));
  for (double s_m = 170.0; s_m < 230.0; s_m += 0.7)
    REQUIRE(wind.at(s_m + 0.7, 0.0).along_mps <= wind.at(s_m, 0.0).along_mps + 1e-12);
}

TEST_CASE("without a change length the wind changes within one metre", "[wind]") {
  const Road road = road_of({straight(200.0, 0.0, Exposure::open_ridge, Exposure::open_ridge),
                             straight(200.0, 0.0, Exposure::wood, Exposure::wood)});
  WindSettings settings = steady(6.0, 180.0);
  settings.change_length_m = 0.0;
  const Wind wind(settings, road);
  REQUIRE_THAT(wind.at(199.0, 0.0).along_mps, WithinRel(6.0 * rider_height_ratio(Exposure::open_ridge, 1.2), 1e-9));
  REQUIRE_THAT(wind.at(200.0, 0.0).along_mps, WithinRel(6.0 * rider_height_ratio(Exposure::wood, 1.2), 1e-9));
}

TEST_CASE("a bend across north turns the wind smoothly and keeps its speed", "[wind]") {
  Stretch bend = straight(100.0, 40.0, Exposure::open_slope, Exposure::open_slope);
  bend.bend_radius_m = 60.0;
  const Road road = road_of({bend});
  const Wind wind(steady(6.0, 300.0), road);
  const double here_mps = 6.0 * rider_height_ratio(Exposure::open_slope, 1.2);
  for (double s_m = 0.0; s_m <= 100.0; s_m += 0.25) {
    const RoadWind w = wind.at(s_m, 0.0);
    // Between nodes the heading is a chord: shorter by (spacing/radius)^2/8 = 3.5e-5 at most.
    REQUIRE_THAT(std::hypot(w.along_mps, w.cross_mps), WithinRel(here_mps, 4e-5));
    REQUIRE_THAT(
        std::atan2(w.cross_mps, w.along_mps),
        WithinAbs(std::remainder(rad_from_deg(40.0) - s_m / 60.0 - rad_from_deg(120.0), rad_from_deg(360.0)), 1e-6));
  }
}

TEST_CASE("beyond the ends of the road the wind is that of the nearer end", "[wind]") {
  const Road road = road_of({straight(200.0, 10.0, Exposure::open_ridge, Exposure::open_ridge),
                             straight(200.0, 80.0, Exposure::wood, Exposure::wood)});
  const Wind wind(steady(6.0, 180.0), road);
  REQUIRE(wind.at(-50.0, 0.0).along_mps == wind.at(0.0, 0.0).along_mps);
  REQUIRE(wind.at(5000.0, 0.0).along_mps == wind.at(400.0, 0.0).along_mps);
  REQUIRE(wind.turbulence_intensity(5000.0) == wind.turbulence_intensity(400.0));
  REQUIRE_THAT(wind.turbulence_intensity(400.0), WithinRel(exposure_air(Exposure::wood).turbulence_intensity, 1e-9));
}

TEST_CASE("the wind triangle has the sides worked by hand", "[wind]") {
  // Rider V, wind W from d degrees off the nose; along, cross, air speed, yaw, |V_a| V_along / V^2; half of the last digit.
  struct Row {
    double V, W, d_deg, along, cross, air, yaw_deg, force;
  };
  const auto row = GENERATE(values<Row>({{8, 5, 0, 5, 0, 13, 0, 2.6406},
                                         {8, 5, 45, 3.5355, 3.5355, 12.0652, 17.040, 2.1747},
                                         {8, 5, 90, 0, 5, 9.4340, 32.005, 1.1792},
                                         {8, 5, 180, -5, 0, 3, 0, 0.1406},
                                         {4, 5, 180, -5, 0, 1, 180, -0.0625}}));
  const double d_rad = rad_from_deg(row.d_deg);
  const double side = GENERATE(1.0, -1.0);  // left and right are symmetric
  const ApparentWind wind = apparent_wind(row.V, {-row.W * std::cos(d_rad), side * row.W * std::sin(d_rad)});
  CHECK_THAT(wind.along_mps - row.V, WithinAbs(row.along, 0.5e-4));
  CHECK_THAT(side * wind.cross_mps, WithinAbs(row.cross, 0.5e-4));
  CHECK_THAT(wind.speed_mps, WithinAbs(row.air, 0.5e-4));
  CHECK_THAT(deg_from_rad(wind.yaw_rad), WithinAbs(row.yaw_deg, 0.5e-3));
  CHECK_THAT(wind.speed_mps * wind.along_mps / (row.V * row.V), WithinAbs(row.force, 0.5e-4));
}
