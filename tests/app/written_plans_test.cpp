/// Plans that the program writes, read back and ridden.

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/support.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/ride_facts.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;

TEST_CASE("a planned scenario written by the program from another folder rides as promised", "[lineup]") {
  const app_test::Folder folder;
  app_test::fs::create_directory(folder / "hill");
  folder.write("hill/road.yaml",
               "start_elevation_m: 0\nstretches: [{length_m: 1500, grade_percent: 1, heading_deg: 0}, {length_m: 1000, "
               "grade_percent: 7}, {length_m: 1000, grade_percent: 1}]\n");
  folder.write("hill/scenario.yaml",
               "title: Short\nroad: {file: road.yaml}\nwind: {from: N, speed_kmh: 20}\nriders: [{name: Una, "
               "critical_power_W: 290}, {name: Vera}, {name: Wim, critical_power_W: 210}]\n");
  const app_test::Answer answer = app_test::leewheel(folder, "lineup hill/scenario.yaml --for fair --json -o planned.yaml");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  const Scenario planned = read_scenario((folder / "planned.yaml").string());
  const RideResult ride = ride_to_end(planned);
  const RideFacts facts = facts_of(planned, ride);
  const nlohmann::json told = nlohmann::json::parse(answer.out);
  for (std::size_t i = 0; i < ride.riders.size(); ++i)
    for (std::size_t k = 0; k < told["stretches"].size(); ++k)
      if (told["stretches"][k]["form"] != "each rider at his or her own pace")
        CHECK(told["stretches"][k]["front_s"][i] == facts.riders[i].stretches[k].front_s);
  double last_s = 0.0;
  for (const RiderResult& rider : ride.riders) last_s = std::max(last_s, rider.finish_time_s);
  CHECK(last_s == Approx(nlohmann::json::parse(answer.out)["plan"]["last_s"].get<double>()).epsilon(1e-9));
}

TEST_CASE("lineup tells the plan, the table and the turns so that they agree, in the file and on the screen", "[lineup]") {
  const app_test::Folder folder;
  const std::string larkmoor = app_test::larkmoor();
  const app_test::Answer told = app_test::leewheel(folder, "lineup " + larkmoor + " --for weakest --days 20");
  REQUIRE(told.code == 0);
  const auto says = [&](const char* words) { return told.out.find(words) != std::string::npos; };
  CHECK(says("as clubs ride"));
  CHECK(says("no turns: everyone at the own pace"));
  CHECK_FALSE(says("home"));
  CHECK_FALSE(says("the top"));
  CHECK_FALSE(says("m/s"));
  const app_test::Answer json = app_test::leewheel(folder, "lineup " + larkmoor + " --for weakest --days 20 --json");
  const nlohmann::json answer = nlohmann::json::parse(json.out);
  const std::string in_words = answer["in_words"];
  std::string unbroken = told.out;
  std::replace(unbroken.begin(), unbroken.end(), '\n', ' ');
  CHECK(unbroken.find(in_words) != std::string::npos);
  for (const auto& wait : answer["waits"])
    CHECK(in_words.find("wait at " + wait["name"].get<std::string>() + " for " + wait["last"].get<std::string>() +
                        ", off the road") != std::string::npos);
  std::size_t chosen = 0;
  for (const auto& row : answer["table"]) {
    CHECK(row["days"] == 20);
    CHECK(row["later_s"].size() == 3);
    CHECK(row["parts"].size() == answer["stretches"].size());
    chosen += row["chosen"].get<bool>() ? 1 : 0;
    if (row["chosen"]) CHECK(row["last_s"] == answer["plan"]["last_s"]);
  }
  CHECK(chosen == 1);
  for (std::size_t k = 0; k < answer["stretches"].size(); ++k) {
    const auto& stretch = answer["stretches"][k];
    CHECK(stretch["groups"].size() == answer["plan"]["parts"][k]);
    for (const auto& group : stretch["groups"])  // nobody is given a turn where everyone rides at the own pace
      if (stretch["form"] == "each rider at his or her own pace") CHECK(group["own_pace"] == true);
  }
  for (const auto& rider : answer["riders"]) {
    double in_front_s = 0.0;
    const auto i = static_cast<std::size_t>(&rider - &answer["riders"][0]);
    for (const auto& stretch : answer["stretches"]) in_front_s += stretch["front_s"][i].get<double>();
    CHECK(rider["front_s"] == in_front_s);
  }
}

TEST_CASE("limits asked for are kept, and refused when they are none", "[lineup][bad_input]") {
  const app_test::Folder folder;
  const std::string larkmoor = "lineup " + app_test::larkmoor() + " --days 4 --json ";
  const nlohmann::json answer =
      nlohmann::json::parse(app_test::leewheel(folder, larkmoor + "--held-back 5 --harder 0.02").out);
  CHECK(answer["held_back_limit_s"] == 300.0);
  REQUIRE(answer["within_limits"] == true);
  for (const auto& row : answer["table"]) {
    CHECK(row["held_back_s"] <= 300.0);
    CHECK(row["harder_share"] <= 0.02);
  }
  for (const char* wrong : {"--held-back -1", "--harder nan", "--days 3"})
    CHECK(app_test::leewheel(folder, larkmoor + wrong).code == 2);
}

TEST_CASE("a plan written by the program is read back and takes the time that was promised", "[pacing]") {
  const app_test::Folder folder;
  const std::string start =
      "title: Short\n"
      "road:\n"
      "  start_elevation_m: 100\n"
      "  stretches:\n"
      "    - {name: Meadow, length_m: 1500, grade_percent: 1, heading_deg: 270}\n"
      "    - {name: Bank, length_m: 1200, grade_percent: 7}\n"
      "behaviour: {effort_wobble: 0, wprime_reserve: 0.15}\n"
      "riders:\n"
      "  - name: Una\n";
  folder.write("short.yaml", start);
  const app_test::Answer answer = app_test::leewheel(folder, "pace short.yaml --rider Una --json -o plan.yaml");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  std::istringstream lines(app_test::text_of(folder / "plan.yaml"));
  std::string entry, line;
  while (std::getline(lines, line)) entry += "    " + line + "\n";
  const Scenario planned = read_scenario(folder.write("planned.yaml", start + entry));
  const auto promised_s = nlohmann::json::parse(answer.out)["time_s"].get<double>();
  CHECK_THAT(ride_to_end(planned).riders[0].finish_time_s, WithinAbs(promised_s, 0.2));
}
