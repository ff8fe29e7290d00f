/// Where clicks lead and what the pointer tells. Needs a display.

#include <fmt/format.h>

#include <catch2/catch.hpp>

#include <algorithm>

#include "synthetic_ride.hpp"
#include "viz/app/player.hpp"
#include "viz/view/groups_apart.hpp"

using namespace leewheel;
using draw::Drawn;
using view::Rect;

namespace {

/// A replay of six riders in a window of 1280 x 720, for pointing and clicking.
class Desk {
 public:
  explicit Desk(double time_s) : player_(replay_, nullptr, at(time_s), 1.0f) {
    REQUIRE(target_.create(1280, 720));
    player_.tell(&told_);
    draw();
  }
  view::Controls& controls() { return player_.controls(); }
  const view::Replay& replay() const { return replay_; }
  const view::View& view() const { return player_.view(); }
  const std::vector<view::StoryLine>& story() const { return player_.story(); }

  void point(float x, float y) {
    sf::Event event{};
    event.type = sf::Event::MouseMoved, event.mouseMove = {static_cast<int>(x), static_cast<int>(y)};
    player_.handle(event), draw();
  }
  void click(float x, float y) {
    sf::Event event{};
    event.type = sf::Event::MouseButtonPressed,
    event.mouseButton = {sf::Mouse::Left, static_cast<int>(x), static_cast<int>(y)};
    player_.handle(event);
    event.type = sf::Event::MouseButtonReleased;
    player_.handle(event), draw();
  }
  /// Texts of these words in a part of the window.
  std::vector<Rect> texts(const std::string& words, const Rect& part) const {
    std::vector<Rect> found;
    for (const Drawn& d : told_)
      if (!d.box && d.words == words && part.contains(d.area.x, d.area.y)) found.push_back(d.area);
    return found;
  }
  Rect only(const std::string& words, const Rect& part) const {
    const auto found = texts(words, part);
    INFO(words);
    REQUIRE(found.size() == 1);
    return found.front();
  }
  /// What stands beside the pointer: it is drawn last, line after line.
  std::string hover() const {
    std::string words;
    for (auto d = told_.rbegin(); d != told_.rend() && !d->box; ++d) words = d->words + (words.empty() ? "" : " ") + words;
    return words;
  }

 private:
  static view::Controls at(double time_s) {
    view::Controls controls;
    controls.time_s = time_s;
    return controls;
  }
  void draw() { told_.clear(), player_.draw(target_, true); }

  view::Replay replay_{synthetic::source({6, 1800, 12000, 2}), "six"};
  std::vector<Drawn> told_;
  Player player_;
  sf::RenderTexture target_;
};

constexpr Rect road{0, 60, 1280, 90}, bunch{0, 316, 594, 170}, tallies{600, 316, 680, 40};
float middle_x(const Rect& r) { return r.x + r.w / 2; }
float middle_y(const Rect& r) { return r.y + r.h / 2; }

}  // namespace

TEST_CASE("a click on the profile, a mark and a line of the story goes to that moment", "[screen]") {
  Desk desk(600);
  desk.click(60 + 1200 / 2.0f, 140);  // the middle of the road
  CHECK(desk.controls().time_s == Approx(*desk.replay().passing_s(0, 6000)).margin(0.01));
  desk.click(16 + 1248 * 0.6f, 658);  // the mark of the caution at 60 % of the ride
  CHECK(desk.controls().time_s == Approx(1080.0));
  desk.click(700, 533);  // the line before it in the story
  CHECK(desk.controls().time_s == Approx(455.0));
}

TEST_CASE("a click on a bead follows its group, on a dot of the bunch its rider", "[screen]") {
  Desk desk(1500);
  const Rect bead = desk.only("2", road);
  desk.click(middle_x(bead), middle_y(bead));
  CHECK(desk.controls().chosen == 3);
  CHECK(desk.controls().group_anchor == 3);
  CHECK(view::focus_of(desk.controls(), desk.view()).words == "group 2, 3 riders");
  const Rect name = desk.only(
      "Elin  \xE2\x88\x92"
      "58 W",
      bunch);
  desk.click(middle_x(name), name.bottom() + 20);
  CHECK(desk.controls().chosen == 4);
  CHECK(desk.controls().time_s == 1500.0);  // choosing moves no clock
}

TEST_CASE("groups near each other stand in a magnifier with their gap, and answer there", "[screen]") {
  Desk desk(460);  // they parted five seconds ago
  const view::View& now = desk.view();
  REQUIRE(now.groups.size() == 2);
  const std::string gap = view::way_text(view::gap_between_m(now.groups[0], now.groups[1]), view::Units::metric);
  desk.only(gap, road);
  REQUIRE(desk.texts("1", road).size() == 2);  // on the road, as the chosen rider's, and magnified
  const Rect other = desk.only("2", road);     // magnified alone
  desk.click(middle_x(other), middle_y(other));
  CHECK(desk.controls().chosen == 3);
  desk.only(gap, road);
  CHECK(desk.texts("2", road).size() == 2);
  Desk later(1500);
  CHECK(later.texts("1", road).size() == 1);
  CHECK(later.texts("2", road).size() == 1);
}

TEST_CASE("the pointer tells what a heading means, what a mark was, and who is in a bead", "[screen]") {
  Desk desk(1500);
  const Rect heading = desk.only("Saved", tallies);
  desk.point(middle_x(heading), middle_y(heading));
  CHECK(desk.hover() == "Saved: saved now");
  desk.click(middle_x(heading), middle_y(heading));
  CHECK(desk.controls().sort == view::Column::saved);
  CHECK(desk.controls().falling);
  desk.point(16 + 1248 * 0.6f, 658);
  const auto caution = std::ranges::find(desk.story(), EventClass::caution, &view::StoryLine::kind);
  REQUIRE(caution != desk.story().end());
  CHECK(desk.hover() == "18:00  " + caution->words);
  const Rect bead = desk.only("2", road);
  desk.point(middle_x(bead), middle_y(bead));
  CHECK(desk.hover() == "group 2, 3 riders: Dirk, Elin, Fenn");
  desk.point(700, 655);  // on the timeline beside every mark: nothing to tell
  CHECK(desk.hover().find("group 2, 3 riders: Dirk") == std::string::npos);
}
