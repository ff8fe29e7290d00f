/// What one ride tells of its riders and of the wind.

#include <catch2/catch.hpp>
#include <random>

#include "after/fit.hpp"
#include "leewheel/units.hpp"
#include "support/recorded.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// 22 km/h from 250 degrees, or another wind.
Scenario loop_ride(double wind_kmh = 22.0, double from_deg = 250.0) {
  Scenario scenario = scenes::scene(recorded::loop(), {scenes::plain_rider("Ada")});
  scenes::set_wind(scenario, mps_from_kmh(wind_kmh), from_deg);
  return scenario;
}

struct Told {
  Fit fit;
  double area, area_sd;
  Eigen::Vector2d wind_error;
};

Told told(const Scenario& ridden, const Scenario& believed, const recorded::Noise& noise, std::uint64_t seed) {
  const recorded::Recorded made = recorded::record(ridden, noise, seed, 0.0);
  const RoadMap map(believed.road, made.recordings);
  Match match = match_to_road(believed.road, map, made.recordings[0]);
  REQUIRE(match.fault == MatchFault::none);
  const RideAir air(believed);
  const Fit fit = fit_numbers(air, {{believed.riders[0], &match.way, std::vector<float>(match.way.size(), 0.0f)}});
  const FittedNumber& area = *fit.find(Learnt::drag_area, 0);
  const Wind truth(ridden.wind, ridden.road), before(believed.wind, believed.road);
  return {fit, area.after, area.after_sd, before.mean_enu_mps(0.0, 0.0) + fit.wind().at(0.0) - truth.mean_enu_mps(0.0, 0.0)};
}

/// Over seeds: errors and how often the 80 % intervals hold. Mass, tyres and meter are drawn from what was believed of them.
struct Seeds {
  double area_rms_m2 = 0.0, wind_rms_mps = 0.0, area_held = 0.0;
};
Seeds over_seeds(std::uint64_t count) {
  Seeds sum;
  for (std::uint64_t seed = 1; seed <= count; ++seed) {
    Scenario ridden = loop_ride();
    std::mt19937_64 draw(seed);
    std::normal_distribution<double> normal;
    ridden.riders[0].bike_mass_kg += normal(draw);
    ridden.riders[0].rolling_multiplier *= 1.0 + 0.1 * normal(draw);
    const Told t = told(ridden, loop_ride(22.0 * 0.7, 265.0), recorded::usual(), seed);
    const double area_m2 = 0.32 * (t.area - 1.0);
    sum.area_rms_m2 += area_m2 * area_m2, sum.wind_rms_mps += 0.5 * t.wind_error.squaredNorm();
    sum.area_held += std::abs(t.area - 1.0) < 1.2816 * t.area_sd;
  }
  const auto n = static_cast<double>(count);
  return {std::sqrt(sum.area_rms_m2 / n), std::sqrt(sum.wind_rms_mps / n), sum.area_held / n};
}

}  // namespace

TEST_CASE("without noise a loop tells drag area to 1 % and a wind of 22 km/h that nobody forecast", "[fit]") {
  recorded::Noise noise = recorded::none();
  noise.speed = GENERATE(true, false);
  const Told t = told(loop_ride(), loop_ride(0.0, 0.0), noise, 1);
  CHECK(std::abs(t.area - 1.0) < 0.01);  // 3 % would do without speed
  CHECK(t.wind_error.norm() < 0.2);
  CHECK(t.wind_error.norm() / mps_from_kmh(22.0) < std::sin(rad_from_deg(4.0)));
}

TEST_CASE("with noise and a wrong forecast a loop tells drag area and wind", "[fit]") {
  const Seeds s = over_seeds(6);
  CHECK(s.area_rms_m2 <= 0.017);
  CHECK(s.wind_rms_mps <= 0.15);
}

TEST_CASE("the same over forty seeds, and 80 % intervals hold as often as they say", "[.seeds]") {
  const Seeds s = over_seeds(40);
  INFO("area " << s.area_rms_m2 << " m2, wind " << s.wind_rms_mps << " m/s, held " << s.area_held);
  CHECK(s.area_rms_m2 <= 0.017);
  CHECK(s.wind_rms_mps <= 0.15);
  CHECK(s.area_held >= 0.65);
  CHECK(s.area_held <= 0.92);
}

TEST_CASE("one straight windy road tells drag and wind only together", "[fit]") {
  Scenario ridden = scenes::scene(scenes::flat_road(15000.0), {scenes::plain_rider("Ada")});
  scenes::set_wind(ridden, 6.0, 20.0);
  const Told t = told(ridden, ridden, recorded::usual(), 2);
  std::size_t area = 0, north = 0;
  for (std::size_t k = 0; k < t.fit.numbers.size(); ++k) {
    if (t.fit.numbers[k].what == Learnt::drag_area) area = k;
    if (t.fit.numbers[k].what == Learnt::wind_north) north = k;
  }
  CHECK(std::abs(t.fit.correlation(area, north)) > 0.85);
}

TEST_CASE("a climb alone tells no drag area", "[fit]") {
  const Scenario ridden = scenes::scene(scenes::constant_grade(8000.0, 0.09), {scenes::plain_rider("Ada")});
  const Told t = told(ridden, ridden, recorded::usual(), 3);
  CHECK(t.area_sd > 0.15 / 3.0);
}

TEST_CASE("who brakes is left out of the balance", "[fit]") {
  const recorded::Recorded made = recorded::record(loop_ride(), recorded::none(), 1, 0.0);
  const Scenario scenario = loop_ride();
  const Match match = match_to_road(scenario.road, RoadMap(scenario.road, made.recordings), made.recordings[0]);
  const RideAir air(scenario);
  for (const Block& b : blocks_of(air, {scenario.riders[0], &match.way, std::vector<float>(match.way.size(), 0.0f)}, 0)) {
    double air_J = 0.0, rolling_J_per_kg = 0.0;
    for (const BlockSecond& s : b.seconds) {
      const RoadWind wind = air.wind(s.distance_m, s.forecast_enu_mps);
      air_J +=
          air_force_N(s.half_density, s.area_m2 + s.wheel_area_m2, s.speed_mps - wind.along_mps, wind.cross_mps) * s.way_m;
    }
    for (const double rolling : b.rolling_J_per_kg) rolling_J_per_kg += rolling;
    const double mass_kg = scenario.riders[0].total_mass_kg();
    const double taken_J =
        air_J + b.kinetic_J + b.bearings_J + mass_kg * (b.kinetic_J_per_kg + b.rise_J_per_kg + rolling_J_per_kg);
    INFO("block from " << b.from_s << " s");
    CHECK(std::abs(b.wheel_J - taken_J) / b.span_s < 3.0);  // starting from rest misses most, over its first second
  }
}

TEST_CASE("a mass that nobody gave is not learned, and widens what rests on it", "[fit]") {
  const Scenario scenario = loop_ride();
  const recorded::Recorded made = recorded::record(scenario, recorded::usual(), 1, 0.0);
  const Match match = match_to_road(scenario.road, RoadMap(scenario.road, made.recordings), made.recordings[0]);
  const RideAir air(scenario);
  const std::vector<RiddenForFit> riders{{scenario.riders[0], &match.way, std::vector<float>(match.way.size(), 0.0f)}};
  const Fit known = fit_numbers(air, riders);
  Fit open = known;
  widen_by_mass(air, riders, {}, 12.0, open);
  CHECK(open.find(Learnt::mass, 0)->before_sd == 12.0);
  CHECK(open.find(Learnt::mass, 0)->after_sd > 10.0);
  CHECK(open.find(Learnt::drag_area, 0)->after == known.find(Learnt::drag_area, 0)->after);
  CHECK(open.find(Learnt::drag_area, 0)->after_sd > known.find(Learnt::drag_area, 0)->after_sd);
}
