/// Notes for a road, from rides alone.

#include "leewheel/road_notes.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "io/scenario_reader.hpp"
#include "leewheel/wheel_worth.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// 2 km level into a headwind of 4 m/s, then 2 km at 8 %.
Scenario level_then_steep() {
  RoadProfile profile = scenes::flat_road(4000.0).profile();
  for (std::size_t k = 0; k < profile.elevation_m.size(); ++k)
    profile.elevation_m[k] = 0.08 * std::max(0.0, static_cast<double>(k) * profile.spacing_m - 2000.0);
  profile.landmarks = {{"Foot", 2000.0}};
  Scenario s = scenes::scene(Road(profile), {scenes::plain_rider("Ada", 240.0), scenes::plain_rider("Ben", 280.0)});
  const double heading_deg = profile.heading_rad.front() * 180.0 / 3.14159265358979;
  scenes::set_wind(s, 4.0, heading_deg);
  return s;
}

}  // namespace

TEST_CASE("each wished time is ridden, by a rider as strong as it asks, all with the same shares of effort", "[notes]") {
  const RoadNotes notes = road_notes(level_then_steep(), {900.0, 780.0, 1020.0});
  INFO(notes.why_not);
  REQUIRE(notes.found);
  REQUIRE(notes.strengths.size() == 3);
  CHECK(notes.middle == 0);
  CHECK(notes.strengths[1].mean_power_W > notes.strengths[0].mean_power_W);
  CHECK(notes.strengths[0].mean_power_W > notes.strengths[2].mean_power_W);
  for (const NotesStrength& s : notes.strengths) {
    CHECK(std::abs(s.time_s - s.wished_s) < wished_within_s);
    REQUIRE(s.arrive_s.size() == 2);
    CHECK(s.arrive_s[1] == s.time_s);
    CHECK(s.power_W[0] / s.mean_power_W == Approx(notes.stretches[0].effort_share).margin(0.02));
  }
}

TEST_CASE("a wheel pays on the level and not on the steep, by the same law as `shelter`", "[notes]") {
  const Scenario s = level_then_steep();
  const RoadNotes notes = road_notes(s, {900.0});
  REQUIRE(notes.found);
  REQUIRE(notes.stretches.size() == 2);
  const NotesStretch &level = notes.stretches[0], &steep = notes.stretches[1];
  CHECK(level.grade == Approx(0.0).margin(1e-9));
  CHECK(steep.grade == Approx(0.08).margin(1e-3));
  CHECK(steep.steepest_grade == Approx(0.08).margin(1e-3));
  CHECK(level.wheel_saves_W > 10.0 * steep.wheel_saves_W);
  CHECK(steep.wheel_saves_W > 0.0);
  CHECK(steep.left_s == 0.0);
  CHECK(level.left_s == Approx(notes.strengths[0].time_s - notes.strengths[0].arrive_s[0]));
  CHECK(level.headwind_mps > 1.0);
  WheelPlace place{.headwind_mps = level.headwind_mps, .gap_m = notes.wheel_gap_m, .density_kgpm3 = 1.225};
  place.rolling = s.road.rolling(1000.0);
  const double by_hand_W = wheel_worth_at_speed(s.riders[0], place, s.wake, level.speed_mps).saved_W;
  CHECK(level.wheel_saves_W == Approx(by_hand_W).epsilon(0.1));  // speed and turbulence of the stretch are not constant
}

TEST_CASE("another wind: none is sooner, more is later, turned round is soonest on a road that only meets a headwind",
          "[notes]") {
  const RoadNotes notes = road_notes(level_then_steep(), {900.0});
  REQUIRE(notes.found);
  REQUIRE(notes.winds.size() == 3);
  CHECK(notes.winds[0].later_s < -5.0);
  CHECK(notes.winds[1].later_s > 5.0);
  CHECK(notes.winds[2].later_s < notes.winds[0].later_s);
  CHECK(notes.winds[0].best_stretch == 0);
  Scenario calm = level_then_steep();
  scenes::set_wind(calm, 0.0, 0.0);
  CHECK(road_notes(calm, {900.0}).winds.empty());
}

TEST_CASE("a time that nobody rides is no plan, and says why", "[notes]") {
  for (const std::vector<double>& times_s : {std::vector<double>{120.0}, std::vector<double>{900.0, 100000.0, 901.0}}) {
    const RoadNotes notes = road_notes(level_then_steep(), times_s);
    CHECK_FALSE(notes.found);
    CHECK(notes.not_possible_s == (times_s.size() == 1 ? 120.0 : 100000.0));
    CHECK(notes.possible_from_s > 300.0);
    CHECK(notes.possible_from_s < 780.0);
    CHECK(notes.possible_to_s > 1020.0);
  }
}

TEST_CASE("what a wheel saves counts no descent, and no wind makes one the best place for it", "[notes]") {
  RoadProfile profile = scenes::flat_road(4000.0).profile();
  for (std::size_t k = 0; k < profile.elevation_m.size(); ++k)
    profile.elevation_m[k] = 200.0 - 0.05 * std::max(0.0, static_cast<double>(k) * profile.spacing_m - 1000.0);
  profile.landmarks = {{"Brow", 2000.0}};
  Scenario s = scenes::scene(Road(profile), {scenes::plain_rider("Ada", 240.0)});
  scenes::set_wind(s, 2.0, profile.heading_rad.front() * 180.0 / M_PI);
  const RoadNotes notes = road_notes(s, {400.0});
  REQUIRE(notes.found);
  const NotesStretch &to_brow = notes.stretches[0], &down = notes.stretches[1];
  CHECK(to_brow.falls_from_m == Approx(1000.0).margin(50.0));
  CHECK(to_brow.falls_m == Approx(1000.0).margin(50.0));
  CHECK(down.descent());
  CHECK(down.wheel_saves_W == 0.0);
  REQUIRE(notes.winds.size() == 3);
  for (const NotesWind& wind : notes.winds) CHECK(wind.best_stretch == 0);
}

TEST_CASE("a wall that the lowest gear is too high for is walked, and the day is judged before it", "[notes]") {
  RoadProfile profile = scenes::flat_road(6000.0).profile();
  for (std::size_t k = 0; k < profile.elevation_m.size(); ++k) {
    const double at_m = static_cast<double>(k) * profile.spacing_m;
    profile.elevation_m[k] = 0.03 * at_m + 0.16 * std::clamp(at_m - 1400.0, 0.0, 300.0);
  }
  const RoadNotes notes = road_notes(scenes::scene(Road(profile), {scenes::plain_rider("Ada", 200.0)}), {1800.0});
  REQUIRE(notes.found);
  REQUIRE(notes.strengths[0].walks.size() == 1);
  CHECK(notes.strengths[0].walks[0].from_m == Approx(1400.0).margin(20.0));
  CHECK(notes.strengths[0].walks[0].to_m == Approx(1700.0).margin(20.0));
  CHECK((notes.pacing.decide_at_m <= 1400.0 || notes.pacing.decide_at_m > 2000.0));
}

TEST_CASE("the usual times are those of the quickest, the middle and the slowest, to five minutes", "[notes]") {
  const std::vector<double> times_s = usual_times_s(level_then_steep());
  CHECK((times_s.size() == 1 || times_s.size() == 2));
  for (const double time_s : times_s) CHECK(std::fmod(time_s, 300.0) == 0.0);
}
