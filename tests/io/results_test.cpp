#include "io/results.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "support/told_ride.hpp"

using namespace leewheel;
using namespace told_ride;

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
  CHECK(stretches[0]["solo_riding_time_s"] == 180.0);
  CHECK(stretches[1]["solo_riding_time_s"] == 280.0);
}

TEST_CASE("the range tells the further days and each rider's finish on them, null where too few finished", "[results]") {
  const Told t = told();
  const auto none = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo))["range"];
  CHECK(none["days"] == 0);
  CHECK(none["riders"].empty());
  FinishRanges ranges{7, std::vector<std::optional<Middle80>>(t.scenario.riders.size())};
  ranges.finish_s[0] = {390.0, 425.0, 401.0, 12.0};
  const auto range = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo, ranges))["range"];
  CHECK(range["days"] == 7);
  REQUIRE(range["riders"].size() == t.scenario.riders.size());
  CHECK(range["riders"][0]["name"] == t.scenario.riders[0].name);
  CHECK(range["riders"][0]["finish_low_s"] == 390.0);
  CHECK(range["riders"][0]["finish_high_s"] == 425.0);
  CHECK(range["riders"][0]["finish_middle_s"] == 401.0);
  CHECK(range["riders"][0]["finish_ends_s"] == 12.0);
  CHECK(range["riders"][1]["finish_low_s"].is_null());
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
  CHECK(events_csv(t.scenario, t.result)
            .find("300.0,1500.0,dropped,1,小林,\"the wheel of Jörn, \"\"tall\"\" needs 208 W, gives at most 200 "
                  "W\",wheel_too_costly,"
                  "\"Jörn, \"\"tall\"\"\",,asked_W=208.400; will_give_W=200.000\n") != std::string::npos);
}

TEST_CASE("a value that does not exist is null in JSON and empty in CSV", "[results]") {
  Told t = told();
  t.solo.clear();
  t.result.riders[0].mean_power_W = std::numeric_limits<double>::quiet_NaN();
  const auto summary = nlohmann::json::parse(summary_json(t.scenario, t.result, t.solo));
  CHECK(summary["riders"][0]["mean_power_W"].is_null());
  CHECK(summary["riders"][0]["time_saved_s"].is_null());
  CHECK(riders_csv(t.scenario, t.result, t.solo).find("yes,400.0,400.0,0.0,2000.0,,80.00,") != std::string::npos);
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

TEST_CASE("towing as GraphML points from giver to receiver and escapes names", "[results]") {
  const Told t = told();
  const std::string graph = towing_graphml(t.scenario, t.result);
  CHECK(graph.find("edgedefault=\"directed\"") != std::string::npos);
  CHECK(graph.find("<edge source=\"r0\" target=\"r1\">") != std::string::npos);
  CHECK(graph.find("<data key=\"saved_J\">20000.0</data>") != std::string::npos);
}
