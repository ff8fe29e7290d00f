/// The plan sheet: what stands on it, that it is well-formed, safe with any name, and asks nothing of anywhere.

#include <pugixml.hpp>

#include "app/support.hpp"
#include "pages/sheet.hpp"

using namespace app_test;

namespace {

std::string short_scenario(const Folder& folder, const std::string& ride = "ride: {kind: steady, regroup_at: [Gate]}\n") {
  return quoted(folder.write(
      "short.yaml",
      "title: Short & <steep>\n"
      "road:\n"
      "  start_elevation_m: 100\n"
      "  stretches:\n"
      "    - {name: Meadow, length_m: 1500, grade_percent: 1, heading_deg: 270, exposure: {left: wood, right: open_slope}}\n"
      "    - {name: Bank, length_m: 800, grade_percent: 7, exposure: houses}\n"
      "  landmarks: [{name: Gate, at_m: 1500}]\n"
      "wind: {from: W, speed_kmh: 25}\n"
      "riders:\n"
      "  - {name: Una, critical_power_W: 280}\n"
      "  - {name: \"<script>alert('x')</script> & \\\"Bo\\\"\", critical_power_W: 230}\n" +
          ride));
}

std::string sheet_of(const Folder& folder, const std::string& more = "") {
  const Answer answer = app_test::leewheel(folder, "sheet " + short_scenario(folder) + " --quiet -o page.html " + more +
                                                       (more.find("--days") == more.npos ? " --days 6" : ""));
  INFO(answer.err);
  REQUIRE(answer.code == 0);
  CHECK(answer.out.empty());
  return text_of(folder / "page.html");
}

std::string words_of(const pugi::xml_node& node) {
  std::string words;
  for (const pugi::xml_node child : node.children())
    words += child.type() == pugi::node_pcdata ? child.value() : " " + words_of(child);
  return words;
}

// Parsed as XML, which is stricter than a browser.
void parse(const std::string& page, pugi::xml_document& into) {
  const pugi::xml_parse_result result = into.load_string(page.c_str(), pugi::parse_default | pugi::parse_doctype);
  INFO(result.description() << " at "
                            << page.substr(static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, result.offset - 80)), 160));
  REQUIRE(result);
}

std::size_t count_of(const std::string& text, const std::string& word) {
  std::size_t count = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++count;
  return count;
}

}  // namespace

TEST_CASE("the sheet and the pocket cards are well-formed", "[sheet]") {
  const Folder folder;
  for (const char* options : {"", "--pocket", "--imperial"}) {
    INFO(options);
    pugi::xml_document page;
    parse(sheet_of(folder, options), page);
    CHECK(page.child("html").attribute("lang").value() == std::string("en"));
  }
}

TEST_CASE("the sheet's first lines say where to close up, and nothing where no wheel saves ten watts", "[sheet]") {
  const Folder folder;
  const std::string calm_climb = quoted(folder.write(
      "climb.yaml",
      "title: Climb\nroad: {start_elevation_m: 0, stretches: [{name: Wall, length_m: 800, grade_percent: 9, heading_deg: 0, "
      "exposure: wood}]}\nwind: {from: W, speed_kmh: 1}\nriders: [{name: Una, critical_power_W: 250}, {name: Bo, "
      "critical_power_W: 250}]\nride: {kind: together}\n"));
  const auto sheet = [&](const std::string& scenario) {
    REQUIRE(app_test::leewheel(folder, "sheet " + scenario + " --quiet --days 0 -o page.html").code == 0);
    return text_of(folder / "page.html");
  };
  CHECK(sheet(larkmoor()).find("<b>Close up:</b> Ridge gate to finish, where a wheel saves 26 W") != std::string::npos);
  CHECK(sheet(calm_climb).find("Close up") == std::string::npos);
}

TEST_CASE("the sheet tells road, wind, plan, a card a rider, how sure it is and cautions", "[sheet]") {
  const Folder folder;
  pugi::xml_document page;
  parse(sheet_of(folder), page);
  const std::string words = words_of(page.child("html").child("body"));
  for (const char* wanted : {"Short & <steep>", "Start:", "Order at the start:", "Regroup:", "Road and wind", "The plan",
                             "Riders", "How sure is this?", "Cautions", "Una", "Sit in", "Turns", "Food", "Gate",
                             "Traffic law", "doctor", "8 days of 10"}) {
    INFO(wanted);
    CHECK(words.find(wanted) != std::string::npos);
  }
  CHECK(page.select_nodes("//section[@class='card']").size() == 2);
  CHECK(page.select_nodes("//section[@class='card']//tbody/tr").size() == 4);
}

TEST_CASE("a rider's name never becomes part of the page's code", "[sheet]") {
  const Folder folder;
  const std::string page = sheet_of(folder);
  CHECK(page.find("<script") == std::string::npos);
  CHECK(page.find("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;Bo&quot;") != std::string::npos);
}

TEST_CASE("the sheet asks nothing of anywhere", "[sheet]") {
  const Folder folder;
  for (const char* options : {"", "--pocket"}) {
    const std::string page = sheet_of(folder, options);
    for (const char* word : {"src=", "@import", "<link", "<script", "url(http", "javascript:"}) {
      INFO(word);
      CHECK(page.find(word) == std::string::npos);
    }
    CHECK(count_of(page, "http") == count_of(page, "xmlns=\"http://www.w3.org/"));  // names of languages, never fetched
  }
}

TEST_CASE("every table of the sheet has a caption and scoped heads, every picture a name", "[sheet]") {
  const Folder folder;
  pugi::xml_document page;
  parse(sheet_of(folder), page);
  const auto tables = page.select_nodes("//table"), pictures = page.select_nodes("//svg");
  CHECK(tables.size() == 6);
  CHECK(page.select_nodes("//th").size() == 47);
  CHECK(pictures.size() == 5);
  for (const auto& table : tables) {
    CHECK(table.node().child("caption"));
    for (const auto& head : table.node().select_nodes(".//th")) CHECK(head.node().attribute("scope"));
  }
  for (const auto& picture : pictures)
    CHECK((picture.node().attribute("aria-labelledby") || picture.node().attribute("aria-hidden")));
  CHECK(page.select_nodes("//h1").size() == 1);
}

TEST_CASE("every id of the sheet is its own and every inner link leads somewhere", "[sheet]") {
  const Folder folder;
  pugi::xml_document page;
  parse(sheet_of(folder), page);
  std::vector<std::string> ids;
  for (const auto& node : page.select_nodes("//*[@id]")) ids.emplace_back(node.node().attribute("id").value());
  std::sort(ids.begin(), ids.end());
  CHECK(std::adjacent_find(ids.begin(), ids.end()) == ids.end());
  const auto links = page.select_nodes("//a");
  CHECK(links.size() == 9);
  for (const auto& link : links)
    CHECK(std::binary_search(ids.begin(), ids.end(), std::string(link.node().attribute("href").value() + 1)));
}

TEST_CASE("the sheet is the same on one thread and on three", "[sheet][determinism]") {
  const Folder folder;
  CHECK(sheet_of(folder, "--threads 1") == sheet_of(folder, "--threads 3"));
}

TEST_CASE("imperial means miles and feet, and no kilometres", "[sheet]") {
  const Folder folder;
  const std::string page = sheet_of(folder, "--imperial");
  CHECK(page.find(" mph") != std::string::npos);
  CHECK(page.find(" ft") != std::string::npos);
  CHECK(page.find("km/h") == std::string::npos);
}

TEST_CASE("the sheet gives a range for time, power, energy and W' of every rider, and says at its head how sure it is",
          "[sheet]") {
  const Folder folder;
  pugi::xml_document page;
  parse(sheet_of(folder), page);
  CHECK(page.select_nodes("//header//li[@class='sure']").size() == 1);
  const auto cards = page.select_nodes("//section[@class='card']");
  CHECK(cards.size() == 2);
  for (const auto& card : cards) {
    const auto ranges_in = [&](const char* where) {
      return card.node()
          .select_nodes((std::string(where) + "//span[contains(@class,'soft')][contains(.,' to ')]").c_str())
          .size();
    };
    CHECK(ranges_in(".//td[@data-label='arrive']") == 2);
    CHECK(ranges_in(".//td[@data-label='effort']") == 2);
    CHECK((ranges_in(".//li") == 1 && ranges_in(".//p[@class='end']") == 1));  // energy, mean power
  }
  CHECK(page.select_nodes("//section[@id='figures']//td[@data-label='lowest W′']/span").size() == 2);
  CHECK(page.select_nodes("//p[contains(.,'the ends of the range of the last one are good to 0:')]").size() == 1);
}

TEST_CASE("--for lays in the plan that lineup finds and says why", "[sheet]") {
  const Folder folder;
  const std::string scenario = short_scenario(folder);
  REQUIRE(app_test::leewheel(folder, "sheet " + scenario + " --for time --days 0 --quiet -o found.html").code == 0);
  REQUIRE(app_test::leewheel(folder, "lineup " + scenario + " --for time --quiet -o planned.yaml").code == 0);
  REQUIRE(app_test::leewheel(folder, "sheet planned.yaml --days 0 --quiet -o laid.html").code == 0);
  const auto cards = [&](const char* name) {
    pugi::xml_document page;
    parse(text_of(folder / name), page);
    std::string words;
    for (const auto& card : page.select_nodes("//section[@class='card']")) words += words_of(card.node());
    return words;
  };
  CHECK(text_of(folder / "found.html").find("Why this plan:") != std::string::npos);
  CHECK(cards("found.html") == cards("laid.html"));
}

TEST_CASE("a sheet without days says that no range is known", "[sheet]") {
  const Folder folder;
  CHECK(sheet_of(folder, "--days 0").find("no range is known") != std::string::npos);
}

TEST_CASE("a ride that not everyone finishes makes a sheet that says so, code 1", "[sheet]") {
  const Folder folder;
  const Answer answer = app_test::leewheel(
      folder, "sheet " + short_scenario(folder, "ride: {time_limit_s: 120}\n") + " --days 2 -o page.html");
  CHECK(answer.code == 1);
  CHECK(text_of(folder / "page.html").find("By this plan you do not get to the finish.") != std::string::npos);
}

TEST_CASE("sweat grows with power and warmth and stays within what is published", "[sheet]") {
  CHECK(::leewheel::sweat_lph(300, 15) > ::leewheel::sweat_lph(200, 15));
  CHECK(::leewheel::sweat_lph(200, 30) > ::leewheel::sweat_lph(200, 10));
  CHECK(::leewheel::sweat_lph(20, 0) == 0.4);
  CHECK(::leewheel::sweat_lph(500, 40) == 1.8);
}

TEST_CASE("a card tells water on the way and ramps too steep for the gears, and neither where there is none", "[sheet]") {
  const Folder folder;
  const std::string text =
      "title: Dry hill\n"
      "road:\n"
      "  start_elevation_m: 100\n"
      "  stretches:\n"
      "    - {length_m: 1500, grade_percent: 3, heading_deg: 270}\n"
      "    - {length_m: 200, grade_percent: 22}\n"
      "  landmarks: [{name: Spring, at_m: 1000, water: yes}, {name: Gate, at_m: 1200}]\n"
      "riders: [{name: Una, critical_power_W: 230, w_prime_J: 18000}]\n";
  const auto card_of = [&](const std::string& scenario) {
    const Answer answer = app_test::leewheel(
        folder, "sheet " + quoted(folder.write("dry.yaml", scenario)) + " --quiet --pocket --days 2 -o card.html");
    INFO(answer.err);
    REQUIRE(answer.code == 0);
    return text_of(folder / "card.html");
  };
  const std::string card = card_of(text);
  CHECK(count_of(card, "<b>Water on the way:</b> Spring (1.0 km, about ") == 1);
  CHECK(count_of(card, "<b>Steep for your gears:</b> walk from 1.5 km on") == 1);
  std::string plain = text;
  plain.replace(plain.find(", water: yes"), 12, "");
  plain.replace(plain.find("grade_percent: 22"), 17, "grade_percent: 4");
  const std::string other = card_of(plain);
  CHECK(count_of(other, "Water on the way") == 0);
  CHECK(count_of(other, "Steep for your gears") == 0);
}
