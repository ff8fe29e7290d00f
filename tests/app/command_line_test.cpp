/// The command line as a whole: help, suggestions, one pattern of error, folders and standard input as scenarios.

#include <nlohmann/json.hpp>

#include "app/support.hpp"

using namespace app_test;

namespace {

const std::string two_riders =
    "title: Short\n"
    "road: {start_elevation_m: 0, stretches: [{length_m: 400, grade_percent: 3, heading_deg: 0}]}\n"
    "riders: [{name: Una}, {name: Vera}]\n";

std::string said(const std::string& arguments) {
  const Folder folder;
  const Answer answer = leewheel(folder, arguments);
  CHECK(answer.code == 2);
  CHECK(answer.out.empty());
  return answer.err;
}

const std::string all_commands[] = {"new",    "road",     "wind",       "club",   "check",  "ride",  "shelter",
                                    "weigh",  "notes",    "pace",       "lineup", "spread", "sheet", "debrief",
                                    "fields", "evidence", "completion", "man",    "help"};

}  // namespace

TEST_CASE("a command or option typed wrong is answered with the one that was meant", "[command_line]") {
  CHECK(said("rid my.yaml") == "leewheel: unknown command 'rid'; did you mean ride? (see leewheel help)\n");
  CHECK(said("help rid") == "leewheel: unknown command 'rid'; did you mean ride? (see leewheel help)\n");
  CHECK(said("ride my.yaml --sed 3") == "leewheel: unknown option '--sed'; did you mean --seed? (see leewheel help ride)\n");
  CHECK(said("ride my.yaml --sed=3") == "leewheel: unknown option '--sed'; did you mean --seed? (see leewheel help ride)\n");
  CHECK(said("lineup my.yaml --for weekest") ==
        "leewheel: --for: found weekest, expected one of time, weakest, fair; did you mean weakest? (see leewheel help "
        "lineup)\n");
  CHECK(said("ride a.yaml b.yaml") == "leewheel: found 'b.yaml' besides what ride takes (see leewheel help ride)\n");
  CHECK(said("ride my.yaml --seed") == "leewheel: --seed: found nothing, expected a value (see leewheel help ride)\n");
}

TEST_CASE("a missing command is told with what to type", "[command_line]") {
  CHECK(said("") ==
        "leewheel: a command is missing, expected leewheel COMMAND, such as leewheel ride my.yaml (see leewheel help)\n");
  CHECK(said("--json") ==
        "leewheel: found '--json' before a command, expected leewheel COMMAND --json, such as leewheel ride my.yaml --json "
        "(see leewheel help)\n");
}

TEST_CASE("help, help COMMAND and COMMAND --help say the same", "[command_line]") {
  const Folder folder;
  CHECK(leewheel(folder, "help").out == leewheel(folder, "--help").out);
  for (const std::string& command : all_commands) {
    INFO(command);
    const Answer asked = leewheel(folder, "help " + command);
    CHECK(asked.code == 0);
    CHECK(asked.out == leewheel(folder, command + " --help").out);
    CHECK(asked.out.find("Exit codes: 0 ") != std::string::npos);
    for (const char* type : {"FLOAT", "UINT", " INT", "TEXT:", "REQUIRED", "=60"})
      CHECK(asked.out.find(type) == std::string::npos);
  }
}

TEST_CASE("help fits 80 columns but for examples, and tells ranges and what is taken without an option", "[command_line]") {
  const Folder folder;
  const std::string help = leewheel(folder, "spread --help").out;
  CHECK(help.find("--runs N") != std::string::npos);
  CHECK(help.find("days to ride, 1 to 1000000 [1000, or as many as") != std::string::npos);
  for (const std::string& command : all_commands) {
    std::istringstream lines(leewheel(folder, command + " --help").out);
    for (std::string line; std::getline(lines, line) && !line.starts_with("Example");) {
      INFO(command << ": " << line);
      CHECK(line.size() <= 80);
    }
  }
}

TEST_CASE("-V and --version tell the version and the commit", "[command_line]") {
  const Folder folder;
  const std::string version = leewheel(folder, "--version").out;
  CHECK(version == leewheel(folder, "-V").out);
  std::system(("git -C " + quoted(LEEWHEEL_SCENARIOS) + " rev-parse --short=10 HEAD 2>/dev/null | tr -d '\\n' >" +
               quoted(folder / "commit"))
                  .c_str());
  const std::string commit = text_of(folder / "commit");  // none outside a checkout
  CHECK(version == "leewheel " LEEWHEEL_VERSION + (commit.empty() ? "" : " (" + commit + ")") + "\n");
}

TEST_CASE("every command writes with --out; the former --output is read and told nowhere", "[command_line]") {
  const Folder folder;
  REQUIRE(leewheel(folder, "fields ride --out new.md").code == 0);
  REQUIRE(leewheel(folder, "fields ride --output old.md").code == 0);
  CHECK(text_of(folder / "new.md") == text_of(folder / "old.md"));
  for (const std::string command : {"fields", "road"})
    CHECK(leewheel(folder, command + " --help").out.find("--output") == std::string::npos);
  CHECK(leewheel(folder, "completion bash").out.find("--output") == std::string::npos);
}

TEST_CASE("a folder that holds scenario.yaml, and standard input, stand for the scenario", "[command_line]") {
  const Folder folder;
  fs::create_directory(folder / "mine");
  folder.write("mine/scenario.yaml", two_riders);
  const auto summary = [&](const std::string& from, const std::string& out) {
    const Answer answer = leewheel(folder, "ride " + from + " --one --quiet -o " + out);
    INFO(answer.err);
    CHECK(answer.code == 0);
    return text_of(folder / (out + "/summary.json"));
  };
  const std::string by_name = summary("mine/scenario.yaml", "a");
  CHECK_FALSE(by_name.empty());
  CHECK(summary("mine", "b") == by_name);
  CHECK(summary("- <mine/scenario.yaml", "c") == by_name);
  CHECK(text_of(folder / "c/trace.h5") == text_of(folder / "a/trace.h5"));
  folder.write("wrong.yaml", "title: Short\nrode: {}\n");
  CHECK(leewheel(folder, "check - <wrong.yaml").err.find("leewheel: standard input:2:1: rode: unknown key") !=
        std::string::npos);
}

TEST_CASE("every line about a fault begins with the program's name", "[command_line]") {
  const Folder folder;
  folder.write("wrong.yaml", "title: 7\nrode: {}\n");
  for (const std::string arguments :
       {"ride wrong.yaml", "ride nowhere.yaml", "shelter --rider nobody", "evidence --rows wrong.yaml", "road wrong.yaml",
        "new wrong.yaml -o x --yes", "ride", "fly"}) {
    INFO(arguments);
    const Answer answer = leewheel(folder, arguments);
    CHECK(answer.code == 2);
    std::istringstream lines(answer.err);
    for (std::string line; std::getline(lines, line);) CHECK(line.starts_with("leewheel: "));
  }
}

TEST_CASE("archetypes are found from any folder", "[command_line]") {
  const Folder folder;
  const Answer answer = leewheel(folder, "shelter --rider light_climber");
  INFO(answer.err);
  CHECK(answer.code == 0);
}
