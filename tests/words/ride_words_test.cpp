#include "words/ride_words.hpp"

#include <catch2/catch.hpp>
#include <limits>
#include <sstream>

#include "support/told_ride.hpp"

using namespace leewheel;
using namespace told_ride;

TEST_CASE("columns of the summary line up whatever the script of a name", "[results]") {
  const Told t = told();
  std::istringstream lines(summary_text(t.scenario, t.result, t.solo, {}));
  std::vector<std::size_t> ends;  // columns up to the finish time, counting each of the two wide characters twice
  for (std::string line; std::getline(lines, line) && ends.size() < 2;) {  // in the table of riders, which comes first
    if (const auto at = line.find("6:40"); line.starts_with("Jörn")) ends.push_back(at - 1);
    if (const auto at = line.find("6:45"); line.starts_with("小林")) ends.push_back(at - 2);
  }
  REQUIRE(ends.size() == 2);
  CHECK(ends[0] == ends[1]);
}

TEST_CASE("a name cannot send codes to the terminal", "[results]") {
  Told t = told();
  t.scenario.title = "\x1b[31mred\x07";
  t.scenario.riders[1].name = t.result.riders[1].name = "a\x1b[2Jb";
  const std::string text = summary_text(t.scenario, t.result, t.solo, {});
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
}

TEST_CASE("colour appears only when asked for and changes no letter", "[results]") {
  const Told t = told();
  const std::string plain = summary_text(t.scenario, t.result, t.solo, {});
  std::string coloured = summary_text(t.scenario, t.result, t.solo, {}, {.colour = true});
  CHECK(coloured != plain);
  for (std::size_t at; (at = coloured.find('\x1b')) != std::string::npos;)
    coloured.erase(at, coloured.find('m', at) - at + 1);
  CHECK(coloured == plain);
}

TEST_CASE("a value that does not exist is a dash in the summary", "[words]") {
  Told t = told();
  t.solo.clear();
  t.result.riders[0].mean_power_W = std::numeric_limits<double>::quiet_NaN();
  const std::string text = summary_text(t.scenario, t.result, t.solo, {});
  CHECK(text.find("6:40             –     –    80") != std::string::npos);
  CHECK(text.find("nan") == std::string::npos);
}

TEST_CASE("the finish on further days is told with its range, or that there is none", "[words]") {
  const Told t = told();
  const auto summary = [&](const FinishRanges& ranges) { return summary_text(t.scenario, t.result, t.solo, ranges); };
  CHECK(summary({}).find("The range  none: one ride") != std::string::npos);
  FinishRanges ranges{7, std::vector<std::optional<Middle80>>(t.result.riders.size())};
  CHECK(summary(ranges).find("enough") != std::string::npos);
  ranges.finish_s[0] = {390.0, 425.0, 401.0, 12.0};
  const std::string text = summary(ranges);
  CHECK(text.find("of 7 further days") != std::string::npos);
  CHECK(text.find("6:30 to 7:05, in the middle 6:41; ends good to 0:12") != std::string::npos);
}

TEST_CASE("a ride is told first in a few sentences: home, where a wheel pays, who comes off, whose strength ends",
          "[words]") {
  Told t = told();
  const auto first = [&](const FinishRanges& ranges = {}) {
    std::istringstream lines(summary_text(t.scenario, t.result, t.solo, ranges));
    std::string text, line;
    while (std::getline(lines, line) && !line.starts_with("In short")) {
    }
    for (; !line.empty(); std::getline(lines, line)) text += line.substr(10);
    return text;
  };
  t.scenario.riders[0].w_prime_J = t.scenario.riders[1].w_prime_J = 20000.0;
  t.result.riders[0].wbal_least_J = 2001.0, t.result.riders[1].wbal_least_J = 1999.0;
  CHECK(first().find("All are at the finish together after 6:45.") != std::string::npos);  // 5 s apart
  // 15,000 J of each in 150 s and 5,000 J in 250 and 255 s.
  CHECK(first().find("A wheel saves most from start to Gate: 100 W on average") != std::string::npos);
  CHECK(first().find("least from Gate to finish, 20 W at 6.0 %") != std::string::npos);
  CHECK(first().find("小林 is the first to come off, at km 1.5.") != std::string::npos);
  CHECK(first().find("小林 spends nearly everything above critical power") != std::string::npos);
  t.result.riders[1].finish_time_s = 410.0;
  FinishRanges ranges{7, {std::nullopt, Middle80{390.0, 425.0, 401.0}}};
  CHECK(first(ranges).find("小林 last, after 6:50, on 8 of 10 days 6:30 to 7:05.") != std::string::npos);
  t.result.events[0].because.reason = Reason::climbs_freely;
  CHECK(first().find("The group parts only where everyone climbs at the own pace.") != std::string::npos);
  t.result.events[0] = {EventKind::split, 60.0, 1200.0, {0, 1}, 1, {Reason::leads}};
  CHECK(first().find("are the first to ride apart from the others, at km 1.2.") != std::string::npos);
  t.result.events.clear();
  CHECK(first().find("Nobody comes off.") != std::string::npos);
}

TEST_CASE("no descent is named for a wheel that saves most or least", "[words]") {
  Told t = told();
  RoadProfile profile = t.scenario.road.profile();
  profile.elevation_m = {100.0, 70.0, 130.0};  // the first stretch falls by 3 %
  t.scenario.road = Road(profile);
  std::string text = summary_text(t.scenario, t.result, t.solo, {});
  for (std::size_t at = 0; (at = text.find("\n          ")) != std::string::npos;) text.erase(at, 11);  // wrapped
  CHECK(text.find("A wheel saves most from Gate to finish: 20 W on average") != std::string::npos);
  CHECK(text.find("least from") == std::string::npos);
}

TEST_CASE("W' and the ledger are told only when more is asked for", "[words]") {
  const Told t = told();
  const std::string plain = summary_text(t.scenario, t.result, t.solo, {});
  const std::string more = summary_text(t.scenario, t.result, t.solo, {}, {.more = true});
  for (const char* words : {"gave    draft", "ledger closes", "W\u2032 laws", "W\u2032 12.0 kJ"}) {
    INFO(words);
    CHECK(more.find(words) != std::string::npos);
    CHECK(plain.find(words) == std::string::npos);
  }
}
