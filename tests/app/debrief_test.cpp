/// `leewheel debrief`, run as a person would run it.

#include <nlohmann/json.hpp>
#include <regex>

#include "app/support.hpp"
#include "io/scenario_reader.hpp"
#include "support/recorded.hpp"

using app_test::Answer, app_test::Folder, app_test::larkmoor, app_test::text_of;
namespace fs = std::filesystem;
namespace recorded = ::leewheel::recorded;
using Catch::Matchers::Contains;
using ::leewheel::read_scenario;
using ::leewheel::Recording;
using ::leewheel::Scenario;

namespace {

/// The riders of larkmoor as recorded, each in a file of its own.
void write_recordings(const Folder& folder) {
  const Scenario scenario = read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml");
  recorded::Noise noise = recorded::usual();
  for (const Recording& recording : recorded::record(scenario, noise, 1).recordings)
    folder.write(recording.rider + ".gpx", recorded::gpx_of(recording));
}

nlohmann::json json_of(const Folder& folder) { return nlohmann::json::parse(text_of(folder / "after/debrief.json")); }

std::string asked(const std::string& more) { return "debrief " + larkmoor() + " " + more; }

}  // namespace

TEST_CASE("a debrief writes page, JSON, table and learned numbers, and nothing of places or hearts", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  const Answer answer = app_test::leewheel(folder, asked("--recorded Cato=Cato.gpx --recorded Elin=Elin.gpx -o after"));
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK_THAT(answer.out, Contains("Where the time went") && Contains("Cato: planned") && Contains("Cautions"));
  for (const char* name : {"debrief.html", "debrief.json", "debrief_stretches.csv", "learned.yaml"}) {
    const std::string text = text_of(folder / "after" / name);
    INFO(name);
    CHECK(text.size() > 200);
    CHECK_FALSE(std::regex_search(text, std::regex("50\\.0[0-9]{3}")));  // degrees north of the recordings
    CHECK(text.find("heart_r") == std::string::npos);
    CHECK(text.find("<script") == std::string::npos);
  }
  const std::string page = text_of(folder / "after/debrief.html");
  const auto count = [&](const std::string& what) {
    std::size_t found = 0;
    for (std::size_t at = page.find(what); at != std::string::npos; at = page.find(what, at + 1)) ++found;
    return found;
  };
  CHECK(count("viewBox=\"0 0 900 ") == 6);  // gaps, power and time of two riders, company
  CHECK(count("viewBox=\"0 0 380 ") == 6);  // each again for a phone, where letters of 900 would be too small
  CHECK(count("data-label=\"what is left\"") == json_of(folder)["riders"][0]["stretches"].size() * 2);
  const auto json = json_of(folder);
  CHECK(json["riders"].size() == 2);
  CHECK(json["riders"][0]["name"] == "Cato");
  CHECK_FALSE(json["not_recorded"].empty());
  const Answer again =
      app_test::leewheel(folder, asked("--recorded Cato=Cato.gpx --recorded Elin=Elin.gpx -o again --threads 1 --json"));
  CHECK(again.out == text_of(folder / "after/debrief.json"));
  CHECK(text_of(folder / "again/debrief.html") == text_of(folder / "after/debrief.html"));
}

TEST_CASE("without a scenario the road is that of the recording", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  const Answer answer = app_test::leewheel(folder, "debrief --recorded Cato=Cato.gpx -o after");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK(std::regex_search(answer.out, std::regex("Cato: ridden in [0-9]+:")));
  CHECK_THAT(answer.out, Contains("250 ± 62 W") && Contains("83.0 ± 12.0 kg"));  // as little known as anybody's
}

TEST_CASE("learned numbers are laid over a scenario by name", "[debrief]") {
  const Folder folder;
  folder.write("learned.yaml",
               "ride: {title: x, date: \"\"}\nriders:\n  - {name: Cato, drag_area_hoods_m2: 0.271}\nnumbers: []\n");
  const Scenario before = read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml");
  fs::copy(LEEWHEEL_SCENARIOS, folder / "scenarios", fs::copy_options::recursive);
  std::ofstream(folder / "scenarios/larkmoor/scenario.yaml", std::ios::app) << "\nlearned: {file: ../../learned.yaml}\n";
  const Scenario after = read_scenario((folder / "scenarios/larkmoor/scenario.yaml").string());
  for (std::size_t r = 0; r < after.riders.size(); ++r)
    CHECK(after.riders[r].drag_area_hoods_m2 ==
          (after.riders[r].name == "Cato" ? 0.271 : before.riders[r].drag_area_hoods_m2));
}

TEST_CASE("what cannot be debriefed is told in one line, and nothing is written", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  const auto refused = [&](const std::string& more) {
    const Answer answer = app_test::leewheel(folder, asked(more + " -o after"));
    CHECK(answer.code == 2);
    CHECK_FALSE(fs::exists(folder / "after"));
    return answer.err;
  };
  CHECK_THAT(refused("--recorded Nobody=Cato.gpx"), Contains("found Nobody, who does not ride in the scenario"));
  CHECK_THAT(refused("--recorded Cato.gpx"), Contains("expected NAME=FILE"));
  CHECK_THAT(refused("--recorded Cato=Cato.gpx --recorded Elin=Cato.gpx"), Contains("the same recording as that of Cato"));
  CHECK_THAT(refused("--recorded Cato=Cato.gpx --recorded Cato=Elin.gpx"), Contains("a second recording of Cato"));
  CHECK_THAT(refused("--recorded Cato=Cato.gpx --alone Elin.gpx"), Contains("found no recording of that name"));
  CHECK_THAT(refused("--recorded Cato=Cato.gpx --all-out Cato:nowhere"), Contains("expected NAME:FROM-TO"));
  CHECK_THAT(refused("--recorded Cato=missing.gpx"), Contains("missing.gpx: not found"));
}

TEST_CASE("a debrief never overwrites what it read", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  fs::create_directory(folder / "after");
  fs::copy_file(folder / "Cato.gpx", folder / "after/debrief.json");
  const std::string before = text_of(folder / "after/debrief.json");
  const Answer answer = app_test::leewheel(folder, asked("--recorded Cato=after/debrief.json -o after"));
  CHECK(answer.code == 2);
  CHECK_THAT(answer.err, Contains("would be overwritten"));
  CHECK(text_of(folder / "after/debrief.json") == before);
}

TEST_CASE("files that the scenario names are not overwritten either, and no folder is made", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  fs::copy(LEEWHEEL_SCENARIOS, folder / "scenarios", fs::copy_options::recursive);
  const std::string learned = "ride: {title: x, date: \"\"}\nriders: []\nnumbers: []\n";
  std::ofstream(folder / "scenarios/larkmoor/learned.yaml") << learned;
  std::ofstream(folder / "scenarios/larkmoor/scenario.yaml", std::ios::app) << "\nlearned: {file: learned.yaml}\n";
  const Answer answer =
      app_test::leewheel(folder, "debrief scenarios/larkmoor/scenario.yaml --recorded Cato=Cato.gpx -o scenarios/larkmoor");
  CHECK(answer.code == 2);
  CHECK(std::count(answer.err.begin(), answer.err.end(), '\n') == 1);
  CHECK_THAT(answer.err, Contains("learned.yaml: --out: found a folder in which this file, which is read"));
  CHECK(text_of(folder / "scenarios/larkmoor/learned.yaml") == learned);
  CHECK_FALSE(fs::exists(folder / "scenarios/larkmoor/debrief.html"));
}

TEST_CASE("an effort beyond the ride, one of nobody recorded, and a clock a day off are refused before anything is written",
          "[debrief]") {
  const Folder folder;
  const Scenario scenario = read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml");
  recorded::Noise noise = recorded::usual();
  noise.clock_s.assign(scenario.riders.size(), 0.0);
  for (std::size_t r = 0; r < scenario.riders.size(); ++r)
    if (scenario.riders[r].name == "Elin") noise.clock_s[r] = 86401.0;
  for (const Recording& recording : recorded::record(scenario, noise, 1).recordings)
    folder.write(recording.rider + ".gpx", recorded::gpx_of(recording));
  const auto refused = [&](const std::string& more) {
    const Answer answer = app_test::leewheel(folder, asked("--recorded Cato=Cato.gpx " + more + " -o after"));
    CHECK(answer.code == 2);
    CHECK(std::count(answer.err.begin(), answer.err.end(), '\n') == 1);
    CHECK_FALSE(fs::exists(folder / "after"));
    return answer.err;
  };
  CHECK_THAT(refused("--all-out Cato:12:00-99:00:00"), Contains("Cato: found an effort beyond what was recorded"));
  CHECK_THAT(refused("--all-out Elin:12:00-15:30"), Contains("found Elin, of whom there is no recording"));
  CHECK_THAT(refused("--recorded Elin=Elin.gpx"), Contains("found Elin with the others only 1.0 days later"));
}

TEST_CASE("pages and JSON name files without their folders", "[debrief]") {
  const Folder folder;
  write_recordings(folder);
  const Answer answer =
      app_test::leewheel(folder, asked("--recorded Cato=" + app_test::quoted((folder / "Cato.gpx").string()) + " -o after"));
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  for (const char* name : {"debrief.html", "debrief.json", "learned.yaml", "debrief_stretches.csv"})
    CHECK(text_of(folder / "after" / name).find(folder.path().string()) == std::string::npos);
  CHECK_THAT(text_of(folder / "after/debrief.json"), Contains("\"Cato.gpx\""));
}
