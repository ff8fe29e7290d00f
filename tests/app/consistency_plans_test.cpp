/// What `lineup`, `weigh` and `page` tell of a ride is what `ride` tells of the same.

#include <nlohmann/json.hpp>
#include <pugixml.hpp>
#include <regex>

#include "app/support.hpp"

using namespace app_test;
using Json = nlohmann::json;

namespace {

constexpr double tenth = 0.0501, whole = 0.501;  // of a number rounded to so many decimals

std::string asked(const Folder& folder, const std::string& arguments) {
  const Answer answer = app_test::leewheel(folder, arguments);
  INFO(arguments << ": " << answer.err);
  REQUIRE((answer.code == 0 || answer.code == 1));
  return answer.out;
}

Json ridden(const Folder& folder, const std::string& scenario) {
  asked(folder, "ride " + scenario + " --quiet -o ride");
  return Json::parse(text_of(folder / "ride/summary.json"));
}

void check_stretches(const Json& plan, const Json& ride) {
  REQUIRE(plan["stretches"].size() == ride["stretches"].size());
  for (std::size_t k = 0; k < plan["stretches"].size(); ++k) {
    const Json &told = plan["stretches"][k], &of_ride = ride["stretches"][k];
    INFO("to " << told["to"]);
    CHECK(told["to"] == of_ride["to"]);
    CHECK(told["saved_W"].get<double>() == Approx(of_ride["saved_W"].get<double>()).margin(tenth));
    double first_s = 1e9, last_s = 0.0;
    for (std::size_t i = 0; i < ride["riders"].size(); ++i) {
      const Json& stretch = ride["riders"][i]["stretches"][k];
      first_s = std::min(first_s, stretch["arrive_s"].get<double>());
      last_s = std::max(last_s, stretch["arrive_s"].get<double>());
      CHECK(told["front_s"][i].get<double>() == stretch["front_s"].get<double>());
    }
    CHECK(told["first_arrives_s"].get<double>() == Approx(first_s).margin(tenth));
    CHECK(told["last_arrives_s"].get<double>() == Approx(last_s).margin(tenth));
  }
}

void check_lineup(const Folder& folder, const std::string& scenario, const std::string& aim) {
  const Json plan = Json::parse(asked(folder, "lineup " + scenario + " --days 4 --json -o planned.yaml --for " + aim));
  const Json ride = ridden(folder, "planned.yaml");
  for (std::size_t i = 0; i < plan["riders"].size(); ++i) {
    const Json &told = plan["riders"][i], &rider = ride["riders"][i];
    INFO(told["name"]);
    for (const char* same : {"finish_time_s", "door_to_door_saved_s", "front_s"})
      CHECK(told[same].get<double>() == Approx(rider[same].get<double>()).margin(tenth));
    CHECK(told["finish_at"] == rider["finish_at"]);
  }
  check_stretches(plan, ride);
  REQUIRE(plan["waits"].size() == ride["waits"].size());
  for (std::size_t k = 0; k < plan["waits"].size(); ++k) {
    const Json& told = plan["waits"][k];
    for (const Json& one : ride["waits"][k]["riders"])
      if (one["rider"] == told["first"])
        for (const auto& [name, same] :
             {std::pair{"arrive_s", "arrive_s"}, {"go_on_s", "go_on_s"}, {"first_waits_s", "waited_s"}})
          CHECK(told[name].get<double>() == Approx(one[same].get<double>()).margin(2 * tenth));
  }
}

void check_weigh(const Folder& folder, const std::string& scenario, const Json& ride) {
  for (std::size_t k = 0; k + 2 < ride["riders"][0]["landmarks"].size(); ++k) {
    const std::string from = ride["riders"][0]["landmarks"][k]["name"], to = ride["riders"][0]["landmarks"][k + 1]["name"];
    double first_s = 1e9, last_s = 0.0;
    for (const Json& rider : ride["riders"]) {
      first_s = std::min(first_s, rider["landmarks"][k]["arrive_s"].get<double>());
      last_s = std::max(last_s, rider["landmarks"][k]["arrive_s"].get<double>());
    }
    const Json told =
        Json::parse(asked(folder, "weigh " + scenario + " --runs 1 --json --from \"" + from + "\" --to \"" + to + "\""));
    INFO(from << " to " << to);
    CHECK(told["from"] == from);
    CHECK(told["to"] == to);
    CHECK(told["first_there_s"].get<double>() == Approx(first_s).margin(tenth));
    CHECK(told["last_there_s"].get<double>() == Approx(last_s).margin(tenth));
    for (const Json& rider : told["riders"]) {
      const Json& why = rider["reason"];
      const double product_W =
          why["power_W"].get<double>() * why["air_share"].get<double>() * why["wheel_takes_share"].get<double>();
      CHECK(rider["wheel_saves_W"].get<double>() == Approx(product_W).margin(0.05));
    }
  }
}

/// "1:02:20" in seconds.
double seconds_in(const std::string& clock) {
  double sum = 0.0;
  std::istringstream parts(clock);
  for (std::string part; std::getline(parts, part, ':');) sum = 60.0 * sum + std::stod(part);
  return sum;
}

void check_page(const Folder& folder, const std::string& scenario, const Json& ride) {
  asked(folder, "page " + scenario + " --quiet -o page.html");
  const std::string page = text_of(folder / "page.html");
  for (const Json& rider : ride["riders"]) {
    const std::string name = rider["name"];
    INFO(name);
    const std::regex row("<tr><td>" + name + "</td>" + "<td class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td>" +
                         "<td class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td><td class=\"n\">([^<]*)</td></tr>");
    std::smatch cells;
    REQUIRE(std::regex_search(page, cells, row));
    CHECK(seconds_in(cells[1]) == Approx(rider["finish_time_s"].get<double>()).margin(0.56));
    CHECK(std::stod(cells[2]) == Approx(rider["mean_power_W"].get<double>()).margin(whole));
    CHECK(std::stod(cells[3]) == Approx(rider["work_kJ"].get<double>()).margin(whole));
    CHECK(std::stod(cells[4]) == Approx(rider["saved_kJ"].get<double>()).margin(whole));
    CHECK(seconds_in(cells[5]) == Approx(rider["solo_time_s"].get<double>()).margin(0.56));
  }
}

std::string shipped(const std::string& story) {
  return quoted(std::string(LEEWHEEL_SCENARIOS) + "/" + story + "/scenario.yaml");
}

}  // namespace

TEST_CASE("the ride under a plan of lineup is told as ride tells it", "[consistency][lineup]") {
  const Folder folder;
  check_lineup(folder, shipped("headwind"), "time");
  check_lineup(folder, shipped("clubhill"), "weakest");
}

TEST_CASE("weigh and page tell times, work and savings as ride tells them", "[consistency][weigh]") {
  for (const std::string story : {"classroom", "clubhill", "galecombe", "headwind", "larkmoor", "longmountain"}) {
    INFO(story);
    const Folder folder;
    const Json ride = ridden(folder, shipped(story));
    check_weigh(folder, shipped(story), ride);
    check_page(folder, shipped(story), ride);
  }
}
