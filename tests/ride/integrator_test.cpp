/// The integrator of the ride against closed forms and against an independent solver.

#include "leewheel/ride.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <functional>

#include "leewheel/motion.hpp"
#include "support/scenes.hpp"

using namespace leewheel;
namespace odeint = boost::numeric::odeint;

namespace {

// ---- An independent solution on a constant grade: time as the variable, error-controlled Dormand-Prince steps.

/// The rider of the closed forms on one grade; `real` adds what a ride cannot leave out: bearings and thinner air higher up.
struct Slope {
  double grade, power_W = 0.0;
  bool real = false;
  double moving_mass_kg = 83.0;
  AirState air = scenes::air_of_density(1.225);

  using State = std::array<double, 2>;  // x_m, v_mps
  void operator()(const State& s, State& rate, double) const {
    const double x_m = s[0], v_mps = s[1], slope_rad = std::atan(grade), weight_N = 83.0 * 9.80665;
    const double density = real ? air_density_kgpm3(air_at_altitude(air, 0.0, x_m * std::sin(slope_rad))) : 1.225;
    double force_N =
        -0.5 * density * 0.32 * v_mps * std::abs(v_mps) - weight_N * (0.004 * std::cos(slope_rad) + std::sin(slope_rad));
    if (real) force_N -= 0.091 + 0.0087 * v_mps;
    if (power_W > 0.0) force_N += 0.976 * power_W / v_mps;
    rate = {v_mps, force_N / moving_mass_kg};
  }
};

struct Moment {
  double time_s, x_m, v_mps;
};

/// First moment after the start at which `reached` is no longer negative, to 1e-12 s.
Moment ride_until(const Slope& slope, double v0_mps, const std::function<double(const Moment&)>& reached) {
  auto stepper = odeint::make_dense_output(1e-12, 1e-12, 0.05, odeint::runge_kutta_dopri5<Slope::State>());
  stepper.initialize(Slope::State{0.0, v0_mps}, 0.0, 1e-3);
  const auto at = [&](double time_s) {
    Slope::State s;
    stepper.calc_state(time_s, s);
    return Moment{time_s, s[0], s[1]};
  };
  for (int k = 0; k < 1000000; ++k) {
    auto [low_s, high_s] = stepper.do_step(slope);
    if (reached(at(high_s)) < 0.0) continue;
    while (high_s - low_s > 1e-12) (reached(at(0.5 * (low_s + high_s))) < 0.0 ? low_s : high_s) = 0.5 * (low_s + high_s);
    return at(high_s);
  }
  throw std::runtime_error("never reached");
}
Moment ride_to(const Slope& slope, double v0_mps, double x_m) {
  return ride_until(slope, v0_mps, [=](const Moment& m) { return m.x_m - x_m; });
}
Moment ride_for(const Slope& slope, double v0_mps, double time_s) {
  return ride_until(slope, v0_mps, [=](const Moment& m) { return m.time_s - time_s; });
}

// ---- The same rider in a ride.

Scenario slope_scene(double length_m, double grade, double power_W, double v0_mps, double step_s = 0.1) {
  Scenario s = scenes::scene(scenes::constant_grade(length_m, grade), {scenes::plain_rider("Solo")});
  scenes::set_effort(s, power_W / 250.0);
  s.ride.start_speed_mps = v0_mps;
  s.ride.step_s = step_s;
  return s;
}

double finish_s(const Scenario& scenario) { return ride_to_end(scenario).riders.at(0).finish_time_s; }

// ---- An independent solution on any road: distance as the variable, cell by cell, so that no step meets a break.

struct Course {
  const Scenario& scenario;
  Wind wind;

  explicit Course(const Scenario& s) : scenario(s), wind(s.wind, s.road) {}

  /// time_s, half m v^2 (J), and joules into air, tyres and bearings.
  using State = std::array<double, 5>;

  /// Slope over 40 m; up to 3 % a rider stays down, from 5 % sits up where speed allows.
  double climbing(double x_m) const {
    const double from_m = std::max(0.0, x_m - 20.0), to_m = std::min(scenario.road.length_m(), x_m + 20.0);
    const double slope = (scenario.road.elevation_m(to_m) - scenario.road.elevation_m(from_m)) / (to_m - from_m);
    return std::clamp((slope - 0.03) / 0.02, 0.0, 1.0);
  }
  double area_m2(double x_m, double v_mps) const {
    const RiderSettings& r = scenario.riders[0];
    const double climb = climbing(x_m);
    const double upright = climb * std::clamp((7.0 - v_mps) / 2.0, 0.0, 1.0);
    const double drops = (1.0 - climb) * std::clamp((v_mps - 9.0) / 2.0, 0.0, 1.0);
    return r.drag_area_hoods_m2 + upright * (r.drag_area_upright_m2 - r.drag_area_hoods_m2) +
           drops * (r.drag_area_drops_m2 - r.drag_area_hoods_m2);
  }
  State solve(double power_W) const {
    const RiderSettings& r = scenario.riders[0];
    const double mass_kg = r.total_mass_kg(),
                 moving_kg = mass_kg + r.wheel_inertia_kgm2 / (r.wheel_radius_m * r.wheel_radius_m);
    const double weight_N = mass_kg * scenario.gravity_mps2, v0 = scenario.ride.start_speed_mps;
    const double spacing = scenario.road.spacing_m();
    State s{0.0, 0.5 * moving_kg * v0 * v0, 0.0, 0.0, 0.0};
    auto stepper = odeint::make_controlled(1e-8, 1e-8, odeint::runge_kutta_dopri5<State>());
    const auto cells = static_cast<std::size_t>(std::lround(scenario.road.length_m() / spacing));
    for (std::size_t k = 0; k < cells; ++k) {
      const double from_m = static_cast<double>(k) * spacing,
                   slope_rad = std::atan(scenario.road.grade(from_m + 0.5 * spacing));
      const double rolling_N = weight_N * r.rolling_multiplier * scenario.road.rolling(from_m) * std::cos(slope_rad);
      const auto rate = [&](const State& now, State& d, double x_m) {
        const double v = std::sqrt(2.0 * now[1] / moving_kg);
        const double density = air_density_kgpm3(
            air_at_altitude(scenario.air, scenario.air_station_altitude_m, scenario.road.elevation_m(x_m)));
        const RoadWind w = wind.at(x_m, now[0]);
        const double air_N =
            air_force_N(0.5 * density, area_m2(x_m, v) + r.wheel_drag_area_m2, v - w.along_mps, w.cross_mps);
        const double bearings_N = 0.091 + 0.0087 * v;
        d = {1.0 / v,
             r.drivetrain_efficiency * power_W / v - air_N - rolling_N - bearings_N - weight_N * std::sin(slope_rad), air_N,
             rolling_N, bearings_N};
      };
      odeint::integrate_adaptive(stepper, rate, s, from_m, from_m + spacing, 0.2 * spacing);
    }
    return s;
  }
};

/// A rider who changes posture, wheels that turn in the air and have inertia, a changing wind, hills.
Scenario hilly_solo(const Road& road) {
  RiderSettings rider;
  rider.name = "Solo";
  rider.target_effort = 1.0;
  Scenario s = scenes::scene(road, {rider});
  s.air = AirState{18.0, 97000.0, 0.6};
  s.air_station_altitude_m = 300.0;
  s.wind.forecast = {{0.0, 5.0, 4.0}, {900.0, 8.0, 4.8}};
  s.ride.start_speed_mps = 6.0;
  return s;
}

Road course(bool sharp) {
  return sharp ? scenes::grades({0.02, -0.03, 0.09, 0.0, 0.06, -0.05, 0.12, 0.01}, 437.0) : scenes::smooth_hills(4000.0);
}

}  // namespace

TEST_CASE("the independent solver meets the closed forms of coasting downhill from rest", "[ride][solver]") {
  // v^2 = v_t^2 (1 - exp(-2 k x)), k = rho CdA/(2 m), no bearings; figures of separate code.
  struct Row {
    double x_m, v_mps, time_s;
  };
  const Row row = GENERATE(values<Row>({{100, 9.34793, 19.86064}, {200, 11.91109, 29.18046}, {500, 14.50011, 51.40226}}));
  const Moment m = ride_to({.grade = -0.06}, 0.0, row.x_m);
  CHECK(m.v_mps == Approx(row.v_mps).margin(6e-6).epsilon(0));
  CHECK(m.time_s == Approx(row.time_s).margin(6e-6).epsilon(0));
}

TEST_CASE("the independent solver meets the closed forms of coasting up to a stop", "[ride][solver]") {
  struct Row {
    double grade, x_m, time_s;
  };
  const Row row = GENERATE(values<Row>({{0.04, 92.4809, 19.9673}, {0.06, 67.7243, 14.3151}, {0.08, 53.5195, 11.1784}}));
  const Moment m = ride_until({.grade = row.grade}, 10.0, [](const Moment& at) { return -at.v_mps; });
  CHECK(m.x_m == Approx(row.x_m).margin(6e-5).epsilon(0));
  CHECK(m.time_s == Approx(row.time_s).margin(6e-5).epsilon(0));
}

TEST_CASE("the independent solver meets the figures for 250 W from 3 m/s with turning wheels", "[ride][solver]") {
  struct Row {
    double time_s, v_mps, x_m;
  };
  const Row row = GENERATE(values<Row>(
      {{5, 5.802631, 22.980762}, {10, 7.295842, 56.029125}, {30, 9.605218, 230.885807}, {60, 10.176358, 530.592353}}));
  const Moment m = ride_for({.grade = 0.0, .power_W = 250.0, .moving_mass_kg = 83.0 + 1.447462}, 3.0, row.time_s);
  CHECK(m.v_mps == Approx(row.v_mps).margin(6e-7).epsilon(0));
  CHECK(m.x_m == Approx(row.x_m).margin(6e-6).epsilon(0));
}

// A ride cannot leave out bearings and the thinning of the air with height; the solver, now trusted, takes them in.
// Band 1e-4 of the value, that of the published figures' comparison.

TEST_CASE("a rider coasts downhill from rest as the equation of motion says", "[ride]") {
  const double x_m = GENERATE(100.0, 200.0, 500.0);
  const Moment expected = ride_to({.grade = -0.06, .real = true}, 0.0, x_m);
  Scenario s = slope_scene(x_m, -0.06, 0.0, 0.0);
  const RideResult result = ride_to_end(s);
  REQUIRE(result.end == RideEnd::all_finished);
  CHECK(result.riders[0].finish_time_s == Approx(expected.time_s).epsilon(1e-4));
  const double half_m = 0.5 * 83.0;
  CHECK(std::sqrt(result.riders[0].ledger.kinetic_J / half_m) ==
        Approx(expected.v_mps).epsilon(1e-2));  // up to a step later
}

TEST_CASE("a rider reaches the terminal speed on a long descent", "[ride]") {
  const double grade = GENERATE(-0.02, -0.04, -0.06, -0.08, -0.10, -0.12);
  Scenario s = slope_scene(3000.0, grade, 0.0, 5.0);
  Ride ride(s);
  RideSample sample;
  while (ride.first_distance_m() < 2990.0) ride.step();
  ride.sample(sample);
  const Moment expected = ride_to({.grade = grade, .real = true}, 5.0, sample.distance_m[0]);
  CHECK(sample.speed_mps[0] == Approx(expected.v_mps).epsilon(1e-4));
}

TEST_CASE("a rider who coasts uphill stops where the equation of motion says and stays there", "[ride]") {
  const double grade = GENERATE(0.04, 0.06, 0.08);
  const Moment expected = ride_until({.grade = grade, .real = true}, 10.0, [](const Moment& at) { return -at.v_mps; });
  Ride ride(slope_scene(500.0, grade, 0.0, 10.0));
  RideSample sample;
  do {
    ride.step();
    ride.sample(sample);
  } while (sample.speed_mps[0] > 0.0f);
  CHECK(ride.time_s() == Approx(expected.time_s).margin(0.1).epsilon(0));  // one step
  while (ride.end() == RideEnd::riding) ride.step();
  CHECK(ride.end() == RideEnd::rider_stalled);
  CHECK(ride.result().riders[0].distance_m == Approx(expected.x_m).epsilon(1e-4));
}

TEST_CASE("a rider gains speed on the flat at 250 W as the equation of motion says", "[ride]") {
  const double time_s = GENERATE(5.0, 10.0, 30.0, 60.0);
  const Moment expected =
      ride_for({.grade = 0.0, .power_W = 250.0, .real = true, .moving_mass_kg = 83.0 + 0.14 / (0.311 * 0.311)}, 3.0, time_s);
  Scenario s = slope_scene(2000.0, 0.0, 250.0, 3.0);
  s.riders[0].wheel_inertia_kgm2 = 0.14;
  Ride ride(s);
  for (int k = 0; k < std::lround(time_s / s.ride.step_s); ++k) ride.step();
  RideSample sample;
  ride.sample(sample);
  CHECK(sample.speed_mps[0] == Approx(expected.v_mps).epsilon(1e-4));
  CHECK(sample.distance_m[0] == Approx(expected.x_m).epsilon(1e-4));
}

TEST_CASE("a steady rider takes the time that the closed form of steady speed says", "[ride]") {
  // Power equation solved at the density of mid-height, since density falls with height; from steady speed at once.
  const double grade = 0.01 * GENERATE(0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10);
  INFO("grade " << 100.0 * grade << " %");
  Scenario s = slope_scene(1000.0, grade, 250.0, 3.0);
  RoadLoad load{.mass_kg = 83.0, .drag_area_m2 = 0.32, .rolling = 0.004, .grade = grade};
  load.density_kgpm3 = air_density_kgpm3(air_at_altitude(s.air, 0.0, s.road.elevation_m(500.0)));
  const double v_mps = steady_speed_mps(load, 250.0);
  s.ride.start_speed_mps = v_mps;
  CHECK(finish_s(s) == Approx(1000.0 / v_mps).epsilon(1e-4));
}

TEST_CASE("halving the step changes the time of a hilly ride by less than 0.05 percent", "[ride]") {
  const bool sharp = GENERATE(false, true);
  INFO((sharp ? "sharp breaks of grade" : "smooth hills"));
  Scenario s = hilly_solo(course(sharp));
  double last_s = 0.0;
  for (const double step_s : {0.2, 0.1, 0.05, 0.025}) {
    s.ride.step_s = step_s;
    const double time_s = finish_s(s);
    if (last_s > 0.0) CHECK(std::abs(time_s / last_s - 1.0) < 5e-4);
    last_s = time_s;
  }
}

TEST_CASE("the error of a step falls with its square", "[ride]") {
  // Where forces are smooth; long steps, so that the error stands clear of the float32 of a sample.
  const double grade = GENERATE(0.0, 0.05, -0.05);
  const Moment expected = ride_for({.grade = grade, .power_W = 250.0, .real = true}, 3.0, 16.0);
  std::vector<double> errors_m;
  for (const double step_s : {1.0, 0.5, 0.25}) {
    Ride ride(slope_scene(2000.0, grade, 250.0, 3.0, step_s));
    while (ride.time_s() < 16.0) ride.step();
    RideSample sample;
    ride.sample(sample);
    errors_m.push_back(std::abs(sample.distance_m[0] - expected.x_m));
  }
  INFO("errors " << errors_m[0] << " " << errors_m[1] << " " << errors_m[2] << " m at 1, 0.5, 0.25 s");
  CHECK(std::log2(errors_m[0] / errors_m[1]) == Approx(2.0).margin(0.4));
  CHECK(std::log2(errors_m[1] / errors_m[2]) == Approx(2.0).margin(0.4));
}

TEST_CASE("a ride over hills agrees with an error-controlled solver in time and in every account of energy", "[ride]") {
  const bool sharp = GENERATE(false, true);
  INFO((sharp ? "sharp breaks of grade" : "smooth hills"));
  const Scenario s = hilly_solo(course(sharp));
  const double power_W = s.riders[0].critical_power_W;
  const Course::State expected = Course(s).solve(power_W);
  const RideResult result = ride_to_end(s);
  REQUIRE(result.end == RideEnd::all_finished);
  const RiderResult& r = result.riders[0];
  CHECK(r.ledger.braking_J == 0.0);  // no limit of speed was met, as the comparison asks
  CHECK(r.finish_time_s == Approx(expected[0]).epsilon(1e-4));
  // The books end with the step that crosses the line, up to 1 m in 3500 later than the solver.
  CHECK(r.ledger.pedal_J == Approx(power_W * expected[0]).epsilon(5e-4));
  CHECK(r.ledger.air_J == Approx(expected[2]).epsilon(5e-4));
  CHECK(r.ledger.rolling_J == Approx(expected[3]).epsilon(5e-4));
  CHECK(r.ledger.bearings_J == Approx(expected[4]).epsilon(5e-4));
}
