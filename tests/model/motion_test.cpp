#include "leewheel/motion.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"

using namespace leewheel;

namespace {

/// The rider and course of Martin et al. 1998, J Appl Biomech 14:276, appendix. Its wind comes from 310 degrees at 2.94 m/s.
struct WorkedExample {
  double speed_mps = 8.36, start_mps = 8.28, end_mps = 8.45, duration_s = 56.42;
  double wheel_inertia_kgm2 = 0.14, wheel_radius_m = 0.311, heading_rad = rad_from_deg(340.0);
  RoadLoad load;

  WorkedExample() {
    const Eigen::Vector2d wind = wind_enu_mps(2.94, rad_from_deg(310.0));
    const Eigen::Vector2d ahead{std::sin(heading_rad), std::cos(heading_rad)}, left{-ahead.y(), ahead.x()};
    load = {.mass_kg = 90.0,
            .drag_area_m2 = 0.2565,
            .wheel_drag_area_m2 = 0.0044,
            .rolling = 0.0032,
            .efficiency = 0.976,
            .density_kgpm3 = 1.2234,
            .gravity_mps2 = 9.81,
            .grade = 0.003,
            .wind_along_mps = wind.dot(ahead),
            .wind_cross_mps = wind.dot(left),
            .air_form = AirForm::along_only};
  }
  double kinetic_W() const {
    const double moving_kg = load.mass_kg + wheel_inertia_kgm2 / (wheel_radius_m * wheel_radius_m);
    return 0.5 * moving_kg * (end_mps * end_mps - start_mps * start_mps) / duration_s;
  }
};

/// 83 kg, CdA 0.32 m2, Crr 0.004, 1.225 kg/m3, no bearings: the rider of the table "where 250 W goes".
RoadLoad table_load(double grade, double headwind_mps) {
  return {.mass_kg = 83.0,
          .drag_area_m2 = 0.32,
          .rolling = 0.004,
          .grade = grade,
          .wind_along_mps = -headwind_mps,
          .bearings = false};
}

/// 80 kg, CdA 0.32 m2, Crr 0.005, 1.2 kg/m3.
RoadLoad group_load(double grade) {
  return {.mass_kg = 80.0,
          .drag_area_m2 = 0.32,
          .rolling = 0.005,
          .density_kgpm3 = 1.2,
          .gravity_mps2 = 9.81,
          .grade = grade,
          .bearings = false};
}

}  // namespace

TEST_CASE("every term of the published worked example comes out", "[motion]") {
  // Martin et al. 1998, appendix. Bands: half the last digit printed; 0.15 W on the air and 0.2 W on the sum, as the paper
  // rounds the speed before it goes on.
  const WorkedExample example;
  const PowerSplit split = road_power(example.load, example.speed_mps);
  CHECK(split.air_W == Approx(158.8).margin(0.15).epsilon(0));
  CHECK(split.rolling_W == Approx(23.6).margin(0.05).epsilon(0));
  CHECK(split.bearings_W == Approx(1.4).margin(0.05).epsilon(0));
  CHECK(split.gravity_W == Approx(22.1).margin(0.05).epsilon(0));
  CHECK(example.kinetic_W() == Approx(2.3).margin(0.05).epsilon(0));
  const double wheel_W = split.air_W + split.rolling_W + split.bearings_W + split.gravity_W + example.kinetic_W();
  CHECK(wheel_W / example.load.efficiency == Approx(213.3).margin(0.2).epsilon(0));
}

TEST_CASE("the wind of the worked example splits into its parts along and across the road", "[motion]") {
  // Computed from the inputs of Martin et al. 1998 by plane trigonometry.
  const WorkedExample example;
  const ApparentWind air = apparent_wind(example.speed_mps, {example.load.wind_along_mps, example.load.wind_cross_mps});
  CHECK(-example.load.wind_along_mps == Approx(2.54611).margin(5e-6).epsilon(0));
  CHECK(std::abs(example.load.wind_cross_mps) == Approx(1.47).margin(5e-6).epsilon(0));
  CHECK(air.along_mps == Approx(10.90611).margin(5e-6).epsilon(0));
  CHECK(deg_from_rad(air.yaw_rad) == Approx(7.676).margin(5e-4).epsilon(0));
}

TEST_CASE("250 W go where an independent solution of the power equation says", "[motion]") {
  // Computed from the equation by separate code. Bands: 0.1 % of speed, 0.1 points of shares and gains.
  struct Row {
    double headwind_mps, grade_percent, v_mps, air, rolling, gravity, save_30, gain_30;
  };
  const Row row = GENERATE(values<Row>({{0, 0, 10.2432, 86.33, 13.67, 0.00, 25.90, 11.91},
                                        {0, 2, 7.7755, 37.76, 10.37, 51.87, 11.33, 7.67},
                                        {0, 4, 5.7676, 15.41, 7.69, 76.90, 4.62, 3.91},
                                        {0, 6, 4.3764, 6.73, 5.83, 87.44, 2.02, 1.88},
                                        {0, 8, 3.4609, 3.33, 4.60, 92.07, 1.00, 0.96},
                                        {0, 10, 2.8433, 1.85, 3.78, 94.38, 0.55, 0.54},
                                        {4, 0, 7.8854, 89.48, 10.52, 0.00, 26.84, 15.43},
                                        {4, 4, 4.7907, 29.74, 6.39, 63.87, 8.92, 7.69},
                                        {4, 8, 3.1241, 12.74, 4.16, 83.11, 3.82, 3.66}}));
  INFO("grade " << row.grade_percent << " %, headwind " << row.headwind_mps << " m/s");
  const RoadLoad load = table_load(0.01 * row.grade_percent, row.headwind_mps);
  const double v_mps = steady_speed_mps(load, 250.0);
  const PowerSplit split = road_power(load, v_mps);
  const double wheel_W = 0.976 * 250.0;
  CHECK(v_mps == Approx(row.v_mps).epsilon(1e-3));
  CHECK(100.0 * split.air_W / wheel_W == Approx(row.air).margin(0.1).epsilon(0));
  CHECK(100.0 * split.rolling_W / wheel_W == Approx(row.rolling).margin(0.1).epsilon(0));
  CHECK(100.0 * split.gravity_W / wheel_W == Approx(row.gravity).margin(0.1).epsilon(0));
  RoadLoad sheltered = load;
  sheltered.drag_factor = 0.7;
  CHECK(100.0 * (1.0 - road_power(sheltered, v_mps).crank_W / 250.0) == Approx(row.save_30).margin(0.1).epsilon(0));
  CHECK(100.0 * (steady_speed_mps(sheltered, 250.0) / v_mps - 1.0) == Approx(row.gain_30).margin(0.1).epsilon(0));
}

TEST_CASE("a thousand metres of height an hour cost 2.7241 W a kilogram", "[motion]") {
  // g/3.6: definition of potential energy.
  RoadLoad load = table_load(0.08, 0.0);
  const double v_mps = (1000.0 / 3600.0) / std::sin(std::atan(0.08));
  CHECK(road_power(load, v_mps).gravity_W / load.mass_kg == Approx(2.7241).margin(5e-5).epsilon(0));
}

TEST_CASE("speed answers to power as the derivative of the power equation says", "[motion]") {
  // Without wind and bearings P = a v^3 + b v, so d ln v / d ln P = 1/(1 + 2 share of the air). At 200 W separate code prints
  // the three digits below, cut off and not rounded.
  struct Row {
    double grade_percent, exponent_cut;
  };
  const Row row = GENERATE(values<Row>({{0, 0.381}, {2, 0.614}, {4, 0.812}, {6, 0.912}, {8, 0.955}}));
  INFO("grade " << row.grade_percent << " %");
  const RoadLoad load = group_load(0.01 * row.grade_percent);
  const double d = 1e-4;
  const double exponent = std::log(steady_speed_mps(load, 200.0 * (1 + d)) / steady_speed_mps(load, 200.0 * (1 - d))) /
                          std::log((1 + d) / (1 - d));
  const double air_share = road_power(load, steady_speed_mps(load, 200.0)).air_W / (0.976 * 200.0);
  CHECK(exponent == Approx(1.0 / (1.0 + 2.0 * air_share)).epsilon(1e-7));
  CHECK(std::floor(1000.0 * exponent) == Approx(1000.0 * row.exponent_cut).margin(1e-6).epsilon(0));
}

TEST_CASE("a rider who coasts downhill settles at the terminal speed of the closed form", "[motion]") {
  // v = sqrt(2 m g (sin - Crr cos) / (rho CdA)).
  struct Row {
    double grade_percent, v_mps;
  };
  const Row row = GENERATE(
      values<Row>({{-2, 8.15057}, {-4, 12.22219}, {-6, 15.23615}, {-8, 17.73722}, {-10, 19.91712}, {-12, 21.86996}}));
  INFO("grade " << row.grade_percent << " %");
  CHECK(steady_speed_mps(table_load(0.01 * row.grade_percent, 0.0), 0.0) == Approx(row.v_mps).epsilon(1e-6));
}

TEST_CASE("the vector form of the air force exceeds the along-road form by one over the cosine of yaw", "[motion]") {
  RoadLoad load = table_load(0.02, 2.0);
  load.wind_cross_mps = 5.0;
  const ApparentWind air = apparent_wind(8.0, {load.wind_along_mps, load.wind_cross_mps});
  const double vector_W = road_power(load, 8.0).air_W;
  load.air_form = AirForm::along_only;
  CHECK(road_power(load, 8.0).air_W / vector_W == Approx(std::cos(air.yaw_rad)).epsilon(1e-12));
}

TEST_CASE("a tailwind faster than the rider pushes", "[motion]") {
  const RoadLoad load = table_load(0.0, -10.0);
  CHECK(road_power(load, 6.0).air_W < 0.0);
  CHECK(road_power(load, 10.0).air_W == 0.0);
  CHECK(road_power(load, 12.0).air_W > 0.0);
}

TEST_CASE("the speed a power holds costs that power", "[motion]") {
  const double grade = GENERATE(-0.05, 0.0, 0.04, 0.12), headwind_mps = GENERATE(-8.0, 0.0, 8.0);
  const double power_W = GENERATE(50.0, 250.0, 600.0);
  RoadLoad load = table_load(grade, headwind_mps);
  load.bearings = true;
  CHECK(road_power(load, steady_speed_mps(load, power_W)).crank_W == Approx(power_W).epsilon(1e-9));
}

TEST_CASE("the shares of power add up to what the rider gives", "[motion]") {
  const PowerSplit split = road_power({.grade = 0.05, .wind_along_mps = -3.0, .wind_cross_mps = 2.0}, 5.0);
  CHECK(split.air_W + split.rolling_W + split.bearings_W + split.gravity_W + split.drivetrain_W ==
        Approx(split.crank_W).epsilon(1e-12));
}
