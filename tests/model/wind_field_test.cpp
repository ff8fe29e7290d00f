// The wind from place to place: stations, reference height, the forecast's air, gusts along a road, yaw.

#include <catch2/catch.hpp>

#include <cmath>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "support/scenes.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

WindSettings steady(double speed_mps, double from_deg) {
  WindSettings settings;
  settings.forecast = {{0.0, speed_mps, rad_from_deg(from_deg)}};
  return settings;
}

WindSettings two_stations(double from_a_deg, double from_b_deg) {
  WindSettings settings;
  settings.stations = {{"a", 0.0, 0.0, {{0.0, 6.0, rad_from_deg(from_a_deg)}}},
                       {"b", 0.0, 10000.0, {{0.0, 6.0, rad_from_deg(from_b_deg)}}}};
  settings.forecast = settings.stations[0].forecast;
  return settings;
}

WindSettings gusty(double speed_mps, double from_deg) {
  WindSettings settings = steady(speed_mps, from_deg);
  settings.gusts = Gusts::on;
  return settings;
}

double mean_square(const std::vector<double>& values) {
  double mean = 0.0, square = 0.0;
  for (const double v : values) mean += v / static_cast<double>(values.size());
  for (const double v : values) square += (v - mean) * (v - mean) / static_cast<double>(values.size());
  return square;
}

}  // namespace

TEST_CASE("at a station the wind is the station's, and half way it is the mean of the vectors", "[wind]") {
  const Road road = scenes::flat_road(10000.0);  // northwards, from one station to the other
  const Wind wind(two_stations(350.0, 10.0), road);
  CHECK_THAT(wind.open_enu_mps(0.0, 0.0).x(), WithinAbs(wind_enu_mps(6.0, rad_from_deg(350.0)).x(), 1e-4));
  CHECK_THAT(wind.open_enu_mps(10000.0, 0.0).x(), WithinAbs(wind_enu_mps(6.0, rad_from_deg(10.0)).x(), 1e-4));
  const Eigen::Vector2d middle = wind.open_enu_mps(5000.0, 0.0);
  CHECK_THAT(middle.x(), WithinAbs(0.0, 1e-5));  // between 350 and 10 degrees lies north, not south
  CHECK_THAT(middle.y(), WithinAbs(-6.0 * std::cos(rad_from_deg(10.0)), 1e-5));
}

TEST_CASE("a third of the way the nearer station weighs four times as much", "[wind]") {
  // Inverse squared distance: (2/1)^2.
  const Wind wind(two_stations(270.0, 0.0), scenes::flat_road(10000.0));
  const Eigen::Vector2d there = wind.open_enu_mps(10000.0 / 3.0, 0.0);
  CHECK_THAT(there.x(), WithinAbs(6.0 * 0.8, 0.02));
  CHECK_THAT(there.y(), WithinAbs(-6.0 * 0.2, 0.02));
}

TEST_CASE("two stations that agree are one forecast", "[wind]") {
  const Road road = scenes::flat_road(5000.0);
  const Wind two(two_stations(240.0, 240.0), road), one(steady(6.0, 240.0), road);
  for (const double x : {0.0, 1234.0, 5000.0}) {
    CHECK_THAT(two.at(x, 100.0).along_mps, WithinRel(one.at(x, 100.0).along_mps, 1e-6));
    CHECK_THAT(two.at(x, 100.0).cross_mps, WithinRel(one.at(x, 100.0).cross_mps, 1e-6));
  }
}

TEST_CASE("a forecast for 50 m is brought down to 10 m by the log law over open land", "[wind]") {
  WindSettings settings = steady(9.0, 270.0);
  settings.height_m = 50.0;
  const double ratio = std::log(10.0 / 0.03) / std::log(50.0 / 0.03);
  CHECK_THAT(Wind(settings, scenes::flat_road(500.0)).forecast_enu_mps(0.0).x(), WithinRel(9.0 * ratio, 1e-12));
}

/// How far (m) behind a change of roughness the wind near the ground has changed up to `height_m`: the internal boundary
/// layer grows as 0.28 z0 (x/z0)^0.8 over the rougher land (Wood 1982, Boundary-Layer Meteorol. 23:77; from memory).
double change_reaches_m(double height_m, double roughness_m) {
  return roughness_m * std::pow(height_m / (0.28 * roughness_m), 1.25);
}

TEST_CASE("a change of roughness is felt at a rider after some ten metres and done with after two hundred", "[wind]") {
  // Growth of the internal boundary layer, Wood 1982, and its lowest tenth for the part in equilibrium (common practice).
  // The stated 50 m lie between, on a scale of ratios.
  const double first_m = change_reaches_m(1.2, 0.10), settled_m = change_reaches_m(12.0, 0.10);
  CHECK_THAT(first_m, WithinAbs(11.0, 1.0));
  CHECK_THAT(settled_m, WithinAbs(195.0, 10.0));
  CHECK_THAT(WindSettings{}.change_length_m, WithinRel(std::sqrt(first_m * settled_m), 0.15));
}

TEST_CASE("warmer air of the forecast is thinner by the ratio of absolute temperatures", "[wind]") {
  WindSettings settings = steady(3.0, 0.0);
  const AirState dry{.temperature_C = 10.0, .pressure_Pa = 98000.0, .humidity_fraction = 0.0};
  CHECK(forecast_density_factors(settings.forecast, dry, 100.0, 300.0, 60.0).empty());
  settings.forecast[0].temperature_C = 10.0;
  settings.forecast.push_back({3600.0, 3.0, 0.0});
  settings.forecast[1].temperature_C = 25.0;
  const std::vector<double> factors = forecast_density_factors(settings.forecast, dry, 100.0, 300.0, 60.0);
  REQUIRE(factors.size() == 61);
  CHECK(factors.front() == 1.0);
  // At the station's altitude 283.15/298.15; 200 m higher the lapse of a warmer column differs by some 1e-3.
  CHECK_THAT(factors.back(), WithinAbs(283.15 / 298.15, 2e-3));
  CHECK_THAT(factors[30], WithinAbs(0.5 * (1.0 + factors.back()), 1e-9));
}

TEST_CASE("gusts are off unless asked for or named by the forecast", "[wind]") {
  WindSettings settings = steady(6.0, 200.0);
  CHECK(!settings.gusty());
  settings.forecast[0].gust_mps = 10.0;
  CHECK(settings.gusty());
  settings.gusts = Gusts::off;
  CHECK(!settings.gusty());
  settings = gusty(6.0, 200.0);
  CHECK(settings.gusty());
  Wind wind(settings, scenes::flat_road(500.0));
  CHECK(!wind.is_local());
  wind.raise_gusts(1);
  CHECK(wind.is_local());
}

TEST_CASE("gusts at a place on the road have the mean, the strength and the share across that the class gives", "[wind]") {
  Wind wind(gusty(8.0, 270.0), scenes::flat_road(500.0));
  const RoadWind mean = wind.at(250.0, 0.0);  // northwards in a westerly: all across, towards the right
  std::vector<double> across, along;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    wind.raise_gusts(seed);
    for (double t = 0.0; t < 3000.0; t += 7.0) {
      const RoadWind air = wind.at(250.0, wind.local_enu_mps(250.0, t));
      across.push_back(air.cross_mps), along.push_back(air.along_mps);
    }
  }
  double sum = 0.0;
  for (const double v : across) sum += v;
  const double I = exposure_air(Exposure::open_slope).turbulence_intensity;
  CHECK_THAT(sum / static_cast<double>(across.size()), WithinRel(mean.cross_mps, 0.02));
  CHECK_THAT(std::sqrt(mean_square(across)), WithinRel(I * std::abs(mean.cross_mps), 0.03));
  CHECK_THAT(std::sqrt(mean_square(along)), WithinRel(0.8 * I * std::abs(mean.cross_mps), 0.03));
}

TEST_CASE("a gust that passes one rider passes the next down the wind a little later", "[wind]") {
  // Wind from behind: the field is carried along the road at the mean wind at riders, so that what is felt at x at t is
  // felt at x + U dt at t + dt.
  Wind wind(gusty(8.0, 180.0), scenes::flat_road(2000.0));
  wind.raise_gusts(5);
  const double U = wind.at(500.0, 0.0).along_mps;
  for (double t = 10.0; t < 60.0; t += 3.0) {
    const double here = wind.at(500.0, wind.local_enu_mps(500.0, t)).along_mps;
    const double later = wind.at(500.0 + 10.0 * U, wind.local_enu_mps(500.0 + 10.0 * U, t + 10.0)).along_mps;
    CHECK_THAT(later, WithinAbs(here, 0.02 * U));  // places of the road are looked up on knots
  }
}

TEST_CASE("riders two metres apart feel nearly the same gust, riders a hundred metres apart do not", "[wind]") {
  Wind wind(gusty(8.0, 180.0), scenes::flat_road(2000.0));
  const auto correlation = [&](double apart_m) {
    double together = 0.0, all = 0.0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
      wind.raise_gusts(seed);
      const double mean = wind.at(500.0, 0.0).along_mps;
      for (double t = 0.0; t < 1200.0; t += 11.0) {
        const double a = wind.at(500.0, wind.local_enu_mps(500.0, t)).along_mps - mean;
        const double b = wind.at(500.0 + apart_m, wind.local_enu_mps(500.0 + apart_m, t)).along_mps - mean;
        together += a * b, all += a * a;
      }
    }
    return together / all;
  };
  CHECK_THAT(correlation(2.0), WithinAbs(std::exp(-0.1), 0.03));
  CHECK_THAT(correlation(20.0), WithinAbs(std::exp(-1.0), 0.05));
  CHECK_THAT(correlation(100.0), WithinAbs(0.0, 0.05));
}

TEST_CASE("riders abreast feel gusts that are alike but not the same, in a wind along the road and in one across it",
          "[wind]") {
  // Side by side across the wind: what isotropic turbulence with exp(-d/L) along has sideways, (1 - d/2L) exp(-d/L) (Batchelor
  // 1953, The Theory of Homogeneous Turbulence); the field's strips come within 0.1 of it. Along the wind: exp(-d/L).
  const auto correlation = [](double from_deg, double aside_m) {
    Wind wind(gusty(8.0, from_deg), scenes::flat_road(1000.0));
    double together = 0.0, all = 0.0, other = 0.0;
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
      wind.raise_gusts(seed);
      const Eigen::Vector2d mean = wind.mean_enu_mps(500.0, 0.0);
      for (double t = 0.0; t < 1200.0; t += 11.0) {
        const double a = (wind.local_enu_mps(500.0, t, 0.5 * aside_m) - mean).dot(mean),
                     b = (wind.local_enu_mps(500.0, t, -0.5 * aside_m) - mean).dot(mean);
        together += a * b, all += a * a, other += b * b;
      }
    }
    return together / std::sqrt(all * other);
  };
  const double L = gust_length_m;
  for (const double aside_m : {1.0, 2.0, 4.0}) {
    const double isotropic = (1.0 - 0.5 * aside_m / L) * std::exp(-aside_m / L), across = correlation(180.0, aside_m),
                 along = correlation(270.0, aside_m);
    INFO(aside_m << " m aside: across the wind " << across << " (isotropic " << isotropic << "), along it " << along);
    CHECK(across < 1.0);
    CHECK_THAT(across, WithinAbs(isotropic, 0.1));
    CHECK_THAT(along, WithinAbs(std::exp(-aside_m / L), 0.03));
  }
}

TEST_CASE("left of the road is where the field of gusts is asked for a rider on the left", "[wind]") {
  // Northwards in a southerly: left is west. A rider 12 m to the left feels what a road 12 m to the west would.
  WindSettings settings = gusty(8.0, 180.0);
  Wind here(settings, scenes::flat_road(1000.0));
  here.raise_gusts(4);
  const GustField field(settings.gust_length_m, 4);
  const double mean = here.mean_enu_mps(500.0, 0.0).y();
  const double I = here.gust_intensity(500.0, 0.0);
  CHECK_THAT(here.local_enu_mps(500.0, 0.0, 12.0).y(), WithinRel(mean * (1.0 + I * field.at(500.0, 12.0).along), 1e-6));
}

TEST_CASE("between stations gusts and the air are mixed by place as the wind is", "[wind]") {
  const Road road = scenes::flat_road(10000.0);
  WindSettings settings = two_stations(200.0, 200.0);
  settings.stations[0].forecast[0].gust_mps = 8.0;
  settings.stations[1].forecast[0].gust_mps = 12.0;
  const Wind wind(settings, road);
  const auto intensity = [&](std::size_t station) {
    WindSettings alone;
    alone.forecast = settings.stations[station].forecast;
    return Wind(alone, road).gust_intensity(0.0, 0.0);
  };
  CHECK_THAT(wind.gust_intensity(0.0, 0.0), WithinRel(intensity(0), 1e-6));
  CHECK_THAT(wind.gust_intensity(10000.0, 0.0), WithinRel(intensity(1), 1e-6));
  CHECK_THAT(wind.gust_intensity(5000.0, 0.0), WithinRel(0.5 * (intensity(0) + intensity(1)), 1e-6));
  CHECK_THAT(wind.station_share(0, 10000.0 / 3.0), WithinAbs(0.8, 0.01));
}

TEST_CASE("the forecast's gust speed sets the strength of gusts in proportion", "[wind]") {
  const Road road = scenes::flat_road(500.0);
  WindSettings settings = steady(8.0, 270.0);
  // Over open land at 10 m the class's own strength means 1 + 3.5/ln(10/0.03) = 1.6026 times the mean.
  const double usual = gust_factor(standard_turbulence_intensity(10.0, 0.03));
  settings.forecast[0].gust_mps = 8.0 * usual;
  CHECK_THAT(Wind(settings, road).gust_intensity(250.0, 0.0),
             WithinRel(exposure_air(Exposure::open_slope).turbulence_intensity, 1e-9));
  settings.forecast[0].gust_mps = 8.0 * (1.0 + 0.5 * (usual - 1.0));
  CHECK_THAT(Wind(settings, road).gust_intensity(250.0, 0.0),
             WithinRel(0.5 * exposure_air(Exposure::open_slope).turbulence_intensity, 1e-9));
}

TEST_CASE("a forecast's gust speed makes gusts at most three times as strong as the class does, and never negative",
          "[wind]") {
  const Road road = scenes::flat_road(500.0);
  WindSettings settings = steady(8.0, 270.0);
  const double usual = gust_factor(standard_turbulence_intensity(10.0, 0.03));
  const double of_class = exposure_air(Exposure::open_slope).turbulence_intensity;
  const auto intensity = [&](double times_the_rise) {
    settings.forecast[0].gust_mps = 8.0 * (1.0 + times_the_rise * (usual - 1.0));
    return Wind(settings, road).gust_intensity(250.0, 0.0);
  };
  CHECK_THAT(intensity(2.9), WithinRel(2.9 * of_class, 1e-9));
  CHECK_THAT(intensity(3.1), WithinRel(3.0 * of_class, 1e-9));
  CHECK_THAT(intensity(40.0), WithinRel(3.0 * of_class, 1e-9));
  CHECK(intensity(-0.5) == 0.0);
}

TEST_CASE("inside a wood gusts stay below the largest intensity of the standard and the wind stays weak", "[wind]") {
  const Road road = scenes::constant_grade(1000.0, 0.0, Exposure::wood);
  Wind wind(gusty(10.0, 270.0), road);
  wind.raise_gusts(2);
  CHECK(wind.gust_intensity(500.0, 0.0) == 0.434);
  double strongest = 0.0;
  for (double t = 0.0; t < 3600.0; t += 1.0)
    strongest = std::max(strongest, std::abs(wind.at(500.0, wind.local_enu_mps(500.0, t)).cross_mps));
  CHECK(strongest < 0.3 * 10.0);
}

TEST_CASE("the drag area by yaw is that at yaw 0 straight ahead and stays within a tenth of it", "[wind]") {
  CHECK(yaw_drag_factor(0.0) == 1.0);
  for (double deg = 0.0; deg <= 180.0; deg += 1.0) {
    CHECK(yaw_drag_factor(rad_from_deg(deg)) >= 1.0);
    CHECK(yaw_drag_factor(rad_from_deg(deg)) <= 1.1);
  }
  // About 1/cos(yaw) up to 20 degrees: the force along the bicycle stays the same at one air speed.
  for (const double deg : {5.0, 10.0, 15.0, 20.0})
    CHECK_THAT(yaw_drag_factor(rad_from_deg(deg)), WithinAbs(1.0 / std::cos(rad_from_deg(deg)), 0.01));
  // Largest at 30 degrees, gone at 60 (assumed); straight in between.
  CHECK(yaw_drag_factor(rad_from_deg(30.0)) == Approx(1.08));
  CHECK(yaw_drag_factor(rad_from_deg(37.5)) == Approx(1.065));
  CHECK(yaw_drag_factor(rad_from_deg(52.5)) == Approx(1.025));
  CHECK(yaw_drag_factor(rad_from_deg(60.0)) == 1.0);
}
