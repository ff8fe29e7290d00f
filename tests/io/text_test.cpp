/// What is text, what a name may hold, and what is refused at once for its size.

#include "io/text_file.hpp"

#include <catch2/catch.hpp>

#include "io/csv.hpp"
#include "io/fault_words.hpp"
#include "io/riders_section.hpp"
#include "io/scenario_reader.hpp"
#include "io/support.hpp"
#include "io/yaml_tree.hpp"

using namespace leewheel;

namespace {

const std::string road =
    "title: Short\nroad: {start_elevation_m: 0, stretches: [{length_m: 20000, grade_percent: 3, heading_deg: 0}]}\n";

std::string answer_to(const std::string& text) {
  io_test::Folder folder;
  const std::string path = folder.write("a.yaml", text);
  const std::string said = io_test::said([&] { read_scenario(path); });
  return said.starts_with(path) ? said.substr(path.size()) : said;
}

std::string named(const std::string& name) { return answer_to(road + "riders:\n  - {name: " + name + "}\n"); }

}  // namespace

TEST_CASE("only well-formed UTF-8 is text, as Unicode 15, table 3-7 has it", "[text]") {
  for (const std::string good : {"a", "é", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80", "\xF0\x90\x80\x80",
                                 "\xF4\x8F\xBF\xBD", "\xC2\xA0", "a\tb\r\n"}) {
    INFO(good);
    CHECK_FALSE(bad_text_at(good));
  }
  for (const std::string bad : {"\xED\xA0\x80",
                                "\xED\xBF\xBF",  // surrogates
                                "\xC0\x80",
                                "\xC1\xBF",
                                "\xE0\x80\x80",
                                "\xE0\x9F\xBF",
                                "\xF0\x80\x80\x80",
                                "\xF0\x8F\xBF\xBF",  // overlong
                                "\xF4\x90\x80\x80",
                                "\xF4\xBF\xBF\xBF",
                                "\xF5\x80\x80\x80",  // beyond the last code point
                                "\x80",
                                "\xE0\xA0",
                                "\xC2",
                                "\xFF",  // torn
                                "\x1B",
                                "\x01",
                                "\x7F",
                                "\xC2\x85",         // control
                                "\xEF\xBF\xBF"}) {  // not for XML
    CHECK(bad_text_at("ab" + bad) == std::optional<std::size_t>(2));
    CHECK(line_of_bad_text("a\nb\n" + bad) == 3);
  }
}

TEST_CASE("a name or title that escapes of YAML fill with control characters is refused with its place", "[text]") {
  for (const char* name : {"\"a\\eb\"", "\"a\\ab\"", "\"a\\x01b\"", "\"a\\uffffb\""}) {
    INFO(name);
    CHECK(named(name).starts_with(":4:12: riders[0].name: found '"));
  }
  CHECK(answer_to("title: \"\\e[2J\"\n" + road.substr(road.find('\n') + 1) + "riders: [{name: Una}]\n")
            .starts_with(":1:8: title: found"));
  CHECK(named("\"Å, ☃ and 🚲\"") == "accepted");
  CHECK(named(std::string(100, 'a')) == "accepted");
  CHECK(named(std::string(101, 'a')).find("at most 100 bytes") != std::string::npos);
}

TEST_CASE("text that a spreadsheet takes for a formula gets an apostrophe, a number does not", "[text]") {
  CHECK(csv_cell("=1+2") == "'=1+2");
  CHECK(csv_cell("+49") == "'+49");
  CHECK(csv_cell("-x") == "'-x");
  CHECK(csv_cell("@a,b") == "\"'@a,b\"");
  CHECK(csv_cell("a=b") == "a=b");
  CHECK(csv_cell(-3.0, 1) == "-3.0");
}

TEST_CASE("a message shows what it found as text that any terminal takes", "[text]") {
  CHECK(shown("46.0\xE5\xE5 north") == "46.0?? north");
  CHECK(shown("a\x1B[2Jb\nc") == "a [2Jb c");
  CHECK(shown("\xC2\x9B") == "??");  // U+009B begins a command to a terminal
  CHECK(shown("caf\xC3\xA9") == "caf\xC3\xA9");
}

TEST_CASE("5,000 riders are read, more are refused by number", "[bounds]") {
  std::string riders = "ride: {start_abreast: 4}\nriders:\n";
  for (std::size_t k = 0; k < most_riders; ++k) riders += "  - {name: R" + std::to_string(k) + "}\n";
  CHECK(answer_to(road + riders) == "accepted");
  CHECK(answer_to(road + riders + "  - {name: One too many}\n") == ":5:3: riders: found 5001 riders, expected at most 5000");
}

TEST_CASE("a file with very many unknown keys tells the first hundred", "[bounds]") {
  std::string keys;
  for (int k = 0; k < 50000; ++k) keys += "k" + std::to_string(k) + ": 1\n";
  const std::string said = answer_to(road + "riders: [{name: Una}]\n" + keys);
  CHECK(std::count(said.begin(), said.end(), '\n') == 100);
  CHECK(said.find("more faults are not listed") != std::string::npos);
}

TEST_CASE("too large, too full and too deep files are refused for that", "[bounds]") {
  CHECK(answer_to(std::string((16u << 20) + 1, '#')).find("found more than 16 MB, expected a smaller file") !=
        std::string::npos);
  std::string values = "k: [";
  for (std::size_t k = 0; k < most_yaml_values; ++k) values += "1,";
  CHECK(answer_to(values + "1]\n").find("expected at most") != std::string::npos);
  CHECK(answer_to("k: " + std::string(5000, '[')).find("nested too deeply") != std::string::npos);
}

TEST_CASE("without air the air of the standard atmosphere lies on the road, whatever its height", "[scenario]") {
  io_test::Folder folder;
  const auto air_at = [&](const std::string& start_m, const std::string& more) {
    return read_scenario(
               folder.write(
                   "a.yaml",
                   "title: High\nroad: {start_elevation_m: " + start_m +
                       ", stretches: [{length_m: 2000, grade_percent: 3, heading_deg: 0}]}\nriders: [{name: Una}]\n" + more))
        .air;
  };
  // ISO 2533:1975, table 1, at 3,000 m: -4.5 degrees Celsius, 701.1 hPa.
  CHECK(air_at("3000", "").temperature_C == Approx(-4.5).margin(0.01));
  CHECK(air_at("3000", "").pressure_Pa == Approx(70110.0).margin(20.0));
  CHECK(air_at("0", "").temperature_C == Approx(15.0));
  CHECK(air_at("3000", "air: {temperature_C: 20}\n").temperature_C == 20.0);
}
