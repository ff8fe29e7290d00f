/// The first lines of the sheet and the cards of captain and riders: what is said to whom.

#include <pugixml.hpp>
#include <sstream>

#include "app/support.hpp"

using namespace app_test;

namespace {

struct Cards {
  pugi::xml_document sheet, pocket;
};

void make(const Folder& folder, const std::string& scenario, Cards& into, const std::string& more = " --days 0") {
  for (const char* option : {"", " --pocket"}) {
    const Answer answer = app_test::leewheel(folder, "sheet " + scenario + " --quiet -o page.html" + more + option);
    INFO(answer.err);
    REQUIRE(answer.code == 0);
    REQUIRE((*option ? into.pocket : into.sheet)
                .load_string(text_of(folder / "page.html").c_str(), pugi::parse_default | pugi::parse_doctype));
  }
}

std::string story(const std::string& name) {
  return quoted(std::string(LEEWHEEL_SCENARIOS) + "/" + name + "/scenario.yaml");
}

std::string words_of(const pugi::xml_node& node) {
  std::string words;
  for (const pugi::xml_node child : node.children())
    words += child.type() == pugi::node_pcdata ? child.value() : words_of(child);
  return words;
}

/// "To" and "Whom to follow" of a card, by row.
std::vector<std::pair<std::string, std::string>> follow_rows(const pugi::xml_node& card) {
  std::vector<std::pair<std::string, std::string>> rows;
  for (const auto& row : card.select_nodes(".//tbody/tr"))
    rows.emplace_back(row.node().child("th").text().get(),
                      words_of(row.node().select_node("./td[@data-label='whom to follow']").node()));
  return rows;
}

pugi::xml_node card_of(const pugi::xml_document& page, const std::string& name) {
  return page.select_node(("//section[h2='" + name + "']").c_str()).node();
}

std::string timed(const Folder& folder) {
  return quoted(folder.write("timed.yaml",
                             "title: By the clock\n"
                             "start: 2027-05-16 09:00\n"
                             "road:\n"
                             "  start_elevation_m: 100\n"
                             "  stretches:\n"
                             "    - {length_m: 2000, grade_percent: 6, heading_deg: 270}\n"
                             "    - {length_m: 4000, grade_percent: -1}\n"
                             "  landmarks: [{name: Gate, at_m: 2000}]\n"
                             "wind: {from: W, speed_kmh: 20}\n"
                             "riders:\n"
                             "  - {name: Una, critical_power_W: 330}\n"
                             "  - {name: Vera, critical_power_W: 190}\n"
                             "ride: {regroup_at: [Gate]}\n"));
}

}  // namespace

TEST_CASE("the first ten lines tell start, order, one rule for turns, regroup and where to close up", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("larkmoor"), cards);
  const auto lines = cards.sheet.select_nodes("//header/ul/li");
  REQUIRE(lines.size() == 7);
  std::string heads;
  for (const auto& line : lines) heads += line.node().child("b").text().get();
  CHECK(heads == "Start:Top:Order at the start:Turns:Regroup:Close up:Look after:");
  CHECK(words_of(lines[4].node()) ==
        "Regroup: Shepherds' flat, 7.8 km: Anouk there 23:25, Fenn as the last 40:44; go on 40:44.");
  CHECK(words_of(lines[3].node()).find("no turns but your own pace from Wood gate to Shepherds' flat") != std::string::npos);
  CHECK(cards.sheet.child("html").child("body").first_child().name() == std::string("header"));
  CHECK(words_of(cards.sheet.select_node("//header").node()).find("W′") == std::string::npos);
}

TEST_CASE("meeting, start and regroup have times of day where the start is known", "[cards][clock]") {
  const Folder folder;
  Cards cards;
  make(folder, timed(folder), cards);
  const std::string head = words_of(cards.sheet.select_node("//header").node()),
                    captain = words_of(card_of(cards.pocket, "Captain"));
  for (const std::string& text : {head, captain}) {
    CHECK(text.find("Sunday 16 May 2027, meet 08:50, roll 09:00") != std::string::npos);
    CHECK(text.find("Una there 7:") != std::string::npos);
    CHECK(text.find("(09:07), Vera as the last 12:") != std::string::npos);
    CHECK(text.find("Order at the start: Una and Vera.") != std::string::npos);
  }
  CHECK(words_of(card_of(cards.pocket, "Una")).find("09:0") != std::string::npos);
}

TEST_CASE("at the top stands only where the road ends on its highest point", "[cards]") {
  const Folder folder;
  Cards up, down;
  make(folder, story("larkmoor"), up);
  make(folder, timed(folder), down);
  for (const pugi::xml_document* page : {&up.sheet, &up.pocket}) {
    const std::string words = words_of(page->select_node("//main").node());
    CHECK(words.find("at the top") != std::string::npos);
    CHECK(words.find("at the finish") == std::string::npos);
  }
  for (const pugi::xml_document* page : {&down.sheet, &down.pocket}) {
    const std::string words = words_of(page->select_node("//body").node());
    CHECK(words.find("at the finish") != std::string::npos);
    CHECK(words.find("at the top") == std::string::npos);
    CHECK(words.find("Top") == std::string::npos);
  }
}

TEST_CASE("nobody is told a wheel or to lead where everyone rides at the own pace", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("clubhill"), cards);
  const auto riders = cards.pocket.select_nodes("//section[starts-with(@id,'rider-')]");
  REQUIRE(riders.size() == 8);
  for (const auto& card : riders)
    for (const auto& [to, follow] : follow_rows(card.node())) {
      INFO(card.node().child("h2").text().get() << " to " << to << follow);
      if (to.starts_with("Shelf gate") || to.starts_with("Edge stile")) CHECK(follow == "own pace");
      if (to.starts_with("Chapel")) CHECK(follow != "own pace");
    }
  const std::string turns = words_of(cards.sheet.select_node("//section[@id='rider-6']//li[b='Turns:']").node());
  CHECK(turns.find("Chapel to Shelf gate") == std::string::npos);
}

TEST_CASE("a rider who never sits in has no wheel to follow", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("larkmoor"), cards);
  for (const auto& [to, follow] : follow_rows(card_of(cards.pocket, "Fenn"))) CHECK(follow == "own pace");
  make(folder, story("classroom"), cards);
  for (const auto& [to, follow] : follow_rows(card_of(cards.pocket, "Ine"))) CHECK(follow == "lead all the way");
  for (const auto& [to, follow] : follow_rows(card_of(cards.pocket, "Joos"))) CHECK(follow == "behind Ine");
}

TEST_CASE("a wheel on a card is that of a rider of the same group in the captain's rule", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("headwind"), cards);
  const auto rows = cards.pocket.select_nodes("//section[@id='captain']//tbody/tr");
  REQUIRE(rows.size() == 3);
  CHECK(words_of(rows[0].node().child("td")) == "Mattis 45 s, Otto 1 min, Nele 30 s; Pia and Rune sit in");
  const auto first = [&](const std::string& name) { return follow_rows(card_of(cards.pocket, name)).front().second; };
  CHECK(first("Mattis") == "lead 45 s, then behind Rune");
  CHECK(first("Otto") == "behind Mattis, lead 1 min");
  CHECK(first("Nele") == "behind Otto, lead 30 s");
  CHECK(first("Pia") == "behind Nele");
  CHECK(first("Rune") == "behind Pia");
}

TEST_CASE("the captain's card tells order, rule, regroup, whom to look after and when to change the plan", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("larkmoor"), cards, " --days 8");
  const pugi::xml_node captain = card_of(cards.pocket, "Captain");
  std::vector<std::string> heads;
  for (const auto& line : captain.select_nodes(".//li/b")) heads.emplace_back(line.node().text().get());
  CHECK(heads == std::vector<std::string>{"Order at the start:", "Regroup:", "Close up:", "Look after:", "Top:",
                                          "Change the plan:", "Change the plan:"});
  CHECK(words_of(captain).find("Fenn (the last, comes off on 100 % of days)") != std::string::npos);
  CHECK(words_of(captain).find("Fenn not at Shepherds' flat by ") != std::string::npos);
  CHECK(captain.select_nodes(".//tbody/tr").size() == 4);
}

TEST_CASE("food is one line of a card, and its lack of a source is told once", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("larkmoor"), cards);
  const auto food = cards.pocket.select_nodes("//p[@class='food']");
  CHECK(food.size() == 6);
  for (const auto& line : food) CHECK(words_of(line.node()).size() < 70);
  const std::string words = words_of(cards.pocket.child("html"));
  const std::size_t at = words.find("common practice, no source");
  REQUIRE(at != std::string::npos);
  CHECK(words.find("common practice, no source", at + 1) == std::string::npos);
}

TEST_CASE("every card folds on a phone and has a way back", "[cards]") {
  const Folder folder;
  Cards cards;
  make(folder, story("larkmoor"), cards);
  const auto count = [](const pugi::xml_document& page, const char* what) { return page.select_nodes(what).size(); };
  CHECK(count(cards.pocket, "//section[input[@type='checkbox'][@aria-label]]/div[@class='body']//a[@href='#cards']") == 7);
  CHECK(count(cards.sheet, "//section[input[@type='checkbox'][@aria-label]]/div[@class='body']//a[@href='#cards']") == 6);
  CHECK(count(cards.pocket, "//nav[@id='cards']//a") == 7);
}

TEST_CASE("efforts that change stand in the first lines, on the captain's card and on each rider's", "[sheet]") {
  const Folder folder;
  const auto scenario = [&](const char* plan) {
    return quoted(folder.write(
        "uneven.yaml",
        std::string("title: Uneven\n"
                    "road:\n"
                    "  start_elevation_m: 100\n"
                    "  stretches: [{length_m: 2000, grade_percent: 1, heading_deg: 0}, {length_m: 1000, grade_percent: 7}]\n"
                    "  landmarks: [{name: Foot, at_m: 2000}]\n"
                    "riders:\n"
                    "  - {name: Una, critical_power_W: 280") +
            plan + "}\n  - {name: Vera, critical_power_W: 250" + plan + "}\n"));
  };
  const auto said = [&](const char* plan) {
    Cards cards;
    make(folder, scenario(plan), cards);
    std::vector<std::string> lines;
    for (const pugi::xml_document* page : {&cards.sheet, &cards.pocket})
      for (const char* head : {"Efforts:", "At your own pace:"})
        for (const auto& found : page->select_nodes((std::string("//b[.='") + head + "']").c_str()))
          lines.push_back(words_of(found.node().parent()));
    return lines;
  };
  const std::string all = "Efforts: harder from Foot to the finish, easier elsewhere; watts on each card.";
  const std::string una = "At your own pace: 80 % of critical power (224 W); 95 % (266 W) from Foot to the finish.";
  const std::string vera = "At your own pace: 80 % of critical power (200 W); 95 % (238 W) from Foot to the finish.";
  CHECK(said(", plan: [{from: start, effort: 0.8}, {from: Foot, effort: 0.95}]") ==
        std::vector{all, una, vera, all, una, vera});
  CHECK(said("").empty());
}
