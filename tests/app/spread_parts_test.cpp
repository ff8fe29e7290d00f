// spread in parts, as on several machines, and what it refuses to take up.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "app/spread_scene.hpp"
#include "io/runs_file.hpp"

using namespace app_test;
using Json = nlohmann::json;

namespace {

/// The small hill, ridden in one go and in parts.
struct Parts : Folder {
  Parts() {
    write("small.yaml", small_hill);
    REQUIRE(spread(*this, "--runs 10 --quiet -o go").code == 0);
    all = text_of(*this / "go/spread_runs.ndjson");
  }
  void ride(const std::string& part, const std::string& more = "") const {
    const Answer answer = spread(*this, "--runs 10 --quiet -o p --part " + part + more);
    CHECK(answer.out + answer.err == "");
    REQUIRE(answer.code == 0);
  }
  std::string all;
};

std::vector<int> numbers_in(const std::string& text) {
  std::vector<int> numbers;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    if (const Json one = Json::parse(line); one.contains("n")) numbers.push_back(one["n"]);
  return numbers;
}

}  // namespace

TEST_CASE("parts joined in any order are the bytes of one go", "[spread][determinism]") {
  const Parts parts;
  const Answer first = spread(parts, "--runs 10 -o p --part 1/3");
  CHECK(first.code == 0);
  CHECK(first.out == "Part 1/3 of 10 runs: 4 ridden, in p/spread_runs_1_of_3.ndjson; --join takes the parts up\n");
  parts.ride("2/3", " --threads 1");
  REQUIRE(spread(parts, "--runs 10 --quiet --part 3/3 -o elsewhere/third.ndjson").code == 0);
  CHECK(numbers_in(text_of(parts / "p/spread_runs_1_of_3.ndjson")) == std::vector{0, 3, 6, 9});
  CHECK(numbers_in(text_of(parts / "p/spread_runs_2_of_3.ndjson")) == std::vector{1, 4, 7});
  CHECK(numbers_in(text_of(parts / "elsewhere/third.ndjson")) == std::vector{2, 5, 8});
  CHECK_FALSE(fs::exists(parts / "p/spread.json"));
  const Answer joined =
      spread(parts, "--quiet -o j --join elsewhere/third.ndjson p/spread_runs_2_of_3.ndjson p/spread_runs_1_of_3.ndjson");
  CHECK(joined.out + joined.err == "");
  REQUIRE(joined.code == 0);
  CHECK(same_files(parts, "j", "go"));
  REQUIRE(spread(parts, "--quiet -o twice --join p/*.ndjson elsewhere/*.ndjson p/*.ndjson j/spread_runs.ndjson").code == 0);
  CHECK(same_files(parts, "twice", "go"));
}

TEST_CASE("the same part asked for again goes on with its file", "[spread]") {
  const Parts parts;
  parts.ride("2/3");
  const std::string whole = text_of(parts / "p/spread_runs_2_of_3.ndjson");
  const std::string torn = whole.substr(0, whole.rfind("\"n\":7"));
  const std::string marked = with(torn, "{\"n\":1,\"riders\":[[1,", "{\"n\":1,\"riders\":[[0,");  // not ridden again
  parts.write("p/spread_runs_2_of_3.ndjson", marked);
  parts.ride("2/3");
  CHECK(text_of(parts / "p/spread_runs_2_of_3.ndjson") ==
        with(whole, "{\"n\":1,\"riders\":[[1,", "{\"n\":1,\"riders\":[[0,"));
  REQUIRE(spread(parts, "--runs 13 --quiet -o p --part 2/3").code == 0);
  CHECK(numbers_in(text_of(parts / "p/spread_runs_2_of_3.ndjson")) == std::vector{1, 4, 7, 10});
  parts.write("p/spread_runs_3_of_3.ndjson", "");  // killed before its first line
  parts.ride("3/3");
  CHECK(numbers_in(text_of(parts / "p/spread_runs_3_of_3.ndjson")) == std::vector{2, 5, 8});
}

TEST_CASE("runs that are missing are named, and what is there can be gone on with", "[spread]") {
  const Parts parts;
  parts.ride("1/3");
  const Answer one = spread(parts, "-o j --join p/*.ndjson");
  CHECK(one.code == 3);
  CHECK(one.out == "");
  CHECK(one.err ==
        "leewheel: 6 of 10 runs are missing (part 2/3, 3/3): 1, 2, 4, 5, 7, 8; ride them with --resume "
        "j/spread_runs.ndjson\n");
  CHECK_FALSE(fs::exists(parts / "j/spread.json"));
  REQUIRE(spread(parts, "--quiet --resume j/spread_runs.ndjson -o j").code == 0);
  CHECK(same_files(parts, "j", "go"));
  const Answer more = spread(parts, "--runs 15 -o m --join j/spread_runs.ndjson");
  CHECK(more.code == 3);
  CHECK(more.err == "leewheel: 5 of 15 runs are missing: 10 to 14; ride them with --resume m/spread_runs.ndjson\n");
  const Answer many = spread(parts, "--runs 100 -o m --join p/*.ndjson");
  CHECK(many.err ==
        "leewheel: 96 of 100 runs are missing (part 2/3, 3/3): 1, 2, 4, 5, 7, 8, 10 to 99; ride them with --resume "
        "m/spread_runs.ndjson\n");
}

TEST_CASE("spread takes up no runs of strangers, and names the file, what was found and what was expected",
          "[spread][bad_input]") {
  const Parts parts;
  const std::string head = line_of(parts.all, 0), program = Json::parse(head)["program"],
                    digest = Json::parse(head)["scenario_digest"];
  const auto refused = [&](const std::string& content) {
    parts.write("b.ndjson", content);
    const Answer joined = spread(parts, "--join go/spread_runs.ndjson b.ndjson -o j");
    const Answer resumed = spread(parts, "--resume b.ndjson -o j");
    CHECK(joined.code == 2);
    CHECK(joined.out == "");
    CHECK_FALSE(fs::exists(parts / "j/spread_runs.ndjson"));
    CHECK(text_of(parts / "b.ndjson") == content);
    if (content.find("[[0,") == std::string::npos) CHECK(resumed.err == joined.err);  // alone it has no other to differ from
    return joined.err;
  };
  CHECK(refused(with(parts.all, digest, "0123456789abcdef")) ==
        "leewheel: b.ndjson:1: found runs of another scenario, or of this one before it was changed (the step counts too): "
        "digest 0123456789abcdef, expected " +
            digest + "\n");
  CHECK(refused(with(parts.all, program, "0.0.9")) ==
        "leewheel: b.ndjson:1: found runs of version 0.0.9, expected " + program + "\n");
  CHECK(refused(with(parts.all, "\"seed\":3", "\"seed\":4")) == "leewheel: b.ndjson:1: found runs of seed 4, expected 3\n");
  CHECK(refused(R"({"leewheel_spread_runs":2,"program":"0.1.0","scenario_digest":"0","seed":3,"runs":[]})"
                "\n") == "leewheel: b.ndjson:1: found runs of layout 2, expected 3\n");
  CHECK(refused(parts.all + "{\"n\":3,\n") ==
        "leewheel: b.ndjson:12: found no run of leewheel spread, expected a line that it wrote\n");
  CHECK(refused(head + "\n{\"n\":3,\"riders\":[],\"whole\":[],\"largest\":[]}\n") ==
        "leewheel: b.ndjson:2: found a run with other riders or stretches, expected the scenario's\n");
  CHECK(refused(head + "\n{\"n\":1000000,\"failed\":\"\"}\n") ==
        "leewheel: b.ndjson:2: found run 1000000, expected one below 1000000\n");
  CHECK(refused(with(parts.all, "{\"n\":2,\"riders\":[[1,", "{\"n\":2,\"riders\":[[0,")) ==
        "leewheel: b.ndjson:4: found run 2 with other numbers than it was taken up with before, expected the same\n");
  for (const char* none : {"not JSON", "5\n", "{\"n\":3}\n", "{}\n", "{\"leewheel_spread_runs\":3}\n"})
    CHECK(refused(none) == "leewheel: b.ndjson: found no runs of leewheel spread, expected the file that it wrote\n");
  CHECK(spread(parts, "--join gone.ndjson").err == "leewheel: gone.ndjson: not found, expected a file\n");
  CHECK(spread(parts, "--resume gone.ndjson").err == "leewheel: gone.ndjson: not found, expected a file\n");
  const Answer step = spread(parts, "--step 0.2 --join go/spread_runs.ndjson");
  CHECK(step.code == 2);
  CHECK(step.err.find("go/spread_runs.ndjson:1: found runs of another scenario") != std::string::npos);
}

TEST_CASE("a file of runs is written by one process at a time", "[spread]") {
  const Parts parts;
  const leewheel::RunsFile held((parts / "go/spread_runs.ndjson").string(), leewheel::RunsFile::Opened::to_go_on);
  for (const char* way : {"--runs 10 -o go", "--resume go/spread_runs.ndjson", "--part 1/3 -o go/spread_runs.ndjson"}) {
    const Answer second = spread(parts, way);
    CHECK(second.code == 2);
    CHECK(second.err ==
          "leewheel: go/spread_runs.ndjson: runs are being written to it, expected another file or to wait for "
          "their end\n");
  }
  CHECK(text_of(parts / "go/spread_runs.ndjson") == parts.all);
}

TEST_CASE("a part is one of how many, and goes with no other way", "[spread][bad_input]") {
  const Parts parts;
  for (const std::string wrong : {"0/3", "4/3", "3", "/", "1/0", "a/3", "1/3x", "-1/3", "1/1000001"})
    CHECK(spread(parts, "--part " + wrong).err ==
          "leewheel: --part: found " + wrong + ", expected K/N with K from 1 to N, as in 3/8 (see leewheel help spread)\n");
  CHECK(spread(parts, "--part 1/3 --resume a").code == 2);
  CHECK(spread(parts, "--part 1/3 --join a").code == 2);
  CHECK(spread(parts, "--resume a --join a").code == 2);
  CHECK(spread(parts, "--part 1/3 --json").code == 2);
}
