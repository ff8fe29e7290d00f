/// `leewheel notes`: text, page, captions and JSON say the same.

#include <nlohmann/json.hpp>

#include "app/support.hpp"

using namespace app_test;

TEST_CASE("notes of a shipped climb: the page and the screen say what the JSON says, in time", "[notes]") {
  const Folder folder;
  const std::string scenario = std::string(LEEWHEEL_SCENARIOS) + "/classroom/scenario.yaml";
  const Answer json = leewheel(
      folder, "notes " + quoted(scenario) + " --times 45:00,1:00:00 --json -o n.html --captions n.vtt --film-speed 20");
  INFO(json.err);
  REQUIRE(json.code == 0);
  const auto told = nlohmann::json::parse(json.out);
  const std::string page = text_of(folder / "n.html"), captions = text_of(folder / "n.vtt");
  REQUIRE(told["notes"].size() > 10);
  std::map<double, double> speaking_s;
  for (const auto& note : told["notes"]) {
    INFO(note["text"]);
    CHECK_FALSE(note["numbers"].empty());
    const std::string text = note["text"];
    if (note["about"] != "splits") CHECK(page.find(text.substr(0, text.size() - 1)) != std::string::npos);
    speaking_s[note["from_m"]] += note["speaking_s"].get<double>();
  }
  // The classroom climb: a wheel is worth less and less from step to step, and from 6 % on nothing that counts.
  std::vector<double> saves_W;
  for (const auto& note : told["notes"])
    if (note["about"] == "wheel") saves_W.push_back(note["numbers"]["wheel_saves_W"]);
  REQUIRE(saves_W.size() == 4);
  CHECK(std::is_sorted(saves_W.rbegin(), saves_W.rend()));
  CHECK(saves_W.front() > 30.0);
  CHECK(saves_W.back() < 6.0);
  CHECK(captions.starts_with("WEBVTT\n\n00:00:00.000 --> "));
  CHECK(captions.find("look for a wheel") != std::string::npos);
  for (const auto& strength : told["strengths"])
    CHECK(std::abs(strength["time_s"].get<double>() - strength["wished_s"].get<double>()) < 0.5);
}

TEST_CASE("notes of a road of one's own need no riders; wrong times are refused, times nobody rides are told", "[notes]") {
  const Folder folder;
  folder.write("road.yaml",
               "start_elevation_m: 0\nstretches: [{length_m: 1500, grade_percent: 1, heading_deg: 0}, {length_m: 1000, "
               "grade_percent: 7}]\n");
  const Answer notes = leewheel(folder, "notes --road road.yaml --times 8:00 --wind-from N --wind-kmh 18");
  INFO(notes.err);
  REQUIRE(notes.code == 0);
  CHECK(notes.out.find("Wind 18 km/h from N.") != std::string::npos);
  for (const char* wrong : {"8", "8:7", "8:70", "1:2:3:4", "a:00", "0:30", "8:00,"})
    CHECK(leewheel(folder, std::string("notes --road road.yaml --times ") + wrong).code == 2);
  CHECK(leewheel(folder, "notes --road road.yaml --times 1:00").code == 1);
}

TEST_CASE("a bare track is parted by its kilometres, one of all commands", "[notes]") {
  const Folder folder;
  folder.write("road.yaml", "start_elevation_m: 0\nstretches: [{length_m: 5000, grade_percent: 3, heading_deg: 0}]\n");
  folder.write("s.yaml", "title: Bare\nroad: {file: road.yaml}\nriders: [{name: Ada}, {name: Ben}]\n");
  const Answer notes = leewheel(folder, "notes --road road.yaml --times 18:00");
  INFO(notes.err);
  REQUIRE(notes.code == 0);
  std::size_t from = 0;
  for (const char* part : {"Start to Kilometre 2: 2.0 km at 3.0 %", "Kilometre 2: ", "Kilometre 2 to Kilometre 4: 2.0 km",
                           "Kilometre 4 to finish: 1.0 km"}) {
    INFO(part);
    const std::size_t at = notes.out.find(part, from);
    REQUIRE(at != std::string::npos);
    from = at + 1;
  }
  CHECK(notes.out.find("Nobody listed") == std::string::npos);
  REQUIRE(leewheel(folder, "sheet s.yaml --days 0 -o sheet.html").code == 0);
  CHECK(text_of(folder / "sheet.html").find("Kilometre 4") != std::string::npos);
  const Answer too_quick = leewheel(folder, "notes s.yaml --times 4:00");
  CHECK(too_quick.code == 1);
  CHECK(too_quick.err.find("4:00 is no time for this road: possible is ") != std::string::npos);
}
