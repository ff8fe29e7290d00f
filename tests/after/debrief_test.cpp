/// The debrief as a whole on rides of our own.

#include "leewheel/debrief.hpp"

#include <catch2/catch.hpp>
#include <cstdio>

#include "after/recorded.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

DebriefInput input_of(const Scenario& scenario, std::vector<Recording> recordings) {
  DebriefInput input{.scenario = scenario};
  for (Recording& recording : recordings) {
    for (std::size_t r = 0; r < scenario.riders.size(); ++r)
      if (scenario.riders[r].name == recording.rider) input.recorded.push_back(r);
    input.alone.push_back(false);
    input.recordings.push_back(std::move(recording));
  }
  return input;
}

void show(const Debrief& d, const Scenario& s) {
  for (const RiderDebrief& r : d.riders) {
    std::printf("%s planned %.1f ridden %.1f from %.0f to %.0f stood %.0f/%.0f clock %.1f delay %.0f alone %.0f used %.0f on %.2f lost %.0f\n", s.riders[r.rider].name.c_str(), r.planned_s, r.ridden_s,
                r.from_m, r.to_m, r.planned_stood_s, r.stood_s, r.notes.clock_shift_s, r.notes.start_delay_s, r.alone_s, r.used_s, r.notes.on_road_share, r.notes.lost_s);
    for (std::size_t f = 0; f < factors; ++f) std::printf("   %s %.1f +- %.1f%s", factor_names[f].data(), r.part_s[f], r.part_sd_s[f], r.told[f] ? "*" : "");
    std::printf("\n");
    for (const auto& st : r.stands) std::printf("   stand at %.0f from %.0f for %.0f (plan %.0f)\n", st.at_m, st.from_s, st.stood_s, st.planned_s);
    std::printf("   strength %d %.0f +- %.0f over %.0f; heart %d %.0f\n", (int)r.strength.kind, r.strength.critical_power_W, r.strength.sd_W, r.strength.over_s, r.heart.told, r.heart.rise_s);
  }
  for (const LearnedNumber& n : d.numbers)
    std::printf("  number %d of %zu: %.4f+-%.4f -> %.4f+-%.4f %s with %d (%.3f / %.3f)\n", (int)n.what, n.of, n.before, n.before_sd, n.after, n.after_sd,
                how_sure_names[(int)n.sure].data(), n.with ? (int)*n.with : -1, n.alone_value, n.other_value);
  for (const auto& c : d.company) std::printf("  %zu with %zu %.0f..%.0f s\n", c.a, c.b, c.from_s, c.to_s);
  for (const auto& c : d.came_off) std::printf("  %zu came off %zu others at %.0f m %.0f s grade %.3f head %.1f P %.0f back %.0f\n", c.rider, c.from.size(), c.at_m, c.time_s, c.grade, c.head_mps, c.power_minute_W, c.back_s);
  std::printf("misfit %.2f blocks %zu\n", d.misfit, d.blocks);
}

}  // namespace

TEST_CASE("show equal", "[.show]") {
  const Scenario scenario = read_scenario(LEEWHEEL_SCENARIOS "/clubhill/scenario.yaml");
  std::printf("--- noise-free\n");
  show(debrief(input_of(scenario, recorded::record(scenario, recorded::none(), 1).recordings)), scenario);
  std::printf("--- noisy\n");
  show(debrief(input_of(scenario, recorded::record(scenario, recorded::usual(), 1).recordings)), scenario);
}

#include "after/blocks.hpp"
#include "after/plan_ride.hpp"
#include "after/ways.hpp"
#include "ride/watch.hpp"
TEST_CASE("probe company", "[.probe3]") {
  const Scenario scenario = read_scenario(LEEWHEEL_SCENARIOS "/clubhill/scenario.yaml");
  DebriefInput in = input_of(scenario, recorded::record(scenario, recorded::none(), 1).recordings);
  RiddenWays w = ways_of(in);
  PlannedRide plan = ride_plan(scenario);
  std::vector<std::vector<double>> brake(8);
  std::vector<std::vector<float>> fac(8);
  Ride ride(scenario);
  watch(ride, {}, [&](const RideView& v) { const RideResult res = v.ride.result(); for (int r = 0; r < 8; ++r) brake[r].push_back(res.riders[r].ledger.braking_J), fac[r].push_back(v.now.drag_factor[r]); });
  RideAir air(scenario);
  for (int k : {0, 3, 5}) {
    std::vector<float> f(w.ways[k].size());
    for (std::size_t i = 0; i < f.size(); ++i) f[i] = 1 - fac[k][std::min(i, fac[k].size() - 1)];
    for (const Block& b : blocks_of(air, {scenario.riders[k], &w.ways[k], f}, 0)) {
      double a = 0, roll = 0;
      for (const auto& s : b.seconds) { const RoadWind x = air.wind(s.distance_m, s.forecast_enu_mps); a += air_force_N(s.half_density, s.area_m2 * (1 - s.saved_share) + s.wheel_area_m2, s.speed_mps - x.along_mps, x.cross_mps) * s.way_m; }
      for (double x : b.rolling_J_per_kg) roll += x;
      const double m = scenario.riders[k].total_mass_kg();
      const int i0 = (int)b.from_s, i1 = (int)(b.from_s + b.span_s);
      std::printf("%d %.0f at %.0f wheel %.1f air %.1f -> surplus %.2f brake %.2f\n", k, b.from_s, b.at_m, b.wheel_J / b.span_s, a / b.span_s,
        (b.wheel_J - a - m * roll - m * b.rise_J_per_kg - b.kinetic_J - m * b.kinetic_J_per_kg - b.bearings_J) / b.span_s, (brake[k][i1] - brake[k][i0]) / b.span_s);
    }
  }
}
