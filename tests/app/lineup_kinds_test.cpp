/// `leewheel lineup` for big clubs and from the middle of a ride.

#include <nlohmann/json.hpp>

#include "app/support.hpp"

using namespace app_test;

namespace {

std::string club(const Folder& folder, int riders, const std::string& wind = "") {
  std::string text =
      "title: Club\nstart: 2027-05-16 09:00\nroad: {start_elevation_m: 0, stretches: [{length_m: 1500, grade_percent: 1, "
      "heading_deg: 0}, {length_m: 1500, grade_percent: 6}], landmarks: [{name: Foot, at_m: 1500}]}\n" +
      wind + "riders:\n";
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
  CHECK(
      rest.out.starts_with("From here on: times count from now, 09:06, kilometres from the start of the road. The first "
                           "rider is at km 1.5,"));
  CHECK(rest.out.find("1.50 -  3.00  here to finish") != std::string::npos);
  CHECK(rest.out.find("At the finish by the clock: R0 09:1") != std::string::npos);
  folder.write("now.yaml",
               "time: soon\nriders:\n  - {name: Una, at: Foot}\n  - {name: R1, at: 9 km}\n  - {name: R2, at: 0, cracked: "
               "maybe, wprime_percent: 101}\n");
  const Answer wrong = leewheel(folder, "lineup " + file + " --now now.yaml");
  CHECK(wrong.code == 2);
  for (const char* said :
       {"now.yaml:1", "found 'Una', expected a rider of the scenario: R0, R1, R2", "from 0 to 2800 m", "no", "100"})
    CHECK(wrong.err.find(said) != std::string::npos);
  folder.write("now.yaml", "time: 5\nriders:\n  - {name: Una, at: finish, cracked: no}\n  - {name: R1, at: 900}\n");
  const Answer home = leewheel(folder, "lineup " + file + " --now now.yaml");
  CHECK(lines_of(home.err) == 2);  // neither fault has others in its wake
  CHECK(home.err.find("found 'finish', expected a place before it: who is at the finish is home, leave that rider out") !=
        std::string::npos);
}

TEST_CASE("the plan for the rest of a ride is a scenario of its own, with cards", "[lineup]") {
  const Folder folder;
  const std::string file = club(folder, 4);
  folder.write(
      "now.yaml",
      "time: 09:04\nriders:\n  - {name: R0, at: 1.2 km, wprime_percent: 60}\n  - {name: R1, at: 1.2 km}\n  - {name: R2, "
      "at: 900, cracked: yes}\n");
  const Answer plan = leewheel(folder, "lineup " + file + " --now now.yaml --json -o rest/rest.yaml");
  CHECK(plan.code == 2);  // no such folder
  fs::create_directory(folder / "rest");
  const Answer made = leewheel(folder, "lineup " + file + " --now now.yaml --json -o rest/rest.yaml");
  INFO(made.err);
  REQUIRE(made.code == 0);
  const auto told = nlohmann::json::parse(made.out);
  const auto ridden = nlohmann::json::parse(leewheel(folder, "ride rest/rest.yaml --json -o out").out);
  REQUIRE(ridden["riders"].size() == 3);
  for (std::size_t i = 0; i < 3; ++i)
    CHECK(ridden["riders"][i]["finish_time_s"].get<double>() ==
          Approx(told["riders"][i]["finish_time_s"].get<double>()).margin(1.0));
  CHECK(leewheel(folder, "sheet rest/rest.yaml --pocket --days 0 -o cards.html").code == 0);
  CHECK(text_of(folder / "cards.html").find("R3") == std::string::npos);
}

TEST_CASE("a club split into a folder has a planned scenario for each group, with its start", "[lineup]") {
  const Folder folder;
  const std::string file = club(folder, 8);
  const Answer made = leewheel(folder, "lineup " + file + " --into 2 --json -o groups");
  INFO(made.err);
  REQUIRE(made.code == 0);
  const auto told = nlohmann::json::parse(made.out);
  for (std::size_t g = 0; g < 2; ++g) {
    const std::string path = "groups/group_" + std::to_string(g + 1) + ".yaml";
    const auto ridden = nlohmann::json::parse(leewheel(folder, "ride " + path + " --json -o out").out);
    double last_s = 0.0;
    std::vector<std::string> names;
    for (const auto& rider : ridden["riders"])
      last_s = std::max(last_s, rider["finish_time_s"].get<double>()), names.push_back(rider["name"]);
    CHECK(last_s == Approx(told["groups"][g]["ride_s"].get<double>()).margin(1.0));
    std::vector<std::string> group = told["groups"][g]["riders"];
    std::sort(names.begin(), names.end()), std::sort(group.begin(), group.end());
    CHECK(names == group);
    CHECK(text_of(folder / path).find("start: " + told["groups"][g]["start_at"].get<std::string>()) != std::string::npos);
  }
  CHECK_FALSE(fs::exists(folder / "groups/group_3.yaml"));
}

TEST_CASE("a forecast goes by the clock for groups that start at different times, in the plan and in their files",
          "[lineup]") {
  // A gale against them from the 10th minute of the first start on.
  const std::array<std::array<const char*, 2>, 2> times{
      {{"time_min: 0", "time_min: 10"}, {"time: \"09:00\"", "time: \"09:10\""}}};
  for (const auto& [calm, gale] : times) {
    const Folder folder;
    const std::string file = club(
        folder, 8,
        std::string("wind: {forecast: [{") + calm + ", from: N, speed_kmh: 5}, {" + gale + ", from: N, speed_kmh: 50}]}\n");
    const Answer made = leewheel(folder, "lineup " + file + " --into 2 --json -o groups");
    INFO(made.err);
    REQUIRE(made.code == 0);
    const auto told = nlohmann::json::parse(made.out);
    CHECK(told["groups"][0]["start_s"].get<double>() > 60.0);
    for (std::size_t g = 0; g < 2; ++g) {
      const double start_s = told["groups"][g]["start_s"], ride_s = told["groups"][g]["ride_s"];
      CHECK(start_s + ride_s == Approx(told["groups"][1]["ride_s"].get<double>()).margin(1.0));
      const auto ridden = nlohmann::json::parse(
          leewheel(folder, "ride groups/group_" + std::to_string(g + 1) + ".yaml --one --json -o out").out);
      double last_s = 0.0;
      for (const auto& rider : ridden["riders"]) last_s = std::max(last_s, rider["finish_time_s"].get<double>());
      CHECK(last_s == Approx(ride_s).margin(0.1));
      CHECK(ridden["day"]["wind_at_10m"][1]["time_s"].get<double>() == Approx(600.0 - start_s).margin(0.1));
    }
  }
}

TEST_CASE("what a plan gains is the difference of the times that the table shows", "[lineup]") {
  const Folder folder;
  const std::string asked = "lineup " + quoted(std::string(LEEWHEEL_SCENARIOS) + "/clubhill/scenario.yaml") + " --days 20";
  const Answer words = leewheel(folder, asked), json = leewheel(folder, asked + " --json");
  REQUIRE(words.code == 0);
  const auto told = nlohmann::json::parse(json.out);
  const long sooner_s =
      std::lround(told["clubs"]["last_s"].get<double>()) - std::lround(told["plan"]["last_s"].get<double>());
  REQUIRE(sooner_s > 0);
  std::string unbroken = words.out;
  std::replace(unbroken.begin(), unbroken.end(), '\n', ' ');
  CHECK(unbroken.find("Against the plan clubs ride the last is at the finish " + std::to_string(sooner_s / 60) + ":" +
                      (sooner_s % 60 < 10 ? "0" : "") + std::to_string(sooner_s % 60) + " sooner; it is sooner on") !=
        std::string::npos);
}
