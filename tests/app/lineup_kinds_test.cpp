/// `leewheel lineup` for big clubs and from the middle of a ride.

#include <nlohmann/json.hpp>

#include "app/support.hpp"

using namespace app_test;

namespace {

std::string club(const Folder& folder, int riders) {
  std::string text =
      "title: Club\nstart: 2027-05-16 09:00\nroad: {start_elevation_m: 0, stretches: [{length_m: 1500, grade_percent: 1, "
      "heading_deg: 0}, {length_m: 1500, grade_percent: 6}], landmarks: [{name: Foot, at_m: 1500}]}\nriders:\n";
  for (int k = 0; k < riders; ++k)
    text += "  - {name: R" + std::to_string(k) + ", critical_power_W: " + std::to_string(300 - 10 * (k % 4) - 60 * (k / 4)) +
            "}\n";
  return quoted(folder.write("club.yaml", text));
}

}  // namespace

TEST_CASE("a club is split into groups whose starts, by the clock, let all meet", "[lineup]") {
  const Folder folder;
  const std::string file = club(folder, 8);
  const Answer words = leewheel(folder, "lineup " + file + " --into 2");
  INFO(words.err);
  REQUIRE(words.code == 0);
  CHECK(words.out.find("Group 2  4 riders: R4, R5, R6, R7.") != std::string::npos);
  CHECK(words.out.find("starts at 09:00") != std::string::npos);
  CHECK(words.out.find("Captain: ") != std::string::npos);
  const auto told = nlohmann::json::parse(leewheel(folder, "lineup " + file + " --into 2 --meet-at Foot --json").out);
  REQUIRE(told["groups"].size() == 2);
  CHECK(told["meet_at_m"] == 1500);
  CHECK(told["groups"][0]["start_s"].get<double>() + told["groups"][0]["ride_s"].get<double>() ==
        Approx(told["groups"][1]["ride_s"].get<double>()).margin(0.2));
  CHECK(leewheel(folder, "lineup " + file + " --into 3").code == 2);  // fewer than three in each
  CHECK(leewheel(folder, "lineup " + file + " --meet-at Foot").code == 2);
}

TEST_CASE("the rest of a ride: a state to fill in, a plan from it, and faults with their place", "[lineup][bad_input]") {
  const Folder folder;
  const std::string file = club(folder, 3);
  const Answer first = leewheel(folder, "lineup " + file + " --now now.yaml");
  REQUIRE(first.code == 0);
  CHECK(text_of(folder / "now.yaml").find("name: \"R2\", at: start") != std::string::npos);
  CHECK(leewheel(folder, "lineup " + file + " --now now.yaml").code == 0);
  folder.write(
      "now.yaml",
      "time: 09:06\nriders:\n  - {name: R0, at: Foot, wprime_percent: 60}\n  - {name: R1, at: 1.2 km}\n  - {name: R2, "
      "at: 900, cracked: yes}\n");
  const Answer rest = leewheel(folder, "lineup " + file + " --now now.yaml");
  INFO(rest.err);
  REQUIRE(rest.code == 0);
  CHECK(rest.out.starts_with("From here on: distances count from km 0.9"));
  folder.write("now.yaml",
               "time: soon\nriders:\n  - {name: Una, at: Foot}\n  - {name: R1, at: 9 km}\n  - {name: R2, at: 0, cracked: "
               "maybe, wprime_percent: 101}\n");
  const Answer wrong = leewheel(folder, "lineup " + file + " --now now.yaml");
  CHECK(wrong.code == 2);
  for (const char* said : {"now.yaml:1", "a rider of the scenario", "from 0 to 2800 m", "no", "100"})
    CHECK(wrong.err.find(said) != std::string::npos);
}
