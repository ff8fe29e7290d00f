// spread in one go, stopped, killed and gone on with.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app/spread_runs.hpp"
#include "app/spread_scene.hpp"
#include "io/scenario_reader.hpp"

using namespace app_test;
using Json = nlohmann::json;

namespace {

/// A scenario of the small hill in a folder of its own.
struct Hill : Folder {
  Hill() { write("small.yaml", small_hill); }
};

/// In the folder, by a shell that knows the program as $p.
int shell(const Folder& folder, const std::string& commands) {
  const int status =
      std::system(("cd " + quoted(folder.path()) + " && p=" + quoted(LEEWHEEL_PROGRAM) + "\n" + commands).c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/// What `act` prints on standard error.
template <class Act>
std::string standard_error_of(const Folder& folder, const Act& act) {
  const std::string path = (folder / ".told").string();
  std::fflush(stderr);
  const int before = dup(STDERR_FILENO);
  REQUIRE(std::freopen(path.c_str(), "w", stderr));
  act();
  std::fflush(stderr);
  dup2(before, STDERR_FILENO);
  close(before);
  return text_of(path);
}

}  // namespace

TEST_CASE("spread writes the same bytes on one thread and on two", "[spread][determinism]") {
  const Hill hill;
  REQUIRE(spread(hill, "--runs 9 --threads 1 --quiet -o one").code == 0);
  REQUIRE(spread(hill, "--runs 9 --threads 2 --quiet -o two").code == 0);
  CHECK(same_files(hill, "one", "two"));
  CHECK(lines_of(text_of(hill / "one/spread_runs.ndjson")) == 10);
}

TEST_CASE("spread interrupted and resumed writes what one go writes", "[spread]") {
  const Hill hill;
  CHECK(shell(hill,
              "timeout --preserve-status -s INT 2 \"$p\" spread small.yaml --seed 3 --runs 500000 --quiet -o part 2>.err") ==
        3);
  CHECK(text_of(hill / ".err").find("; go on with --resume part/spread_runs.ndjson\n") != std::string::npos);
  const std::size_t done = lines_of(text_of(hill / "part/spread_runs.ndjson")) - 1;
  REQUIRE(done > 0);
  const std::string more = "--runs " + std::to_string(done + 5) + " --quiet ";
  REQUIRE(spread(hill, more + "--resume part/spread_runs.ndjson -o rest").code == 0);
  REQUIRE(spread(hill, more + "-o go").code == 0);
  CHECK(same_files(hill, "rest", "go", {"spread.json", "spread.csv"}));
}

TEST_CASE("a kill loses no run that was ridden, and a torn last line is ridden again", "[spread]") {
  const Hill hill;
  CHECK(
      shell(hill,
            "\"$p\" spread small.yaml --seed 3 --runs 500000 --quiet -o part & f=$!\n"
            "while ! [ -e part/spread_runs.ndjson ] || [ $(wc -l < part/spread_runs.ndjson) -lt 20 ]; do sleep 0.01; done\n"
            "kill -KILL $f; wait $f 2>/dev/null; [ $? -eq 137 ] && [ $(wc -l < part/spread_runs.ndjson) -ge 20 ]") == 0);
  std::string killed;
  for (std::size_t line = 0; line < 8; ++line) killed += line_of(text_of(hill / "part/spread_runs.ndjson"), line) + "\n";
  const std::string torn = line_of(text_of(hill / "part/spread_runs.ndjson"), 8);
  hill.write("part/spread_runs.ndjson", killed + torn.substr(0, torn.size() / 2));
  REQUIRE(spread(hill, "--runs 30 --quiet -o go").code == 0);
  const Answer rest = spread(hill, "--runs 30 --quiet --resume part/spread_runs.ndjson -o part");
  CHECK(rest.err == "");
  REQUIRE(rest.code == 0);
  CHECK(same_files(hill, "part", "go", {"spread.json", "spread.csv"}));
}

TEST_CASE("without --runs a file is gone on with to the number it was begun for, and nothing is lost for fewer",
          "[spread]") {
  const Hill hill;
  REQUIRE(spread(hill, "--runs 12 --quiet -o go").code == 0);
  const std::string all = text_of(hill / "go/spread_runs.ndjson");
  hill.write("some.ndjson", line_of(all, 0) + "\n" + line_of(all, 4) + "\n");
  REQUIRE(spread(hill, "--quiet --resume some.ndjson -o rest").code == 0);
  CHECK(text_of(hill / "some.ndjson") == all);
  CHECK(same_files(hill, "rest", "go", {"spread.json", "spread.csv"}));
  const Answer fewer = spread(hill, "--runs 5 --json --resume some.ndjson -o fewer");
  CHECK(Json::parse(fewer.out)["runs"] == 5);
  CHECK(text_of(hill / "some.ndjson") == with(all, "\"runs\":12", "\"runs\":5"));
}

TEST_CASE("a full disk stops spread with one line, and what was ridden is gone on with", "[spread][faults]") {
  const Hill hill;
  REQUIRE(spread(hill, "--runs 12 --quiet -o go").code == 0);
  const std::string all = text_of(hill / "go/spread_runs.ndjson");
  CHECK(shell(hill,
              "trap '' XFSZ\nulimit -f 2\n\"$p\" spread small.yaml --seed 3 --runs 12 --threads 1 --quiet -o s 2>.err") ==
        3);
  CHECK(text_of(hill / ".err") ==
        "leewheel: s/spread_runs.ndjson: cannot be written; is the disk full or the folder gone?\n");
  const std::string some = text_of(hill / "s/spread_runs.ndjson");
  CHECK((some.size() >= 1024 && some.size() < all.size()));
  CHECK(all.starts_with(some));
  REQUIRE(spread(hill, "--quiet --resume s/spread_runs.ndjson -o s").code == 0);
  CHECK(same_files(hill, "s", "go"));
}

TEST_CASE("a day that fails is told with its number and seed, the rest goes on, and it is ridden again", "[spread]") {
  using namespace leewheel;
  const Hill hill;
  REQUIRE(spread(hill, "--runs 6 --quiet -o go").code == 0);
  const std::string all = text_of(hill / "go/spread_runs.ndjson");
  Scenario scenario = read_scenario((hill / "small.yaml").string());
  scenario.ride.step_s = many_days_step_s;
  KeptRuns kept{Json::parse(line_of(all, 0))["program"], scenario_digest(scenario), 3, {}, 6, std::vector<RunOutcome>(6)};
  const std::string told = standard_error_of(hill, [&] {
    RunsFile file((hill / "failed.ndjson").string(), RunsFile::Opened::anew);
    CHECK(ride_runs(scenario, kept, file, 2, false, [](const Scenario& s, std::uint64_t seed, std::uint64_t n) {
      if (n == 4) throw std::runtime_error("no air");
      return ride_day(s, seed, n);
    }));
  });
  CHECK(told == "leewheel: run 4 of seed 3 failed (its own seed is " + std::to_string(day_seed(scenario, 3, 4)) +
                    "): no air; the others go on\n");
  CHECK(text_of(hill / "failed.ndjson") == with(all, line_of(all, 5), R"({"n":4,"failed":"no air"})"));

  const Answer joined = spread(hill, "--join failed.ndjson -o five");
  CHECK(joined.code == 3);
  CHECK(joined.err == "");
  CHECK(joined.out.find("A small hill: 5 runs, each") == 0);
  CHECK(joined.out.find("\n1 of 6 runs failed and are missing.\n") != std::string::npos);
  CHECK(Json::parse(text_of(hill / "five/spread.json"))["runs"] == 5);
  CHECK(Json::parse(text_of(hill / "five/spread.json"))["missing_runs"] == Json::parse("[4]"));
  CHECK(lines_of(text_of(hill / "five/spread.csv")) == 1 + 3 * 5);
  CHECK(text_of(hill / "five/spread_runs.ndjson") == text_of(hill / "failed.ndjson"));

  REQUIRE(spread(hill, "--quiet --resume five/spread_runs.ndjson -o five").code == 0);
  CHECK(same_files(hill, "five", "go"));
}

TEST_CASE("when every day failed there is no result", "[spread]") {
  const Hill hill;
  REQUIRE(spread(hill, "--runs 1 --quiet -o go").code == 0);
  hill.write("failed.ndjson", line_of(text_of(hill / "go/spread_runs.ndjson"), 0) + "\n{\"n\":0,\"failed\":\"no air\"}\n");
  const Answer none = spread(hill, "--join failed.ndjson -o none");
  CHECK(none.code == 3);
  CHECK(none.err == "leewheel: every run failed; there is nothing to tell\n");
  CHECK_FALSE(fs::exists(hill / "none/spread.json"));
}
