/// Lines of equals on roads of one grade: every further rider gains, and not much less than power and wake allow.

#include <oneapi/tbb/parallel_for.h>
#include <catch2/catch.hpp>

#include <cstdio>
#include <numeric>

#include "company/rides.hpp"
#include "evidence/even_line.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

constexpr std::size_t sizes[] = {1, 2, 3, 4, 6, 8, 12};
constexpr std::size_t size_count = std::size(sizes);
constexpr double from_m = 2000.0, to_m = 7500.0;  // away from the start and the finish

struct Steady {
  double speed_mps = 0.0, power_W = 0.0;
};

Scenario line_of(std::size_t riders, double head_wind_mps, double grade) {
  std::vector<RiderSettings> line(riders);
  for (std::size_t k = 0; k < riders; ++k) {
    line[k] = scenes::plain_rider(std::string("rider ") + static_cast<char>('a' + k));
    line[k].target_effort = 0.85;
  }
  Scenario s = scenes::scene(scenes::constant_grade(8000.0, grade), line);
  s.tactics = TacticsSettings{};
  s.ride.kind = RideKind::together;
  scenes::set_wind(s, head_wind_mps, 0.0);
  return s;
}

/// Mean over the riders between two places.
Steady steady_part(const Scenario& s) {
  const RideResult result = ride_to_end(s, {.notes_debts = false, .timing_points_m = {from_m, to_m}});
  Steady mean;
  const auto riders = static_cast<double>(s.riders.size());
  for (const RiderResult& r : result.riders) {
    const Passage &from = r.timing.at(0), &to = r.timing.at(1);
    mean.speed_mps += (to_m - from_m) / (to.time_s - from.time_s) / riders;
    mean.power_W += (to.pedal_J - from.pedal_J) / (to.time_s - from.time_s) / riders;
  }
  return mean;
}

void check_line(double wind_mps, double grade) {
  Steady ridden[size_count];
  double ideal[size_count];
  tbb::parallel_for(std::size_t{0}, size_count, [&](std::size_t k) {
    const Scenario s = line_of(sizes[k], wind_mps, grade);
    ridden[k] = steady_part(s);
    ideal[k] = evidence::even_line_gain(evidence::even_line(s), sizes[k]);
  });
  std::string table;
  for (std::size_t k = 0; k < size_count; ++k) {
    char row[160];
    std::snprintf(row, sizeof row,
                  "%4.1f m/s %3.0f %% n=%2zu  %7.4f m/s %6.1f W  gain %5.2f %%  closed form %5.2f %%  share %4.0f %%\n",
                  wind_mps, 100.0 * grade, sizes[k], ridden[k].speed_mps, ridden[k].power_W,
                  100.0 * (ridden[k].speed_mps / ridden[0].speed_mps - 1.0), 100.0 * ideal[k],
                  k == 0 ? 100.0 : 100.0 * (ridden[k].speed_mps / ridden[0].speed_mps - 1.0) / ideal[k]);
    table += row;
  }
  INFO("\n" << table);
  for (std::size_t k = 1; k < size_count; ++k) {
    INFO("line of " << sizes[k]);
    CHECK(ridden[k].speed_mps >= ridden[k - 1].speed_mps);
    CHECK(ridden[k].speed_mps / ridden[0].speed_mps - 1.0 >= (sizes[k] > 8 ? 0.70 : 0.75) * ideal[k]);
    CHECK(ridden[k].power_W <= 1.02 * 212.5);
  }
}

}  // namespace

TEST_CASE("a line gains with every rider uphill", "[lines]") { check_line(GENERATE(0.0, 3.0), GENERATE(0.02, 0.04)); }
TEST_CASE("a line gains with every rider uphill into a strong wind", "[lines]") { check_line(6.0, 0.04); }
TEST_CASE("a line gains with every rider on the level", "[lines]") { check_line(GENERATE(0.0, 3.0, 6.0), 0.0); }
TEST_CASE("a line gains with every rider on 2 % into a strong wind", "[lines]") { check_line(6.0, 0.02); }
