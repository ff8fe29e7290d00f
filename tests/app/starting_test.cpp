/// The commands around a ride: a scenario to start from, what is odd about one, completion and manual pages.

#include <nlohmann/json.hpp>

#include "app/support.hpp"

using namespace app_test;

namespace {

std::string hill_track(const Folder& folder) {
  std::string text = "<gpx version=\"1.1\"><trk><trkseg>\n";
  for (int k = 0; k < 200; ++k)
    text += "<trkpt lat=\"" + std::to_string(46.0 + 0.0002 * k) + "\" lon=\"8.0\"><ele>" + std::to_string(300.0 + 1.2 * k) +
            "</ele></trkpt>\n";
  return quoted(folder.write("hill.gpx", text + "</trkseg></trk></gpx>\n"));
}

/// A quiet kilometre for two; `riders` and `rest` may be odd.
std::string scenario(const Folder& folder, const std::string& riders, const std::string& rest = "") {
  return quoted(folder.write("odd.yaml",
                             "title: Odd\n"
                             "road:\n"
                             "  start_elevation_m: 100\n"
                             "  stretches:\n"
                             "    - {length_m: 1500, grade_percent: 1, heading_deg: 270, exposure: houses}\n"
                             "    - {length_m: 1000, grade_percent: 8}\n"
                             "  landmarks: [{name: Foot, at_m: 1500}, {name: Steep, at_m: 1900}]\n"
                             "riders:\n" +
                                 riders + rest));
}

const std::string two = "  - {name: Una, critical_power_W: 260}\n  - {name: Bo, critical_power_W: 250}\n";

std::vector<std::string> odd_places(const Folder& folder, const std::string& file) {
  const Answer answer = leewheel(folder, "check " + file + " --json");
  INFO(answer.err);
  REQUIRE((answer.code == 0 || answer.code == 1));
  std::vector<std::string> places;
  const auto said = nlohmann::json::parse(answer.out);
  for (const auto& odd : said["odd"]) {
    places.push_back(odd["where"]);
    for (const char* key : {"what", "why", "change"}) CHECK_FALSE(odd[key].get<std::string>().empty());
  }
  CHECK(answer.code == (places.empty() ? 0 : 1));
  return places;
}

}  // namespace

TEST_CASE("a new scenario from a track is ridden at once", "[new]") {
  const Folder folder;
  const Answer made = leewheel(
      folder, "new " + hill_track(folder) + " -o mine --riders 5 --wind-from NNW --wind-kmh 20 --title 'My \"hill\"'");
  INFO(made.err);
  REQUIRE(made.code == 0);
  const Answer ridden = leewheel(folder, "ride mine/scenario.yaml -o o --json");
  INFO(ridden.err);
  REQUIRE(ridden.code == 0);
  const auto summary = nlohmann::json::parse(ridden.out);
  CHECK(summary["riders"].size() == 5);
  CHECK(summary["title"] == "My \"hill\"");
  CHECK(summary["day"]["wind_at_10m"][0]["from_deg"] == 337.5);
}

TEST_CASE("a new scenario tells every number of a rider with its meaning", "[new]") {
  const Folder folder;
  REQUIRE(leewheel(folder, "new " + hill_track(folder) + " -o mine --yes").code == 0);
  const std::string text = text_of(folder / "mine/scenario.yaml");
  for (const char* key :
       {"# w_prime_J: 20000", "# drag_area_hoods_m2: 0.34", "# time_limit_s:", "# hold_margin:", "# wind_speed_mps: 1.5"}) {
    INFO(key);
    CHECK(text.find(key) != std::string::npos);
  }
}

TEST_CASE("a new scenario keeps a described road as it stands", "[new]") {
  const Folder folder;
  const std::string road = std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/road.yaml";
  REQUIRE(leewheel(folder, "new " + quoted(road) + " -o mine --yes --quiet").code == 0);
  CHECK(text_of(folder / "mine/road.yaml") == text_of(road));
  CHECK(leewheel(folder, "ride mine/scenario.yaml -o o --quiet").code == 0);
}

TEST_CASE("a new scenario writes over nothing unless told to", "[new]") {
  const Folder folder;
  const std::string track = hill_track(folder);
  REQUIRE(leewheel(folder, "new " + track + " -o mine --yes").code == 0);
  folder.write("mine/scenario.yaml", "mine");
  CHECK(leewheel(folder, "new " + track + " -o mine --yes").code == 2);
  CHECK(text_of(folder / "mine/scenario.yaml") == "mine");
  CHECK(leewheel(folder, "new " + track + " -o mine --yes --force").code == 0);
}

TEST_CASE("a new scenario of a file that is no road leaves no folder behind", "[new]") {
  const Folder folder;
  CHECK(leewheel(folder, "new " + quoted(folder.write("no.gpx", "not xml")) + " -o mine --yes").code == 2);
  CHECK_FALSE(fs::exists(folder / "mine"));
}

TEST_CASE("nothing is odd about two like riders on a quiet road", "[check]") {
  const Folder folder;
  CHECK(odd_places(folder, scenario(folder, two)).empty());
  CHECK(leewheel(folder, "check " + scenario(folder, two) + " --quiet").out.empty());
}

TEST_CASE("check finds each odd thing alone", "[check]") {
  const Folder folder;
  const auto only = [&](const std::string& riders, const std::string& rest) {
    const auto places = odd_places(folder, scenario(folder, riders, rest));
    return places.size() == 1 ? places.front() : std::to_string(places.size()) + " places";
  };
  CHECK(only("  - {name: Heavy, body_mass_kg: 140, critical_power_W: 180}\n", "") == "Heavy");
  CHECK(only("  - {name: Kilo, w_prime_J: 40000}\n", "") == "Kilo");
  CHECK(only("  - {name: Eager, target_effort: 1.2}\n", "") == "Eager");
  CHECK(only("  - name: Bold\n    plan: [{from: start, effort: 0.9}, {from: Foot, effort: 1.6}]\n", "") == "Bold");
  CHECK(only(two, "wind: {from: W, speed_kmh: 55}\n") == "wind");
  CHECK(
      only(two,
           "wind: {from: S, speed_kmh: 20, windbreaks: [{from_m: 0, to_m: 900, side: right, kind: wall, height_m: 2}]}\n") ==
      "wind.windbreaks[0]");
  CHECK(only(two, "ride: {regroup_at: [Steep]}\n") == "ride.regroup_at");
  CHECK(only("  - {name: Una, critical_power_W: 330}\n  - {name: Bo, critical_power_W: 190}\n",
             "ride: {kind: together}\n") == "ride.kind");
  CHECK(only("  - {name: Una}\n  - {name: Bo, wheel_skill: 0.2}\n", "ride: {formation: circulating}\n") == "Bo");
  CHECK(only("  - {name: Una}\n  - {name: Bo, wheel_skill: 0.2}\n", "behaviour: {gap_wary_m: 0.5}\n") ==
        "behaviour.gap_wary_m");
  CHECK(only(two, "ride: {formation: circulating, abreast: 1}\n") == "ride.formation");
  CHECK(only(two, "ride: {formation: one_in_front, abreast: 1}\n") == "0 places");
  CHECK(only(two, "air: {temperature_C: 10, pressure_hPa: 1013, humidity_percent: 50, station_altitude_m: 1800}\n") ==
        "air.pressure_hPa");
}

TEST_CASE("check speaks of exposure when a recorded track has none", "[check]") {
  const Folder folder;
  REQUIRE(leewheel(folder, "new " + hill_track(folder) + " -o mine --yes --quiet").code == 0);
  const auto places = odd_places(folder, "mine/scenario.yaml");
  CHECK(std::find(places.begin(), places.end(), "road.exposure") != places.end());
}

TEST_CASE("check refuses what cannot be read with code 2", "[check]") {
  const Folder folder;
  CHECK(leewheel(folder, "check nowhere.yaml").code == 2);
}

TEST_CASE("a new road lies in the land that was named, and the wind's quarter may be typed in small letters", "[new]") {
  const Folder folder;
  REQUIRE(leewheel(folder, "new " + hill_track(folder) + " -o mine --land wood --wind-from nnw --yes --quiet").code == 0);
  CHECK(odd_places(folder, "mine/scenario.yaml").empty());  // marked, so nothing is odd about exposure
  CHECK(text_of(folder / "mine/scenario.yaml").find("from: \"NNW\"") != std::string::npos);
}

TEST_CASE("questions are asked again after a wrong answer, and the end of input takes the usual ones", "[new]") {
  if (std::system("script -qec true /dev/null >/dev/null 2>&1") != 0) {
    WARN("no pseudo-terminal here: not tried");
    return;
  }
  const Folder folder;
  const std::string track = hill_track(folder);
  const auto talk = [&](const std::string& typed) {  // script gives the program a terminal
    folder.write("talk.sh", "{ sleep 0.3; printf '" + typed +
                                "'; sleep 0.3; } | script -qec \"" LEEWHEEL_PROGRAM
                                " new hill.gpx -o mine --force\" /dev/null > said 2>&1\n");
    std::system(("cd " + quoted(folder.path()) + " && sh talk.sh").c_str());
    return text_of(folder / "said");
  };
  const std::string said = talk("My hill\\n2.5\\n3\\n\\nwsw\\n\\n\\n");
  CHECK(said.find("expected a whole number from 1 to 40") != std::string::npos);
  const std::string scenario_text = text_of(folder / "mine/scenario.yaml");
  CHECK(scenario_text.find("title: \"My hill\"") != std::string::npos);
  CHECK(scenario_text.find("name: Rider 3") != std::string::npos);
  CHECK(scenario_text.find("name: Rider 4") == std::string::npos);
  CHECK(scenario_text.find("from: \"WSW\"") != std::string::npos);
  CHECK(talk("Short\\n\\004").find("the usual ones are taken") != std::string::npos);
}

TEST_CASE("every command that tells quantities tells them in miles on request", "[app]") {
  const Folder folder;
  const std::string hill = quoted(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml");
  for (const std::string& asked :
       {"ride " + hill, "road " + quoted(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/road.yaml"), "wind " + hill,
        "shelter " + hill + " --rider Fenn", "weigh " + hill + " --rider Elin --from 600 --to 4000 --runs 1",
        "pace " + hill + " --rider Cato", "spread " + hill + " --runs 1"}) {
    INFO(asked);
    const Answer metric = leewheel(folder, asked), imperial = leewheel(folder, asked + " --imperial");
    CHECK(imperial.code == metric.code);
    CHECK((metric.out.find("km") != std::string::npos));
    for (const char* unit : {" km/h", " km ", "m/s"}) CHECK(imperial.out.find(unit) == std::string::npos);
    CHECK(leewheel(folder, asked + " --json").out == leewheel(folder, asked + " --json --imperial").out);
  }
}

TEST_CASE("every command has help with an example", "[app]") {
  const Folder folder;
  for (const char* command :
       {"new",    "road",   "wind",  "club", "check",   "ride",   "shelter",  "weigh",      "pace", "notes",
        "lineup", "spread", "sheet", "page", "debrief", "fields", "evidence", "completion", "man",  "help"}) {
    INFO(command);
    const Answer help = leewheel(folder, std::string(command) + " --help");
    CHECK(help.code == 0);
    CHECK(help.out.find("Example") != std::string::npos);
    CHECK(help.out.find(std::string("leewheel ") + command) != std::string::npos);
  }
}

TEST_CASE("completion offers commands, options and choices to bash", "[completion]") {
  const Folder folder;
  const Answer written = leewheel(folder, "completion bash");
  REQUIRE(written.code == 0);
  folder.write("completion", written.out);
  const auto offered = [&](const std::string& words, int at) {
    folder.write("ask.sh", "source ./completion\nCOMP_WORDS=(leewheel " + words + ")\nCOMP_CWORD=" + std::to_string(at) +
                               "\n_leewheel\necho \"${COMPREPLY[*]}\"\n");
    std::system(("cd " + quoted(folder.path()) + " && bash ask.sh >answer 2>&1").c_str());
    return text_of(folder / "answer");
  };
  CHECK(offered("sh", 1) == "shelter sheet\n");
  CHECK(offered("ride --s", 2) == "--seed --step\n");
  CHECK(offered("lineup --for w", 3) == "weakest\n");
  CHECK(offered("fields be", 2) == "behaviour\n");
}

TEST_CASE("there is a manual page for every command, and it names every option", "[man]") {
  const Folder folder;
  REQUIRE(leewheel(folder, "man -o pages").code == 0);
  CHECK(text_of(folder / "pages/leewheel.1").find("leewheel\\-sheet") != std::string::npos);
  CHECK(text_of(folder / "pages/leewheel-sheet.1").find("\\-\\-pocket") != std::string::npos);
  CHECK(text_of(folder / "pages/leewheel-new.1").find("\\-\\-wind\\-kmh") != std::string::npos);
}
