#include <chrono>
#include <nlohmann/json.hpp>
#include <set>
#include <thread>

#include "app/support.hpp"

using namespace app_test;

namespace {

const std::set<std::string> result_files{"trace.h5",      "summary.json", "riders.csv",
                                         "stretches.csv", "events.csv",   "towing.graphml"};

std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename().string());
  return names;
}

/// A road of two kilometres and two riders: rides in a moment.
std::string short_scenario(const Folder& folder, const std::string& extra = "") {
  folder.write("road.yaml",
               "start_elevation_m: 100\n"
               "stretches:\n"
               "  - {name: Meadow, length_m: 1200, grade_percent: 1, heading_deg: 270}\n"
               "  - {name: Bank, length_m: 800, grade_percent: 6}\n"
               "landmarks:\n"
               "  - {name: Gate, at_m: 1200}\n");
  return quoted(folder.write("short.yaml",
                             "title: Short\n"
                             "road: {file: road.yaml}\n"
                             "wind: {forecast: [{time_min: 0, speed_mps: 4, from_deg: 270}]}\n"
                             "riders:\n"
                             "  - {name: Una, critical_power_W: 280}\n"
                             "  - {name: \"Jörn, the \\\"tall\\\"\", critical_power_W: 270}\n" +
                                 extra));
}

}  // namespace

TEST_CASE("a ride leaves exactly its six files and nothing unfinished", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder) + " -o results");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK(answer.err.empty());
  CHECK(names_in(folder / "results") == result_files);
}

TEST_CASE("without -o the results go to out and the name of the scenario's folder", "[app]") {
  const Folder folder;
  fs::create_directory(folder / "hill");
  const std::string scenario = short_scenario(folder);
  fs::rename(folder / "short.yaml", folder / "hill/short.yaml");
  fs::rename(folder / "road.yaml", folder / "hill/road.yaml");
  REQUIRE(leewheel(folder, "ride hill/short.yaml").code == 0);
  CHECK(names_in(folder / "out/hill") == result_files);
}

TEST_CASE("the same scenario and seed give the same bytes on one thread and on four", "[app][determinism]") {
  const Folder folder;
  const std::string scenario = short_scenario(folder);
  REQUIRE(leewheel(folder, "ride " + scenario + " -o one --threads 1").code == 0);
  std::this_thread::sleep_for(std::chrono::milliseconds(1100));  // no file may hold the clock
  REQUIRE(leewheel(folder, "ride " + scenario + " -o four --threads 4").code == 0);
  for (const std::string& name : result_files) {
    INFO(name);
    CHECK(text_of(folder / ("one/" + name)) == text_of(folder / ("four/" + name)));
  }
}

TEST_CASE("--json prints summary.json and nothing else", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder) + " -o results --json");
  REQUIRE(answer.code == 0);
  CHECK(answer.out == text_of(folder / "results/summary.json"));
  const auto summary = nlohmann::json::parse(answer.out);
  CHECK(summary["riders"].size() == 2);
  CHECK(summary["riders"][0]["stretches"].size() == 2);
  CHECK(summary["riders"][1]["name"] == "Jörn, the \"tall\"");
}

TEST_CASE("--quiet prints nothing", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder) + " -o results --quiet");
  CHECK(answer.code == 0);
  CHECK(answer.out.empty());
  CHECK(answer.err.empty());
}

TEST_CASE("--seed and --step stand in the summary in place of the scenario's", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder) + " -o results --json --seed 77 --step 0.2");
  REQUIRE(answer.code == 0);
  const auto ride = nlohmann::json::parse(answer.out)["ride"];
  CHECK(ride["seed"] == 77);
  CHECK(ride["step_s"] == 0.2);
}

TEST_CASE("a piped summary carries no colour codes and fits a hundred columns", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + larkmoor() + " -o results");
  REQUIRE(answer.code == 0);
  CHECK(answer.out.find('\x1b') == std::string::npos);
  std::istringstream lines(answer.out);
  for (std::string line; std::getline(lines, line);) {
    const auto begins_character = [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; };
    INFO(line);
    if (!line.starts_with("Written to")) CHECK(std::count_if(line.begin(), line.end(), begins_character) <= 100);
  }
}

TEST_CASE("no result holds NaN or infinity", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder, "ride: {time_limit_s: 60}\n") + " -o results");
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  for (const char* name : {"summary.json", "riders.csv", "stretches.csv", "events.csv", "towing.graphml"}) {
    INFO(name);
    const std::string text = text_of(folder / (std::string("results/") + name));
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
  }
  CHECK(nlohmann::json::parse(text_of(folder / "results/summary.json"))["riders"][0]["finish_time_s"].is_null());
}

TEST_CASE("wrong arguments are refused with one line and code 2", "[app]") {
  const Folder folder;
  const std::string scenario = short_scenario(folder);
  for (const std::string& arguments :
       {std::string(""), std::string("fly"), std::string("ride"), "ride " + scenario + " --step 0",
        "ride " + scenario + " --step nan", "ride " + scenario + " --seed -1", "ride " + scenario + " --threads 0",
        "ride " + scenario + " --colour"}) {
    INFO(arguments);
    const Answer answer = leewheel(folder, arguments);
    CHECK(answer.code == 2);
    CHECK(lines_of(answer.err) == 1);
    CHECK(answer.err.starts_with("leewheel: "));
    CHECK_FALSE(fs::exists(folder / "out"));
  }
}

TEST_CASE("a missing scenario is refused by name, code 2, and no folder is made", "[app]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "ride nowhere.yaml -o results");
  CHECK(answer.code == 2);
  CHECK(answer.err.find("nowhere.yaml") != std::string::npos);
  CHECK_FALSE(fs::exists(folder / "results"));
}

TEST_CASE("a bad scenario is refused with file and line, code 2, and earlier results stay as they were", "[app]") {
  const Folder folder;
  const std::string scenario = short_scenario(folder);
  REQUIRE(leewheel(folder, "ride " + scenario + " -o results").code == 0);
  const std::string before = text_of(folder / "results/trace.h5");
  short_scenario(folder, "ride: {step_s: banana}\n");
  const Answer answer = leewheel(folder, "ride " + scenario + " -o results");
  CHECK(answer.code == 2);
  CHECK(answer.err.find("short.yaml:7:") != std::string::npos);
  CHECK(text_of(folder / "results/trace.h5") == before);
  CHECK(names_in(folder / "results") == result_files);
}

TEST_CASE("a place that cannot hold the results is refused before riding", "[app]") {
  const Folder folder;
  folder.write("taken", "a file, no folder");
  const Answer answer = leewheel(folder, "ride " + short_scenario(folder) + " -o taken/results");
  CHECK(answer.code == 2);
  CHECK(answer.err.find("taken/results") != std::string::npos);
  CHECK(text_of(folder / "taken") == "a file, no folder");
}

TEST_CASE("an interrupted ride leaves the unfinished trace alone, code 3", "[app]") {
  const Folder folder;
  const std::string slow = short_scenario(folder);
  const std::string command =
      "cd " + quoted(folder.path()) + " && { " + quoted(LEEWHEEL_PROGRAM) + " ride " + larkmoor() +
      " -o results --step 0.02 >.out 2>.err & } ; p=$! ; "
      "while ! [ -e results/trace.h5.part ]; do sleep 0.01; done ; sleep 0.1; kill -INT $p ; wait $p";
  folder.write("interrupt.sh", "set -m\n" + command + "\n");  // -m: a shell's background jobs ignore the signal otherwise
  const int status = std::system(("bash " + quoted(folder / "interrupt.sh")).c_str());
  INFO(text_of(folder / ".err"));
  CHECK(WEXITSTATUS(status) == 3);
  CHECK(names_in(folder / "results") == std::set<std::string>{"trace.h5.part"});
}

TEST_CASE("help and version are answered with code 0", "[app]") {
  const Folder folder;
  const Answer help = leewheel(folder, "--help"), ride_help = leewheel(folder, "ride --help"),
               version = leewheel(folder, "--version");
  CHECK(help.code == 0);
  CHECK(help.out.find("Examples:") != std::string::npos);
  CHECK(ride_help.code == 0);
  CHECK(ride_help.out.find("--seed") != std::string::npos);
  CHECK(version.code == 0);
  CHECK(version.out.starts_with("leewheel " LEEWHEEL_VERSION));
}
