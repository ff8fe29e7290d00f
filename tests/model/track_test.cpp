/// The road as riders meet it.

#include "model/track.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {
Track track_of(const Scenario& s) { return Track(s, Wind(s.wind, s.road)); }
Scenario on(const Road& road) { return scenes::scene(road, {scenes::plain_rider("Solo")}); }
/// Rise over the way along the surface, of a grade that is rise over run.
double slope(double grade) { return std::sin(std::atan(grade)); }
double limit_mps(const Track& track, double x_m) { return track.cell(track.place(x_m)).speed_limit_mps; }
}  // namespace

TEST_CASE("a rider sits up to climb between 3 and 5 %", "[track]") {
  const auto climbing = [](double grade) {
    const Track track = track_of(on(scenes::constant_grade(500.0, grade)));
    return track.cell(track.place(250.0)).climbing;
  };
  CHECK(climbing(0.03) == 0.0f);
  CHECK(climbing(0.04) == Approx((slope(0.04) - 0.03) / 0.02).margin(1e-6));
  CHECK(climbing(0.0495) == Approx((slope(0.0495) - 0.03) / 0.02).margin(1e-6));
  CHECK(climbing(0.051) == 1.0f);
  CHECK(climbing(0.12) == 1.0f);
}

TEST_CASE("the slope that a rider feels is that over 40 m about him", "[track]") {
  const Track track = track_of(on(scenes::grades({0.0, 0.04}, 200.0)));
  const auto climbing = [&](double x_m) { return track.cell(track.place(x_m)).climbing; };
  CHECK(climbing(215.0) == Approx((slope(0.04) * 35.0 / 40.0 - 0.03) / 0.02).margin(1e-6));
  CHECK(climbing(221.0) == Approx((slope(0.04) - 0.03) / 0.02).margin(1e-6));
  CHECK(climbing(205.0) == 0.0f);
}

TEST_CASE("a descent steeper than 0.5 % has a limit of speed, a gentler one has none to meet", "[track]") {
  const auto limit = [](double grade) {
    Scenario s = on(scenes::constant_grade(500.0, grade));
    s.tactics.descent_speed_mps = 18.0;
    return limit_mps(track_of(s), 250.0);
  };
  CHECK(limit(-0.006) == 18.0);
  CHECK(limit(-0.004) == 40.0);
  CHECK(limit(0.05) == 40.0);
}

TEST_CASE("limits leave room to brake at 1.5 m/s2 for what comes", "[track]") {
  // 500 m straight, then a bend of 25 m radius: sqrt(4 * 25) = 10 m/s.
  Stretch straight, bend;
  straight.length_m = 500.0;
  bend.length_m = 200.0, bend.bend_radius_m = 25.0;
  const Track track = track_of(on(Road(profile_from_stretches({straight, bend}, 0.0))));
  const double in_bend_mps = limit_mps(track, 510.0);
  CHECK(in_bend_mps == Approx(10.0).margin(0.05));
  double first_m = 500.0;
  while (limit_mps(track, first_m) > in_bend_mps + 0.01) first_m += 1.0;
  CHECK(limit_mps(track, first_m - 50.0) == Approx(std::sqrt(in_bend_mps * in_bend_mps + 2.0 * 1.5 * 50.0)).epsilon(0.01));
  CHECK(limit_mps(track, 10.0) == Approx(std::sqrt(100.0 + 3.0 * 490.0)).epsilon(0.01));
}

TEST_CASE("the road gets easier where 150 m of it ask for 1.5 points less than the 150 m ridden", "[track]") {
  const Track clear = track_of(on(scenes::grades({0.06, 0.044, 0.06}, 1000.0)));
  CHECK(clear.easing_at_m(500.0) <= 1010.0);  // nearly all of the 150 m, looked for in strides of 10 m
  CHECK(clear.easing_at_m(500.0) >= 980.0);
  const Track slight = track_of(on(scenes::grades({0.06, 0.046, 0.06}, 1000.0)));
  CHECK(slight.easing_at_m(500.0) == Approx(3000.0).margin(1.0));  // the top
  const Track steeper = track_of(on(scenes::grades({0.04, 0.06, 0.06}, 1000.0)));
  CHECK(steeper.easing_at_m(500.0) == Approx(3000.0).margin(1.0));
}

TEST_CASE("the wind at the start counts for where the road gets easier", "[track]") {
  // Northwards, back south, north again: headwind, tailwind, headwind on the level.
  std::vector<Stretch> legs(3);
  for (Stretch& leg : legs) leg.length_m = 1000.0, leg.has_heading = true;
  legs[1].heading_rad = 3.14159265358979;
  Scenario s = on(Road(profile_from_stretches(legs, 0.0)));
  CHECK(track_of(s).easing_at_m(500.0) == Approx(3000.0).margin(1.0));
  scenes::set_wind(s, 8.0, 0.0);
  CHECK(track_of(s).easing_at_m(500.0) <= 1000.0);
  CHECK(track_of(s).easing_at_m(500.0) >= 850.0);
}

TEST_CASE("room for two is known as far as it goes, to the nearest 10 m, and without end beyond the road", "[track]") {
  RoadProfile profile = scenes::flat_road(1000.0).profile();
  profile.width_m.assign(profile.width_m.size(), 8.0);
  for (std::size_t k = 600; k < 700; ++k) profile.abreast[k] = 1;
  const Track track = track_of(on(Road(profile)));
  CHECK(track.rules(500.0).two_abreast_for_m == Approx(100.0));
  CHECK(track.rules(595.0).two_abreast_for_m == Approx(10.0));
  CHECK(track.rules(650.0).two_abreast_for_m == 0.0f);
  CHECK(track.rules(705.0).two_abreast_for_m > 1e11f);
  CHECK_FALSE(track.rules(650.0).room_for_two);
  CHECK(track.rules(705.0).room_for_two);
}

TEST_CASE("between grid points elevation is joined by straight lines, beyond the road it is held", "[track]") {
  const Track track = track_of(on(scenes::constant_grade(500.0, 0.05)));
  CHECK(track.elevation_m(100.25) ==
        Approx(track.elevation_m(100.0) + 0.25 * (track.elevation_m(101.0) - track.elevation_m(100.0))));
  CHECK(track.elevation_m(-5.0) == track.elevation_m(0.0));
  CHECK(track.elevation_m(600.0) == track.elevation_m(500.0));
}

TEST_CASE("air thins and the surface rolls as the road says", "[track]") {
  Scenario s = on(scenes::constant_grade(500.0, 0.10));
  const Track track = track_of(s);
  const RoadCell& cell = track.cell(track.place(250.0));
  CHECK(cell.rolling_cos == Approx(0.004 * std::cos(std::atan(0.10))).epsilon(1e-6));
  CHECK(cell.half_density ==
        Approx(0.5 * air_density_kgpm3(air_at_altitude(s.air, 0.0, s.road.elevation_m(250.0)))).epsilon(1e-6));
}
