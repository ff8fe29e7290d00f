/// What has the same name is the same number in every output of a ride, and parts add up to the whole.

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <pugixml.hpp>

#include "app/support.hpp"
#include "words/plain_text.hpp"

using namespace app_test;
using Json = nlohmann::json;

namespace {

/// Of a number rounded to so many decimals.
constexpr double tenth = 0.0501, hundredth = 0.00501, whole = 0.501;

/// Every output of one scenario.
struct Outputs {
  Json ride, sheet, spread;
  std::string summary;
  pugi::xml_document page, pocket;
  std::vector<std::map<std::string, std::string>> riders_csv, stretches_csv;
};

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells(1);
  bool quoted_cell = false;
  for (const char c : line)
    if (c == '"')
      quoted_cell = !quoted_cell;
    else if (c == ',' && !quoted_cell)
      cells.emplace_back();
    else
      cells.back() += c;
  return cells;
}

std::vector<std::map<std::string, std::string>> rows_of(const fs::path& path) {
  std::istringstream lines(text_of(path));
  std::string line;
  std::getline(lines, line);
  const std::vector<std::string> names = cells_of(line);
  std::vector<std::map<std::string, std::string>> rows;
  while (std::getline(lines, line)) {
    const std::vector<std::string> cells = cells_of(line);
    REQUIRE(cells.size() == names.size());
    auto& row = rows.emplace_back();
    for (std::size_t k = 0; k < names.size(); ++k) row[names[k]] = cells[k];
  }
  return rows;
}

void make(const Folder& folder, const std::string& scenario, Outputs& out) {
  const auto ask = [&](const std::string& arguments) {
    const Answer answer = app_test::leewheel(folder, arguments);
    INFO(arguments << ": " << answer.err);
    REQUIRE(answer.code == 0);
    return answer.out;
  };
  out.summary = ask("ride " + scenario + " -o ride --more");
  out.ride = Json::parse(text_of(folder / "ride/summary.json"));
  out.riders_csv = rows_of(folder / "ride/riders.csv");
  out.stretches_csv = rows_of(folder / "ride/stretches.csv");
  out.sheet = Json::parse(ask("sheet " + scenario + " --days 0 --json -o sheet.html"));
  ask("sheet " + scenario + " --days 0 --quiet --pocket -o pocket.html");
  out.spread = Json::parse(ask("spread " + scenario + " --runs 1 --json -o spread"));
  REQUIRE(out.page.load_string(text_of(folder / "sheet.html").c_str(), pugi::parse_default | pugi::parse_doctype));
  REQUIRE(out.pocket.load_string(text_of(folder / "pocket.html").c_str(), pugi::parse_default | pugi::parse_doctype));
}

double sum_of(const Json& list, const char* key) {
  double sum = 0.0;
  for (const Json& one : list) sum += one[key].get<double>();
  return sum;
}

void check_sums(const Json& ride) {
  std::map<std::string, double> waited_s;
  for (const Json& wait : ride["waits"])
    for (const Json& one : wait["riders"]) {
      CHECK(one["go_on_s"].get<double>() - one["arrive_s"].get<double>() ==
            Approx(one["waited_s"].get<double>()).margin(2 * tenth));
      waited_s[one["rider"]] += one["waited_s"].get<double>();
    }
  for (const Json& rider : ride["riders"]) {
    INFO(rider["name"]);
    const Json& stretches = rider["stretches"];
    const double n = static_cast<double>(stretches.size() + 2);
    const double riding_s = rider["riding_time_s"], work_kJ = rider["work_kJ"];
    CHECK(riding_s + rider["waited_s"].get<double>() == Approx(rider["finish_time_s"].get<double>()).margin(3 * tenth));
    CHECK(sum_of(stretches, "riding_time_s") == Approx(riding_s).margin(n * tenth));
    CHECK(sum_of(stretches, "waited_s") == Approx(rider["waited_s"].get<double>()).margin(n * tenth));
    CHECK(waited_s[rider["name"]] == Approx(rider["waited_s"].get<double>()).margin(n * tenth));
    CHECK(sum_of(stretches, "work_kJ") == Approx(work_kJ).margin(n * hundredth));
    CHECK(sum_of(stretches, "saved_J") == Approx(1000.0 * rider["saved_kJ"].get<double>()).margin(n * whole + 5.0));
    CHECK(sum_of(stretches, "front_s") == rider["front_s"].get<double>());
    CHECK(sum_of(stretches, "turns") == rider["turns"].get<double>());
    CHECK(rider["mean_power_W"].get<double>() == Approx(1000.0 * work_kJ / riding_s).margin(0.2));
    const double law_J = rider["wbal_end_by_law_J"][ride["ride"]["recovery_law"].get<std::string>()];
    CHECK(law_J == std::max(0.0, rider["wbal_end_J"].get<double>()));
    for (std::size_t k = 0; k < stretches.size(); ++k) {
      const Json &s = stretches[k], &at = rider["landmarks"][k];
      CHECK(s["arrive_s"] == at["arrive_s"]);
      CHECK(s["go_on_s"] == at["go_on_s"]);
      CHECK(s["wbal_J"] == at["wbal_J"]);
      if (s["front_s"].get<double>() > 0.0) CHECK(ride["stretches"][k]["line_share"].get<double>() >= 0.5);
    }
  }
}

/// Every column of a table of CSV that a map of JSON has too.
void check_row(const std::map<std::string, std::string>& row, const Json& json) {
  std::size_t compared = 0;
  for (const auto& [name, cell] : row) {
    if (!json.contains(name) || (!json[name].is_number() && !json[name].is_null())) continue;
    INFO(name);
    ++compared;
    if (json[name].is_null())
      CHECK(cell.empty());
    else
      CHECK(std::stod(cell) == Approx(json[name].get<double>()).epsilon(1e-12));
  }
  CHECK(compared >= 17);
}

void check_files(const Outputs& out) {
  std::size_t row = 0;
  REQUIRE(out.riders_csv.size() == out.ride["riders"].size());
  for (std::size_t i = 0; i < out.riders_csv.size(); ++i) {
    const Json& rider = out.ride["riders"][i];
    check_row(out.riders_csv[i], rider);
    for (const Json& stretch : rider["stretches"]) {
      REQUIRE(row < out.stretches_csv.size());
      CHECK(out.stretches_csv[row].at("to") == stretch["to"].get<std::string>());
      check_row(out.stretches_csv[row++], stretch);
    }
  }
  CHECK(row == out.stretches_csv.size());
}

/// The sheet's own JSON holds nothing that the ride has otherwise; the expected day of the drawn days is the same ride.
void check_plans(const Outputs& out) {
  for (std::size_t i = 0; i < out.ride["riders"].size(); ++i) {
    const Json &rider = out.ride["riders"][i], &on_sheet = out.sheet["riders"][i];
    INFO(rider["name"]);
    CHECK(out.spread["riders"][i]["expected_time_s"] == rider["finish_time_s"]);
    std::size_t compared = 0;
    for (const auto& [key, value] : on_sheet.items())
      if (rider.contains(key) && key != "stretches") {
        CHECK(value == rider[key]);
        ++compared;
      }
    CHECK(compared == 13);
    REQUIRE(on_sheet["stretches"].size() == rider["stretches"].size());
    for (std::size_t k = 0; k < rider["stretches"].size(); ++k)
      for (const auto& [key, value] : on_sheet["stretches"][k].items()) {
        INFO(key);
        if (key != "solo_riding_time_s") CHECK(value == rider["stretches"][k][key]);
      }
  }
}

// ---- what people read

/// "1:02:20" in seconds.
double seconds_in(const std::string& clock) {
  double sum = 0.0;
  std::istringstream parts(clock);
  for (std::string part; std::getline(parts, part, ':');) sum = 60.0 * sum + std::stod(part);
  return sum;
}

std::string bold_in(const pugi::xml_node& row, const char* label) {
  return row.select_node((std::string(".//td[@data-label='") + label + "']//b").c_str()).node().text().get();
}

void check_card(const pugi::xml_node& card, const Json& rider) {
  const auto rows = card.select_nodes(".//tbody/tr");
  REQUIRE(rows.size() == rider["stretches"].size());
  std::size_t k = 0;
  double listed_front_s = 0.0;
  for (const auto& row : rows) {
    const Json& s = rider["stretches"][k++];
    INFO(rider["name"] << " to " << s["to"]);
    CHECK(seconds_in(bold_in(row.node(), "arrive")) == Approx(s["arrive_s"].get<double>()).margin(0.56));
    const std::string go_on = bold_in(row.node(), "go on");
    CHECK(go_on.empty() == (s["go_on_s"] == s["arrive_s"]));
    if (!go_on.empty()) CHECK(seconds_in(go_on) == Approx(s["go_on_s"].get<double>()).margin(0.56));
    CHECK(std::stod(bold_in(row.node(), "effort")) == Approx(s["mean_power_W"].get<double>()).margin(0.56));
    listed_front_s += s["front_s"].get<double>();
    const std::string turns = card.select_node(".//li[b='Turns:']/text()").node().value();
    const std::string stretch = fmt::format("{} to {} (", s["from"].get<std::string>(), s["to"].get<std::string>());
    if (turns.find(stretch) != turns.npos) CHECK(s["front_s"].get<double>() > 0.0);
  }
  CHECK(listed_front_s == rider["front_s"].get<double>());
  const std::string turns = card.select_node(".//li[b='Turns:']/text()").node().value();
  if (turns.find(" in front in all") != turns.npos)
    CHECK(turns.find(fmt::format("about {:.0f} min in front in all", std::ceil(listed_front_s / 60.0))) != turns.npos);
}

void check_pages(const Outputs& out) {
  const auto cards = out.page.select_nodes("//section[starts-with(@id,'rider-')]"),
             small = out.pocket.select_nodes("//section[starts-with(@id,'rider-')]");
  REQUIRE(cards.size() == out.ride["riders"].size());
  REQUIRE(small.size() == out.ride["riders"].size());
  for (std::size_t i = 0; i < cards.size(); ++i) {
    const Json& rider = out.ride["riders"][i];
    check_card(cards[i].node(), rider);
    std::size_t k = 0;
    for (const auto& row : small[i].node().select_nodes(".//tbody/tr")) {
      const Json& s = rider["stretches"][k++];
      CHECK(seconds_in(bold_in(row.node(), "arrive")) == Approx(s["arrive_s"].get<double>()).margin(0.56));
      if (s["go_on_s"] != s["arrive_s"])
        CHECK(seconds_in(bold_in(row.node(), "go on")) == Approx(s["go_on_s"].get<double>()).margin(0.56));
      CHECK(std::stod(bold_in(row.node(), "effort")) == Approx(s["mean_power_W"].get<double>()).margin(0.56));
    }
    CHECK(seconds_in(small[i].node().select_node(".//b[@class='top']").node().text().get()) ==
          Approx(rider["finish_time_s"].get<double>()).margin(0.56));
    CHECK(k == rider["stretches"].size());
  }
}

/// The row of a rider in the table under a heading.
std::vector<std::string> row_under(const std::string& text, const std::string& heading, const std::string& name) {
  const std::string part = text.substr(text.find("\n" + heading) + 1);
  std::istringstream lines(part);
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::vector<std::string> row;
    for (std::string word; words >> word;) row.push_back(word);
    if (!row.empty() && row.front() == name) return row;
  }
  return {};
}

void check_summary(const Outputs& out) {
  for (const Json& rider : out.ride["riders"]) {
    const std::string name = rider["name"];
    INFO(name);
    const auto row = row_under(out.summary, "Riders", name);
    REQUIRE(row.size() > 6);
    CHECK(seconds_in(row[1]) == Approx(rider["finish_time_s"].get<double>()).margin(0.56));
    CHECK(std::stod(row[row.size() - 7]) == Approx(rider["mean_power_W"].get<double>()).margin(0.56));
    CHECK(std::stod(row.back()) == Approx(rider["wbal_end_J"].get<double>() / 1000.0).margin(0.06));
    const auto at = row_under(out.summary, "At the landmarks", name);
    REQUIRE(at.size() > 3);
    const Json& first = rider["stretches"][0];
    CHECK(seconds_in(at[1]) == Approx(first["arrive_s"].get<double>()).margin(0.56));
  }
  for (const Json& wait : out.ride["waits"])
    for (const Json& one : wait["riders"]) {
      const auto row = row_under(out.summary, "  " + wait["name"].get<std::string>(), one["rider"]);
      REQUIRE(row.size() >= 4);
      CHECK(seconds_in(row[1]) == Approx(one["arrive_s"].get<double>()).margin(0.56));
      CHECK(seconds_in(row.back()) == Approx(one["waited_s"].get<double>()).margin(0.56));
    }
}

void check_all(const Folder& folder, const std::string& scenario) {
  Outputs out;
  make(folder, scenario, out);
  check_sums(out.ride);
  check_files(out);
  check_plans(out);
  check_pages(out);
  check_summary(out);
}

}  // namespace

TEST_CASE("every shipped scenario has one number under one name in all its outputs, and parts add up", "[consistency]") {
  for (const std::string story : {"classroom", "clubhill", "galecombe", "headwind", "larkmoor", "longmountain"}) {
    INFO(story);
    const Folder folder;
    check_all(folder, quoted(std::string(LEEWHEEL_SCENARIOS) + "/" + story + "/scenario.yaml"));
  }
}

namespace {

std::string night_ride(const Folder& folder, const std::string& more) {
  return quoted(folder.write(
      "night.yaml",
      "title: Over midnight\n"
      "start: 2027-05-16 23:50\n"
      "road:\n"
      "  start_elevation_m: 100\n"
      "  stretches:\n"
      "    - {length_m: 2000, grade_percent: 6, heading_deg: 270}\n"
      "    - {length_m: 4000, grade_percent: 1}\n"
      "  landmarks: [{name: Gate, at_m: 2000}]\n"
      "wind: {forecast: [{time: \"23:00\", from: W, speed_kmh: 10}, {time: \"01:00\", from: W, speed_kmh: 30}]}\n"
      "riders:\n"
      "  - {name: Una, critical_power_W: 330}\n"
      "  - {name: Vera, critical_power_W: 190}\n" +
          more));
}

}  // namespace

TEST_CASE("a ride over midnight with a stop tells the times of day and the next day in every output",
          "[consistency][clock]") {
  const Folder folder;
  const std::string scenario =
      night_ride(folder, "ride: {regroup_at: [Gate], stops: [{at: 4000, stop_min: 5, for: water}]}\n");
  check_all(folder, scenario);
  Outputs out;
  make(folder, scenario, out);
  CHECK(out.ride["ride"]["start"] == "2027-05-16T23:50:00");
  CHECK(out.ride["day"]["wind_at_10m"][0]["time_s"] == -3000.0);
  CHECK(out.ride["day"]["wind_at_10m"][1]["time_s"] == 4200.0);
  CHECK(out.ride["riders"][0]["finish_at"].get<std::string>().starts_with("2027-05-17T00:"));
  CHECK(out.ride["waits"][1]["name"] == "km 4.0");
  CHECK(out.ride["waits"][1]["stop_s"] == 300.0);
  CHECK(out.ride["riders"][1]["stretches"][1]["waited_s"] >= 300.0);
  CHECK(out.summary.find("Sunday 16 May 2027, 23:50 by the clock there") != std::string::npos);
  CHECK(out.summary.find(" +1 day)") != std::string::npos);
  CHECK(out.summary.find("km 4.0 (5 min for water), km 4.0") != std::string::npos);
  for (const char* page : {"sheet.html", "pocket.html"}) {
    const std::string text = text_of(folder / page);
    CHECK(text.find("Sunday 16 May 2027, meet 23:40, roll 23:50") != std::string::npos);
    CHECK((text.find(" +1 day") != std::string::npos || text.find("\n+1 day") != std::string::npos));
  }
}

TEST_CASE("leaving after the longest wait is an event, a line of the summary and stands on the sheet", "[consistency]") {
  const Folder folder;
  Outputs out;
  make(folder, night_ride(folder, "ride: {regroup_at: [Gate]}\nbehaviour: {regroup_wait_s: 60}\n"), out);
  const Json& given_up = out.ride["waits"][0]["given_up"];
  REQUIRE(given_up.size() == 1);
  CHECK(given_up[0]["left"] == Json{"Una"});
  CHECK(given_up[0]["late"][0]["rider"] == "Vera");
  CHECK(out.summary.find("Una left Gate after the longest wait of 1 min; Vera came ") != std::string::npos);
  CHECK(text_of(folder / "sheet.html").find("Una left Gate after the longest wait of 1 min; Vera came ") !=
        std::string::npos);
  std::size_t told = 0;
  for (const Json& event : out.ride["events"]) told += event["kind"] == "leaves" && event["reason"] == "waited_enough";
  CHECK(told == 1);
}
