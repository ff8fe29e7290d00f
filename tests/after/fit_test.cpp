/// What one ride tells of its riders and of the wind.

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <random>

#include "after/fit.hpp"
#include "after/recorded.hpp"
#include "leewheel/units.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario loop_ride(double wind_kmh, double from_deg) {
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
  return {fit, area.after, area.after_sd,
          before.mean_enu_mps(0.0, 0.0) + fit.wind().at(0.0) - truth.mean_enu_mps(0.0, 0.0)};
}

}  // namespace

TEST_CASE("probe", "[.probe]") {
  const int seeds = std::getenv("SEEDS") ? std::atoi(std::getenv("SEEDS")) : 5;
  {
    Scenario ridden = loop_ride(22, 250), believed = loop_ride(0, 0);
    for (const bool speed : {true, false}) {
      recorded::Noise noise = recorded::none();
      noise.speed = speed;
      const Told t = told(ridden, believed, noise, 1);
      std::printf("noise-free speed %d: area %.4f +- %.4f wind %.3f %.3f misfit %.2f blocks %zu\n", speed, t.area, t.area_sd,
                  t.wind_error.x(), t.wind_error.y(), t.fit.misfit, t.fit.blocks);
      for (const auto& n : t.fit.numbers)
        std::printf("   q%d of %zu: %.3f+-%.3f -> %.4f +- %.4f\n", (int)n.what, n.of, n.before, n.before_sd, n.after, n.after_sd);
    }
  }
  double ss = 0, ww = 0;
  int in = 0, win = 0;
  for (int s = 1; s <= seeds; ++s) {
    Scenario ridden = loop_ride(22, 250), believed = loop_ride(22 * 0.7, 265);
    std::mt19937_64 draw(static_cast<std::uint64_t>(s));
    std::normal_distribution<double> normal;
    if (std::getenv("DRAW")) {
    ridden.riders[0].bike_mass_kg += normal(draw);
    ridden.riders[0].rolling_multiplier *= 1.0 + 0.1 * normal(draw);
    }
    if (std::getenv("GUST")) ridden.wind.gusts = Gusts::on;
    const Told t = told(ridden, believed, recorded::usual(), static_cast<std::uint64_t>(s));
    ss += (t.area - 1) * (t.area - 1), ww += t.wind_error.squaredNorm() / 2;
    in += std::abs(t.area - 1) < 1.2816 * t.area_sd;
    for (int a = 0; a < 2; ++a)
      win += std::abs(t.wind_error[a]) < 1.2816 * t.fit.find(a ? Learnt::wind_north : Learnt::wind_east, 0)->after_sd;
    std::printf("seed %d area %.4f +- %.4f wind %.3f %.3f +- %.3f misfit %.2f\n", s, t.area, t.area_sd, t.wind_error.x(),
                t.wind_error.y(), t.fit.find(Learnt::wind_east, 0)->after_sd, t.fit.misfit);
  }
  std::printf("area rms %.4f m2, wind rms %.3f each way, in80 %d of %d, wind in80 %d of %d\n", 0.32 * std::sqrt(ss / seeds),
              std::sqrt(ww / seeds), in, seeds, win, 2 * seeds);
}

TEST_CASE("probe2", "[.probe2]") {
  Scenario ridden = loop_ride(22, 250);
  const recorded::Recorded made = recorded::record(ridden, recorded::none(), 1, 0.0);
  const RoadMap map(ridden.road, made.recordings);
  Match match = match_to_road(ridden.road, map, made.recordings[0]);
  const RideAir air(ridden);
  double worst = 0, mean = 0;
  for (std::size_t k = 0; k < match.way.size(); ++k) {
    const double e = match.way.distance_m[k] - made.distance_m[0][k];
    worst = std::max(worst, std::abs(e)), mean += e / match.way.size();
  }
  std::printf("place error mean %.3f worst %.3f begin %.1f noise %.3f\n", mean, worst, match.way.begin_s, match.way.place_noise_m);
  const RiddenForFit r{ridden.riders[0], &match.way, std::vector<float>(match.way.size(), 0.0f)};
  for (const Block& b : blocks_of(air, r, 0)) {
    double a = 0, roll = 0;
    for (const auto& s : b.seconds) {
      const RoadWind w = air.wind(s.distance_m, s.forecast_enu_mps);
      a += air_force_N(s.half_density, s.area_m2 + s.wheel_area_m2, s.speed_mps - w.along_mps, w.cross_mps) * s.way_m;
    }
    for (double x : b.rolling_J_per_kg) roll += x;
    const double m = ridden.riders[0].total_mass_kg();
    std::printf("%.0f at %.0f wheel %.1f air %.1f roll %.1f rise %.1f kin %.1f -> surplus %.2f (noise %.1f)\n", b.from_s, b.at_m, b.wheel_J / 30, a / 30,
                m * roll / 30, m * b.rise_J_per_kg / 30, (b.kinetic_J + m * b.kinetic_J_per_kg) / 30,
                (b.wheel_J - a - m * roll - m * b.rise_J_per_kg - b.kinetic_J - m * b.kinetic_J_per_kg - b.bearings_J) / 30, b.model_W);
  }
}
