/// Faults of the machine and of other programs: a full disk, two rides at once, signals, names that are no text.

#include <nlohmann/json.hpp>
#include <set>

#include "app/support.hpp"

using namespace app_test;

namespace {

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename().string());
  return names;
}

/// A script in the folder, run by bash with job control, so that its background jobs hear Ctrl-C. Gives its exit code.
int script(const Folder& folder, const std::string& lines) {
  folder.write("script.sh", "set -m\ncd " + quoted(folder.path()) + "\np=" + quoted(LEEWHEEL_PROGRAM) + "\n" + lines + "\n");
  const int status = std::system(("bash " + quoted(folder / "script.sh") + " >/dev/null 2>&1").c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

std::string ridden(const std::string& name) {
  return "title: " + name +
         "\nroad: {start_elevation_m: 0, stretches: [{length_m: 600, grade_percent: 3, heading_deg: 0}]}\n"
         "riders: [{name: " +
         name + "}, {name: Vera}]\n";
}

}  // namespace

TEST_CASE("of two rides into one folder the second is refused with the reason, and the first is whole", "[faults]") {
  const Folder folder;
  const int first = script(folder, "\"$p\" ride " + larkmoor() +
                                       " -o two --one --quiet --step 0.05 2>first.err & f=$!\n"
                                       "while ! [ -e two/trace.h5.part ]; do sleep 0.01; done\n"
                                       "\"$p\" ride " +
                                       larkmoor() +
                                       " -o two --quiet --seed 9 2>second.err; echo $? >second.code\n"
                                       "wait $f");
  CHECK(first == 0);
  CHECK(text_of(folder / "second.code") == "2\n");
  CHECK(text_of(folder / "second.err") ==
        "leewheel: two: another ride is being written to this folder, expected another one (-o) or to wait for its end\n");
  REQUIRE(leewheel(folder, "ride " + larkmoor() + " -o alone --one --quiet --step 0.05").code == 0);
  for (const char* name : {"trace.h5", "summary.json", "riders.csv"})
    CHECK(text_of(folder / ("two/" + std::string(name))) == text_of(folder / ("alone/" + std::string(name))));
}

TEST_CASE("wherever the room ends, a ride says so in one line with code 3 and the earlier results stay", "[faults]") {
  const Folder folder;
  folder.write("a.yaml", ridden("Una"));
  folder.write("b.yaml", ridden("Ute"));
  REQUIRE(leewheel(folder, "ride a.yaml -o o --one --quiet").code == 0);
  const std::set<std::string> before = names_in(folder / "o");
  const std::string trace = text_of(folder / "o/trace.h5"), summary = text_of(folder / "o/summary.json");
  // No file may grow beyond so many blocks of 512 bytes; SIGXFSZ is ignored, so that writing fails as on a full disk.
  int refused = 0;
  for (const int blocks : {0, 1, 2, 8, 20, 40, 60, 80, 100, 120}) {
    INFO(blocks << " blocks");
    const int code = script(
        folder, "trap '' XFSZ\nulimit -f " + std::to_string((blocks + 1) / 2) +
                    "\nerr=$(\"$p\" ride b.yaml -o o --one --quiet 2>&1 >/dev/null); c=$?\nulimit -f unlimited 2>/dev/null\n"
                    "[ $(printf '%s\\n' \"$err\" | wc -l) -eq 1 ] || exit 99\n"
                    "[ $c -eq 0 ] || case $err in 'leewheel: o/'*'cannot be written'*) ;; *) exit 98;; esac\nexit $c");
    if (code == 0) continue;
    ++refused;
    CHECK((code == 3 || code == 2));
    CHECK(names_in(folder / "o") == before);
    CHECK(text_of(folder / "o/trace.h5") == trace);
    CHECK(text_of(folder / "o/summary.json") == summary);
  }
  CHECK(refused >= 8);
}

TEST_CASE("SIGTERM is answered as Ctrl-C: a ride leaves its trace so far, spread what it rode", "[faults]") {
  const Folder folder;
  folder.write("a.yaml", ridden("Una"));
  CHECK(script(folder, "\"$p\" ride " + larkmoor() +
                           " -o r --step 0.02 & f=$!\n"
                           "while ! [ -e r/trace.h5.part ]; do sleep 0.01; done; sleep 0.1; kill -TERM $f; wait $f") == 3);
  CHECK(names_in(folder / "r") == std::set<std::string>{"trace.h5.part"});
  CHECK(script(folder, "timeout --preserve-status -s TERM 2 \"$p\" spread a.yaml --runs 500000 --quiet -o s") == 3);
  CHECK(lines_of(text_of(folder / "s/spread_runs.ndjson")) > 1);
}

TEST_CASE("a name like a formula reaches a spreadsheet as text", "[faults]") {
  const Folder folder;
  folder.write("a.yaml", ridden("'=1+2'"));
  REQUIRE(leewheel(folder, "ride a.yaml -o o --one --quiet").code == 0);
  CHECK(text_of(folder / "o/riders.csv").find("\n'=1+2,") != std::string::npos);
  CHECK(text_of(folder / "o/riders.csv").find("\n=") == std::string::npos);
  CHECK(nlohmann::json::parse(text_of(folder / "o/summary.json"))["riders"][0]["name"] == "=1+2");
}

TEST_CASE("a road on which the start line reaches past the finish is refused", "[faults]") {
  const Folder folder;
  std::string riders;
  for (int k = 0; k < 30; ++k) riders += "  - {name: R" + std::to_string(k) + "}\n";
  const auto road = [](int length_m) {
    return "title: Short\nroad: {start_elevation_m: 0, stretches: [{length_m: " + std::to_string(length_m) +
           ", grade_percent: 3, heading_deg: 0}]}\nriders:\n";
  };
  folder.write("short.yaml", road(50) + riders);
  const Answer short_road = leewheel(folder, "ride short.yaml -o o");
  CHECK(short_road.code == 2);
  CHECK(short_road.err.starts_with("leewheel: short.yaml:2:7: road: found 50 m of road, expected more than the start line"));
  folder.write("long.yaml", road(200) + riders);
  REQUIRE(leewheel(folder, "ride long.yaml -o o --one --quiet").code == 0);
  const auto summary = nlohmann::json::parse(text_of(folder / "o/summary.json"));
  for (const auto& rider : summary["riders"]) CHECK(rider["finish_time_s"] > 0.0);
}

TEST_CASE("standard output that cannot be written is one line with code 3", "[faults]") {
  const Folder folder;
  CHECK(script(folder, "\"$p\" fields ride 2>err >/dev/full") == 3);
  CHECK(text_of(folder / "err") == "leewheel: standard output cannot be written; is the disk full?\n");
}
