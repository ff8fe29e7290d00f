/// Keys with an old name: each is read as the present one, with one remark; both at once are refused.

#include "io/old_names.hpp"

#include <map>

#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "support.hpp"

using namespace leewheel;

namespace {

/// A scenario whose line 10 holds the lines given, in the map that a row of the table names.
std::string with(const OldName& row, std::initializer_list<std::string_view> keys) {
  // A value for each present name, other than the one that a scenario without the key has.
  static const std::map<std::string_view, std::string> values{
      {"wake", "{push: 0.03}"},
      {"start_order", "[Ben, Ada]"},
      {"wake_interval_s", "0.25"},
      {"gutter_factor", "0.9"},
      {"unknown_wheel_factor", "0.8"},
      {"pull_factor", "0.7"},
      {"front_effort", "1.3"},
      {"wake_scale", "0.2"},
      {"windbreaks", "[{side: left, kind: wall, from_m: 100, to_m: 300, height_m: 2, distance_m: 6}]"}};
  INFO(row.now);
  REQUIRE(values.contains(row.now));
  std::string text =
      "title: Flat\nroad:\n  start_elevation_m: 100\n  stretches:\n"
      "    - {name: Out, length_m: 500, grade_percent: 0, heading_deg: 90}\n"
      "    - {name: On, length_m: 500, grade_percent: 0}\n"
      "riders:\n  - {name: Ada}\n  - {name: Ben}\n";
  if (!row.under.empty())
    text += std::string(row.under) + ": {" + (row.under == "wind" ? "speed_mps: 4, from_deg: 10, " : "");
  for (std::size_t k = 0; const std::string_view key : keys) {
    if (!row.under.empty() && k++ > 0) text += ", ";
    text += std::string(key) + ": " + values.at(row.now) + (row.under.empty() ? "\n" : "");
  }
  return text + (row.under.empty() ? "" : "}\n");
}

}  // namespace

TEST_CASE("a key with its old name is read as the present one, with a remark of both names and the line", "[old_names]") {
  io_test::Folder folder;
  for (const OldName& row : old_names()) {
    INFO(row.under << "." << row.old);
    std::vector<Fault> remarks, none;
    const std::string path = folder.write("old.yaml", with(row, {row.old}));
    const Scenario old = read_scenario(path, &remarks);
    const Scenario now = read_scenario(folder.write("now.yaml", with(row, {row.now})), &none);
    const Scenario without = read_scenario(folder.write("none.yaml", with(row, {})));
    CHECK(none.empty());
    CHECK(scenario_digest(old) == scenario_digest(now));
    CHECK(scenario_digest(old) != scenario_digest(without));
    REQUIRE(remarks.size() == 1);
    const std::string field = (row.under.empty() ? "" : std::string(row.under) + ".") + std::string(row.old);
    CHECK(remarks[0].text().starts_with(path + ":10:"));
    CHECK(remarks[0].field == field);
    CHECK(remarks[0].what ==
          "is now called " + std::string(row.now) + "; the old name will not be read by the next version");
  }
}

TEST_CASE("a key given by its old and its present name is refused, at the old one", "[old_names]") {
  io_test::Folder folder;
  for (const OldName& row : old_names()) {
    INFO(row.under << "." << row.old);
    const int line = row.under.empty() ? 11 : 10;
    const std::string path = folder.write("both.yaml", with(row, {row.now, row.old}));
    const std::string said = io_test::said([&] { read_scenario(path); });
    CHECK(said.starts_with(path + ":" + std::to_string(line) + ":"));
    CHECK(said.ends_with(std::string(row.old) + ": found beside " + std::string(row.now) +
                         ", its present name, expected only " + std::string(row.now)));
  }
}

TEST_CASE("old names of a map and of a key inside it are both read, with two remarks", "[old_names]") {
  io_test::Folder folder;
  std::vector<Fault> remarks;
  const std::string text = with({"", "lee", "wake"}, {}) + "lee: {lee_scale: 0.7}\n";
  CHECK(wake_base(read_scenario(folder.write("old.yaml", text), &remarks).wake).wake_scale == 0.7);
  REQUIRE(remarks.size() == 2);
  CHECK(remarks[0].field == "lee");
  CHECK(remarks[1].field == "wake.lee_scale");
}

TEST_CASE("a plan laid into a scenario with old names has the present ones alone", "[old_names]") {
  io_test::Folder folder;
  for (const OldName& row : old_names()) {
    INFO(row.under << "." << row.old);
    const std::string path = folder.write("old.yaml", with(row, {row.old}));
    const Scenario old = read_scenario(path);
    const std::string out = (folder / "planned.yaml").string();
    std::vector<Fault> remarks;
    const Scenario planned =
        read_scenario(folder.write("planned.yaml", scenario_with_plan_yaml(path, old, out, "")), &remarks);
    CHECK(remarks.empty());
    CHECK(scenario_digest(planned) == scenario_digest(old));
  }
}
