/// What a picture says and where: no text cut off, none over another, at every size; and where clicks lead. Needs a display.

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

const sf::Vector2u sizes[] = {{640, 480}, {800, 500}, {1000, 600}, {1280, 720}, {1920, 1080}, {3840, 2160}, {1080, 1920}};

std::vector<Drawn> drawn(view::Replay& replay, view::Replay* ghost, const view::Controls& controls, sf::Vector2u size) {
  std::vector<Drawn> told;
  Player player(replay, ghost, controls, 1.0f);
  sf::RenderTexture target;
  REQUIRE(target.create(size.x, size.y));
  player.tell(&told);
  player.draw(target, true);
  return told;
}

/// Smaller by half a pixel: edges that touch do not lie on one another.
Rect inner(const Rect& r) { return {r.x + 0.5f, r.y + 0.5f, r.w - 1, r.h - 1}; }

bool inside(const Rect& r, const Rect& room) {
  return r.x >= room.x - 1 && r.y >= room.y - 1 && r.right() <= room.right() + 1 && r.bottom() <= room.bottom() + 1;
}

std::string place(const Drawn& d) { return fmt::format("'{}' at {:.0f},{:.0f}", d.words, d.area.x, d.area.y); }

/// What is wrong with a picture, in words.
std::vector<std::string> faults(const std::vector<Drawn>& told) {
  std::vector<std::string> found;
  for (std::size_t a = 0; a < told.size(); ++a) {
    if (!inside(told[a].area, told[a].room)) found.push_back(place(told[a]) + " is cut off");
    for (std::size_t b = a + 1; b < told.size(); ++b) {
      if (told[a].box && inside(told[b].area, told[a].area) && !told[b].box) continue;  // a text on its own box
      if (inner(told[a].area).overlaps(inner(told[b].area))) found.push_back(place(told[a]) + " lies on " + place(told[b]));
    }
  }
  return found;
}

void look(view::Replay& replay, view::Controls controls, const std::string& what, view::Replay* ghost = nullptr) {
  for (const sf::Vector2u size : sizes)
    for (const bool light : {false, true}) {
      controls.light = light;
      const auto told = drawn(replay, ghost, controls, size);
      INFO(fmt::format("{} at {}x{}, {}", what, size.x, size.y, light ? "light" : "dark"));
      CHECK(told.size() > 10);
      std::string all;
      for (const std::string& one : faults(told)) all += "\n" + one;
      CHECK(all == "");
    }
}

}  // namespace

TEST_CASE("no text is cut off or lies on another, at any size, light and dark", "[screen]") {
  view::Replay six(synthetic::source({6, 1800, 12000, 2}), "six"), many(synthetic::source({120, 1200, 8000, 4}), "many");
  for (const double time_s : {0.0, 130.0, 400.0, 460.0, 600.0, 1100.0, 1700.0, 1800.0}) {
    view::Controls controls;
    controls.time_s = time_s;
    view::choose_rider(controls, 3);
    look(six, controls, fmt::format("six riders at {} s", time_s));
  }
  view::Controls controls;
  controls.time_s = 500;
  view::choose_rider(controls, 60);
  look(many, controls, "many riders");
}

TEST_CASE("the picture for a room and a film are as free of overprinting", "[screen]") {
  view::Replay six(synthetic::source({6, 1800, 12000, 2}), "six");
  view::Controls controls;
  controls.show = true;
  for (const double time_s : {0.0, 400.0, 460.0, 1100.0, 1800.0})
    controls.time_s = time_s, look(six, controls, fmt::format("a room at {} s", time_s));
  controls.show = false, controls.filming = controls.playing = true, controls.film_to_s = 1800;
  for (const double time_s : {5.0, 460.0, 1795.0})
    controls.time_s = time_s, look(six, controls, fmt::format("a film at {} s", time_s));
}

TEST_CASE("beside a second ride nothing is overprinted, and what is gained is told", "[screen]") {
  view::Replay fast(synthetic::source({6, 1500, 12000, 2}), "fast"), slow(synthetic::source({6, 1800, 12000, 2}), "slow");
  view::Controls controls;
  view::choose_rider(controls, 3);
  for (const double time_s : {0.0, 100.0, 700.0, 1380.0, 1500.0}) {
    controls.time_s = time_s;
    look(fast, controls, fmt::format("beside a slower ride at {} s", time_s), &slow);
    look(slow, controls, fmt::format("beside a faster ride at {} s", time_s), &fast);
  }
  controls.show = true, controls.time_s = 700;
  look(fast, controls, "a room beside a slower ride", &slow);
  const auto says = [](const std::vector<Drawn>& told, const std::string& words) {
    return std::ranges::count_if(told, [&](const Drawn& d) { return !d.box && d.words == words; });
  };
  controls.show = false;
  for (const sf::Vector2u size : sizes) {
    const auto told = drawn(fast, &slow, controls, size);
    INFO(fmt::format("{}x{}", size.x, size.y));
    // Dirk at 700 s: 140 s and 25.2 kJ; at the finish, in 1470 s against 1764 s, 294 s and 52.9 kJ.
    CHECK(says(told, "+2:20  \xC2\xB7  +25 kJ") == 1);
    CHECK(says(told, "+4:54  \xC2\xB7  +53 kJ") == 1);
  }
}

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

constexpr Rect road{0, 60, 1280, 90}, bunch{0, 316, 594, 170}, tallies{600, 316, 680, 40}, story{600, 520, 680, 120};
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
