/// Plans that the program writes, read back and ridden.

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "app/support.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ride.hpp"

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
  const RideResult ride = ride_to_end(read_scenario((folder / "planned.yaml").string()));
  double last_s = 0.0;
  for (const RiderResult& rider : ride.riders) last_s = std::max(last_s, rider.finish_time_s);
  CHECK(last_s == Approx(nlohmann::json::parse(answer.out)["plan"]["last_s"].get<double>()).epsilon(1e-9));
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
