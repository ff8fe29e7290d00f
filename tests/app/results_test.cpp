#include "io/results.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

using namespace leewheel;

namespace {

/// Two kilometres and two riders whose figures are easy to add up by hand.
struct Told {
  Scenario scenario;
  RideResult result;
  std::vector<RideResult> solo;
};

RiderResult rider(const std::string& name, double slower) {
  RiderResult r;
  r.name = name;
  r.finished = true;
  r.finish_time_s = 400.0 + slower;
  r.distance_m = 2000.0;
  r.mean_power_W = 200.0;
  r.wbal_end_J = 9000.0;
  r.ledger = {.pedal_J = 80000.0,
              .drivetrain_J = 2000.0,
              .air_J = 40000.0,
              .rolling_J = 8000.0,
              .bearings_J = 0.0,
              .braking_J = 0.0,
              .potential_J = 30000.0,
              .kinetic_J = 0.0,
              .alone_J = 100000.0,
              .saved_J = 20000.0};
  r.landmarks = {{"Gate", 1000.0, 150.0, 210.0, 12000.0, 30000.0, 15000.0, 45000.0, 140.0},
                 {"finish", 2000.0, 400.0 + slower, 190.0, 9000.0, 80000.0, 20000.0, 100000.0, 200.0}};
  return r;
}

Told told() {
  RoadProfile profile;
  profile.spacing_m = 1000.0;
  profile.elevation_m = {100.0, 110.0, 170.0};
  profile.heading_rad = profile.rolling = profile.width_m = {1.0, 1.0, 1.0};
  profile.exposure_left = profile.exposure_right = {Exposure::wood, Exposure::wood, Exposure::wood};
  profile.abreast = {2, 2, 2};
  profile.landmarks = {{"Gate", 1000.0}};
  Scenario scenario{"Two", "", "", Road(profile), {}, 0.0, 9.80665, {}, {}, {}, {}, {}, {}, {}};
  scenario.riders.resize(2);
  scenario.riders[0].name = "Jörn, \"tall\"";
  scenario.riders[1].name = "小林";
  RideResult result{
      RideEnd::all_finished, 400.0, {rider(scenario.riders[0].name, 0.0), rider(scenario.riders[1].name, 5.0)}, {}, {},
      {{0, 1, 20000.0}}};
  result.events = {{EventKind::dropped, 300.0, 1500.0, {1}, 1, {Reason::wheel_too_costly, 0, {208.4, 200.0}}}};
  RideResult alone_again = result;
  alone_again.riders.resize(1);
  alone_again.riders[0].finish_time_s = 460.0;
  alone_again.riders[0].landmarks[0].time_s = 180.0;
  alone_again.riders[0].landmarks[1].time_s = 460.0;
  return {scenario, result, {alone_again, alone_again}};
}

}  // namespace

TEST_CASE("the stretches of a rider add up to the ride", "[results]") {
  const Told t = told();
  const auto summary = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo));
  const auto& stretches = summary["riders"][0]["stretches"];
  REQUIRE(stretches.size() == 2);
  CHECK(stretches[0]["saved_J"] == 15000.0);
  CHECK(stretches[1]["saved_J"] == 5000.0);
  CHECK(stretches[0]["saved_W"] == 100.0);
  CHECK(stretches[1]["saved_W"] == 20.0);
  CHECK(stretches[1]["work_kJ"] == 50.0);
  CHECK(stretches[0]["solo_time_s"] == 180.0);
  CHECK(stretches[1]["solo_time_s"] == 280.0);
}

TEST_CASE("saved_percent is of the work the same motion would have cost alone", "[results]") {
  const Told t = told();
  const auto first = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo))["riders"][0];
  CHECK(first["saved_percent"] == 20.0);
  CHECK(first["time_saved_s"] == 60.0);
}

TEST_CASE("the summary names the stretch and the rider where the wheel saved most", "[results]") {
  const Told t = told();
  const auto stretches = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo))["stretches"];
  CHECK(stretches[0]["saved_W"] == 100.0);
  CHECK(stretches[0]["mean_grade"] == 0.01);
  CHECK(stretches[1]["mean_grade"] == 0.06);
  CHECK(stretches[1]["saved_most_by"] == t.scenario.riders[0].name);
}

TEST_CASE("names with commas, quotes and accents come through CSV as RFC 4180 quotes them", "[results]") {
  const Told t = told();
  CHECK(riders_csv(t.scenario, t.result, t.solo).find("\n\"Jörn, \"\"tall\"\"\",yes,400.0,") != std::string::npos);
  CHECK(
      events_csv(t.scenario, t.result)
          .find(
              "300.0,1500.0,dropped,1,小林,\"the wheel of Jörn, \"\"tall\"\" asks 208 W, will give 200 W\",wheel_too_costly,"
              "\"Jörn, \"\"tall\"\"\",,asked_W=208.400; will_give_W=200.000\n") != std::string::npos);
}

TEST_CASE("a value that does not exist is null in JSON, empty in CSV and a dash for people", "[results]") {
  Told t = told();
  t.solo.clear();
  t.result.riders[0].mean_power_W = std::numeric_limits<double>::quiet_NaN();
  const auto summary = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo));
  CHECK(summary["riders"][0]["mean_power_W"].is_null());
  CHECK(summary["riders"][0]["time_saved_s"].is_null());
  CHECK(riders_csv(t.scenario, t.result, t.solo).find("yes,400.0,0.0,2000.0,,80.00,") != std::string::npos);
  CHECK(summary_text(t.scenario, t.result, t.solo, false).find("nan") == std::string::npos);
}

TEST_CASE("riders a second or more apart at the top come in as two groups, closer ones as one", "[results]") {
  Told t = told();
  const auto groups = [&](double apart_s) {
    for (RiderResult& rider : t.result.riders) rider.finished = true;
    t.result.riders[1].finish_time_s = t.result.riders[0].finish_time_s + apart_s;
    return nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo))["finish_groups"].size();
  };
  REQUIRE(t.result.riders.size() == 2);
  CHECK(groups(0.9) == 1);
  CHECK(groups(1.1) == 2);
}

TEST_CASE("columns of the summary line up whatever the script of a name", "[results]") {
  const Told t = told();
  std::istringstream lines(summary_text(t.scenario, t.result, t.solo, false));
  std::vector<std::size_t> ends;  // columns up to the finish time, counting each of the two wide characters twice
  for (std::string line; std::getline(lines, line) && ends.size() < 2;) {  // in the table of riders, which comes first
    if (const auto at = line.find("6:40"); line.starts_with("Jörn")) ends.push_back(at - 1);
    if (const auto at = line.find("6:45"); line.starts_with("小林")) ends.push_back(at - 2);
  }
  REQUIRE(ends.size() == 2);
  CHECK(ends[0] == ends[1]);
}

TEST_CASE("a name cannot send codes to the terminal", "[results]") {
  Told t = told();
  t.scenario.title = "\x1b[31mred\x07";
  t.scenario.riders[1].name = t.result.riders[1].name = "a\x1b[2Jb";
  const std::string text = summary_text(t.scenario, t.result, t.solo, false);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
}

TEST_CASE("colour appears only when asked for and changes no letter", "[results]") {
  const Told t = told();
  const std::string plain = summary_text(t.scenario, t.result, t.solo, false);
  std::string coloured = summary_text(t.scenario, t.result, t.solo, true);
  CHECK(coloured != plain);
  for (std::size_t at; (at = coloured.find('\x1b')) != std::string::npos;)
    coloured.erase(at, coloured.find('m', at) - at + 1);
  CHECK(coloured == plain);
}

TEST_CASE("the lee as GraphML points from giver to receiver and escapes names", "[results]") {
  const Told t = told();
  const std::string graph = lee_graphml(t.scenario, t.result);
  CHECK(graph.find("edgedefault=\"directed\"") != std::string::npos);
  CHECK(graph.find("<edge source=\"r0\" target=\"r1\">") != std::string::npos);
  CHECK(graph.find("<data key=\"saved_J\">20000.0</data>") != std::string::npos);
}
