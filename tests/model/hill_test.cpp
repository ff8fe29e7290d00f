// What hills and belts do to the wind.

#include "leewheel/hill.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "leewheel/windbreak.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Stretch slope(double length_m, double grade, double heading_deg = 0.0) {
  Stretch s;
  s.length_m = length_m, s.grade = grade, s.has_heading = true, s.heading_rad = rad_from_deg(heading_deg);
  s.exposure_left = s.exposure_right = Exposure::open_slope;
  return s;
}

Road over_a_hill(double heading_deg = 0.0) {
  return Road(profile_from_stretches({slope(2000.0, 0.0, heading_deg), slope(800.0, 0.10, heading_deg),
                                      slope(800.0, -0.10, heading_deg), slope(2000.0, 0.0, heading_deg)},
                                     100.0));
}

WindSettings blowing(double from_deg, double speed_mps = 8.0) {
  WindSettings settings;
  settings.forecast = {{0.0, speed_mps, rad_from_deg(from_deg)}};
  return settings;
}

}  // namespace

TEST_CASE("the orography factor of the standard has the value worked by hand at a crest", "[hill]") {
  // EN 1991-1-4, Annex A.3: H 50 m, L_u 250 m, z 1.5 m.
  const HillSection hill{.height_m = 50.0, .upwind_length_m = 250.0};
  REQUIRE_THAT(orography_factor(hill, 0.0, 1.5), WithinAbs(1.4004, 0.5e-4));
}

TEST_CASE("a wind speeds up to the crest and calms down behind it", "[hill]") {
  const HillSection hill{.height_m = 80.0, .upwind_length_m = 400.0, .downwind_length_m = 400.0};
  for (double x = -600.0; x < 0.0; x += 10.0) CHECK(orography_factor(hill, x + 10.0, 1.2) >= orography_factor(hill, x, 1.2));
  for (double x = 0.0; x < 800.0; x += 10.0) CHECK(orography_factor(hill, x + 10.0, 1.2) <= orography_factor(hill, x, 1.2));
  CHECK(orography_factor(hill, -700.0, 1.2) == 1.0);
}

TEST_CASE("the linear shape of a hill has the values worked by hand, at the crest, half way and at both feet", "[hill]") {
  // R(0) = 2 ln(1 + 16); foot: ln((4 + 1/16)/(1 + 1/16)) + ln((1/16)/(1 + 1/16)); half way: ln((1.5^2 + 1/16)/(0.5^2 + 1/16)) +
  // ln(1); far off (3 L): ln(16 + 1/16) + ln(4 + 1/16) - 2 ln(9 + 1/16).
  const HillSection hill{.height_m = 80.0, .upwind_length_m = 400.0, .downwind_length_m = 400.0};
  CHECK(linear_hill_shape(hill, 0.0) == 1.0);
  for (const double side : {-1.0, 1.0}) {
    CHECK_THAT(linear_hill_shape(hill, side * 200.0), WithinAbs(0.35322, 0.5e-5));
    CHECK_THAT(linear_hill_shape(hill, side * 400.0), WithinAbs(-0.26331, 0.5e-5));
    CHECK_THAT(linear_hill_shape(hill, side * 1200.0), WithinAbs(-0.04059, 0.5e-5));
  }
}

TEST_CASE("slopes of a hill make of the linear shape what the same hill cut into small steps makes by Hilbert's integral",
          "[hill]") {
  // (1/pi) times the integral of the slope over the distance, both softened by l: an asymmetric hill, higher behind.
  const HillSection hill{.height_m = 60.0, .upwind_length_m = 500.0, .downwind_length_m = 300.0, .downwind_height_m = 90.0};
  const auto integral = [&](double x) {
    double sum = 0.0;
    const double l = 0.25 * 500.0, step = 0.1;
    for (double at = -500.0 + 0.5 * step; at < 300.0; at += step)
      sum += (at < 0.0 ? 60.0 / 500.0 : -90.0 / 300.0) * (x - at) / ((x - at) * (x - at) + l * l) * step;
    return sum;
  };
  for (const double x : {-1200.0, -500.0, -100.0, 150.0, 300.0, 900.0})
    CHECK_THAT(linear_hill_shape(hill, x), WithinAbs(integral(x) / integral(0.0), 1e-5));
}

TEST_CASE("near the crest the standard's factor holds, at both feet there is a lull, and the one passes into the other",
          "[hill]") {
  const HillSection hill{.height_m = 80.0, .upwind_length_m = 400.0, .downwind_length_m = 500.0};
  const auto factor = [&](double x) { return hill_wind_factor(hill, x, 1.2); };
  CHECK(factor(0.0) == orography_factor(hill, 0.0, 1.2));
  CHECK(factor(-400.0) < 0.95);
  CHECK(factor(500.0) < factor(-400.0));  // deeper in the lee
  CHECK_THAT(factor(-20000.0), WithinAbs(1.0, 1e-3));
  CHECK_THAT(factor(20000.0), WithinAbs(1.0, 1e-3));
  for (double x = -2000.0; x < 2500.0; x += 1.0) {
    REQUIRE(std::abs(factor(x + 1.0) - factor(x)) < 0.005);  // a jump would be more than this slope
    REQUIRE(factor(x) <= orography_factor(hill, x, 1.2));
  }
}

TEST_CASE("level land and slopes that the standard calls level have no lull", "[hill]") {
  for (double x = -1000.0; x <= 1000.0; x += 50.0)
    CHECK(hill_wind_factor({.height_m = 12.0, .upwind_length_m = 250.0}, x, 1.2) == 1.0);
  const Road flat(profile_from_stretches({slope(4000.0, 0.0)}, 100.0));
  WindSettings settings = blowing(200.0);
  settings.hills_from_road = true;
  CHECK(!Wind(settings, flat).is_local());
}

TEST_CASE("the lull never leaves less than three tenths of the wind, and a steep lee is told as one", "[hill]") {
  const RoadHill hill{
      .height_before_m = 300.0, .length_before_m = 600.0, .height_behind_m = 900.0, .length_behind_m = 450.0};
  for (double x = -3000.0; x <= 3000.0; x += 10.0) CHECK(hill_factor(hill, x, 0.0, 1.2) >= 0.3);
  CHECK(hill_factor(hill, 450.0, 0.0, 1.2) == 0.3);
  CHECK(may_separate(hill, 0.0));
  CHECK(!may_separate(hill, rad_from_deg(85.0)));  // almost along the ridge
}

TEST_CASE("what lies behind the crest unknown or level gives no lull there", "[hill]") {
  const HillSection unknown{.height_m = 80.0, .upwind_length_m = 400.0, .downwind_height_m = 0.0};
  const HillSection cliff{.height_m = 80.0, .upwind_length_m = 400.0, .cliff = true};
  for (double x = 0.0; x <= 3000.0; x += 20.0) {
    CHECK(hill_wind_factor(unknown, x, 1.2) >= 1.0);
    CHECK(hill_wind_factor(cliff, x, 1.2) >= 1.0);
  }
  CHECK(hill_wind_factor(cliff, -400.0, 1.2) < 0.95);
}

TEST_CASE("a road over a hill shows its crest and the slopes on both sides", "[hill]") {
  const std::vector<RoadHill> hills = hills_of_road(over_a_hill());
  REQUIRE(hills.size() == 1);
  CHECK_THAT(hills[0].crest_m, WithinAbs(2800.0, 30.0));
  // 800 m at 10 % are 79.6 m; smoothing over 200 m rounds 100 m off at the top and leaves the rounded foot out.
  CHECK_THAT(hills[0].height_before_m / hills[0].length_before_m, WithinAbs(0.10, 0.01));
  CHECK_THAT(hills[0].length_before_m, WithinAbs(700.0, 100.0));
  CHECK_THAT(hills[0].height_behind_m, WithinAbs(hills[0].height_before_m, 3.0));
}

TEST_CASE("a level road and a dip have no crest", "[hill]") {
  CHECK(hills_of_road(Road(profile_from_stretches({slope(3000.0, 0.0)}, 100.0))).empty());
  const auto dip = hills_of_road(Road(profile_from_stretches({slope(600.0, -0.06), slope(600.0, 0.06)}, 100.0)));
  CHECK(dip.size() == 2);
  for (const RoadHill& hill : dip) CHECK((hill.crest_m < 50.0 || hill.crest_m > 1150.0));  // the road's own ends only
}

TEST_CASE("the crest of the road blows harder than its foot when the wind climbs it, by the standard's factor", "[hill]") {
  const Road road = over_a_hill();  // northwards
  WindSettings settings = blowing(180.0);
  settings.hills_from_road = true;
  const Wind hilly(settings, road), flat(blowing(180.0), road);
  const RoadHill hill = hills_of_road(road).front();
  const double expected = orography_factor(
      {.height_m = hill.height_before_m, .upwind_length_m = hill.length_before_m, .downwind_length_m = hill.length_behind_m},
      0.0, 1.2);
  const auto factor = [&](double x_m) { return hilly.at(x_m, 0.0).along_mps / flat.at(x_m, 0.0).along_mps; };
  CHECK(expected > 1.15);
  CHECK_THAT(factor(hill.crest_m), WithinAbs(expected, 0.01));  // knots are 10 m apart
  CHECK(factor(2400.0) < factor(2700.0));
  CHECK(factor(3400.0) < factor(2900.0));
  CHECK(factor(2000.0) < 0.97);            // the lull below the slope,
  CHECK(factor(3600.0) < factor(2000.0));  // deeper in the lee
  CHECK_THAT(factor(500.0), WithinAbs(1.0, 1e-6));
  CHECK_THAT(factor(5500.0), WithinAbs(1.0, 1e-6));
  for (double x = 0.0; x < 5590.0; x += 10.0) CHECK(std::abs(factor(x + 10.0) - factor(x)) < 0.02);
}

TEST_CASE("a hill leaves the strength of gusts as it is: less of the mean on a crest, more in a lull", "[hill]") {
  // EN 1991-1-4 eq. 4.7: I = 1/(c_o ln(z/z0)).
  const Road road = over_a_hill();
  WindSettings settings = blowing(180.0);
  settings.hills_from_road = true;
  const Wind hilly(settings, road), flat(blowing(180.0), road);
  for (const double x : {2000.0, 2800.0, 3600.0})
    CHECK_THAT(hilly.gust_intensity(x, 0.0) * hilly.at(x, 0.0).along_mps,
               WithinRel(flat.gust_intensity(x, 0.0) * flat.at(x, 0.0).along_mps, 1e-5));
}

TEST_CASE("a wind along the ridge of the road's hill is left alone", "[hill]") {
  WindSettings settings = blowing(90.0);
  settings.hills_from_road = true;
  const Road road = over_a_hill();
  CHECK_THAT(Wind(settings, road).at(2800.0, 0.0).cross_mps,
             WithinRel(Wind(blowing(90.0), road).at(2800.0, 0.0).cross_mps, 1e-6));
}

TEST_CASE("a ridge crossed at an angle speeds the wind up less", "[hill]") {
  const RoadHill hill = hills_of_road(over_a_hill()).front();
  double before = 10.0;
  for (const double off_deg : {0.0, 30.0, 45.0, 60.0, 90.0}) {
    const double factor = hill_factor(hill, 0.0, rad_from_deg(off_deg), 1.2);
    CHECK(factor <= before);
    before = factor;
  }
  CHECK(before == 1.0);
}

TEST_CASE("turning road, hill and wind together changes nothing", "[hill]") {
  WindSettings settings = blowing(160.0), turned = blowing(160.0 + 75.0);
  settings.hills_from_road = turned.hills_from_road = true;
  const RoadWind a = Wind(settings, over_a_hill(0.0)).at(2750.0, 0.0), b = Wind(turned, over_a_hill(75.0)).at(2750.0, 0.0);
  CHECK_THAT(a.along_mps, WithinRel(b.along_mps, 1e-5));
  CHECK_THAT(a.cross_mps, WithinRel(b.cross_mps, 1e-5));
}

TEST_CASE("behind a belt the wind has the shares of the table", "[shelter]") {
  // Brandle & Finch 1991, from memory: percent of the open wind at 5, 10, 15, 20, 30 heights.
  struct Row {
    ShelterKind kind;
    double percent[5];
  };
  const auto row = GENERATE(values<Row>({{ShelterKind::conifer_row, {30, 50, 60, 75, 95}},
                                         {ShelterKind::deciduous_row, {50, 65, 80, 85, 95}},
                                         {ShelterKind::wall, {25, 70, 90, 95, 100}}}));
  const double heights[] = {5, 10, 15, 20, 30};
  for (int k = 0; k < 5; ++k) CHECK_THAT(100.0 * shelter_share(row.kind, heights[k]), WithinAbs(row.percent[k], 1e-9));
  CHECK(shelter_share(row.kind, 40.0) == 1.0);
  for (double h = 0.0; h < 50.0; h += 0.5) CHECK(shelter_share(row.kind, h + 0.5) >= shelter_share(row.kind, h));
}

TEST_CASE("the same belt shelters from its own side, not from the other and not along the road", "[shelter]") {
  const Road road(profile_from_stretches({slope(2000.0, 0.0)}, 0.0));  // northwards: left is west
  const auto cross_share = [&](double from_deg) {
    WindSettings settings = blowing(from_deg);
    settings.windbreaks = {{.from_m = 800.0,
                            .to_m = 1200.0,
                            .side = ShelterSide::left,
                            .kind = ShelterKind::conifer_row,
                            .height_m = 10.0,
                            .distance_m = 20.0}};
    const RoadWind with = Wind(settings, road).at(1000.0, 0.0), without = Wind(blowing(from_deg), road).at(1000.0, 0.0);
    return std::hypot(with.along_mps, with.cross_mps) / std::hypot(without.along_mps, without.cross_mps);
  };
  CHECK_THAT(cross_share(270.0), WithinAbs(0.30, 1e-6));  // 2 heights behind
  CHECK(cross_share(90.0) == Approx(1.0));
  CHECK(cross_share(180.0) == Approx(1.0));
  CHECK(cross_share(0.0) == Approx(1.0));
  CHECK(cross_share(315.0) < 0.5);
}

TEST_CASE("past the end of a belt its shelter fades within two heights", "[shelter]") {
  const Windbreak belt{.from_m = 0.0,
                       .to_m = 100.0,
                       .side = ShelterSide::left,
                       .kind = ShelterKind::wall,
                       .height_m = 3.0,
                       .distance_m = 3.0};
  CHECK(shelter_share(belt, 50.0, 0.0, -1.0) == 0.25);
  CHECK(shelter_share(belt, 103.0, 0.0, -1.0) == Approx(0.625));
  CHECK(shelter_share(belt, 106.0, 0.0, -1.0) == 1.0);
}

TEST_CASE("an oblique wind meets a belt further off and further along", "[shelter]") {
  const Windbreak belt{.from_m = 0.0,
                       .to_m = 100.0,
                       .side = ShelterSide::left,
                       .kind = ShelterKind::conifer_row,
                       .height_m = 4.0,
                       .distance_m = 20.0};
  // 45 degrees from ahead on the left: the path is 28.3 m or 7.07 heights and met the line 20 m further on.
  const double r = std::sqrt(0.5);
  CHECK_THAT(shelter_share(belt, 50.0, -r, -r), WithinAbs(0.30 + 0.2 * (20.0 / r / 4.0 - 5.0) / 5.0, 1e-9));
  CHECK(shelter_share(belt, 95.0, -r, -r) == 1.0);
  CHECK(shelter_share(belt, 95.0, r, -r) < 0.5);
}
