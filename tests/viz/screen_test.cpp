/// What a picture says and where: no text cut off, none over another, at every size. Needs a display.

#include <fmt/format.h>

#include <catch2/catch.hpp>

#include <algorithm>

#include "synthetic_ride.hpp"
#include "viz/app/player.hpp"

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

TEST_CASE("the end tells three results, in the window, for a room and in a film", "[screen]") {
  view::Replay replay(synthetic::source({6, 1800, 12000, 2}), "six");
  view::Controls controls;
  controls.time_s = 1800;
  const auto all_words = [&] {
    std::string words;
    for (const Drawn& d : drawn(replay, nullptr, controls, {1280, 720}))
      if (!d.box) words += d.words + ' ';
    return words;
  };
  const std::string home = "Anouk is home first, after 28:30; Fenn last, 0:55 later.",
                    company = "Company saved 14 % of the work, 306 kJ in all; Bram most, 76 kJ.",
                    carried = "On balance Anouk carried the others most, 16.0 kJ given over received, and Fenn was";
  const auto tells_all = [&] {
    const std::string words = all_words();
    for (const std::string& one : {home, company, carried}) CHECK_THAT(words, Catch::Contains(one));
  };
  tells_all();
  controls.show = true;
  tells_all();
  controls.show = false, controls.filming = controls.playing = true, controls.film_to_s = 1800;
  tells_all();
}
