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
