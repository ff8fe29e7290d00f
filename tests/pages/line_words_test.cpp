/// Whom a card tells a rider to follow, from figures made up here.

#include <catch2/catch.hpp>

#include "pages/sheet_page.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Two riders in one line on one stretch of 100 s; the first is so long in front and so long on the wheel.
std::string told(double front_s, double follow_s, GroupTurns group) {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(2));
  Sheet sheet{
      .scenario = scenario, .ride = {}, .wind = {}, .stretches = {}, .riders = {}, .last_home_s = {}, .why_this_plan = {}};
  SheetStretch stretch{};
  stretch.line_share = 1.0;
  stretch.groups = {std::move(group)};
  sheet.stretches.push_back(stretch);
  sheet.riders.resize(2);
  StretchRidden ridden;
  ridden.riding_s = 100.0, ridden.front_s = front_s, ridden.follow_s = follow_s;
  sheet.riders[0].facts.stretches.push_back(ridden);
  return whom_to_follow(Page{sheet, {}}, 0, 0) + (wheel_to_follow(Page{sheet, {}}, 0, 0) ? " *" : "");
}

}  // namespace

TEST_CASE("a card names a wheel from a fifth of the riding time on it, and never to who only leads", "[cards]") {
  const GroupTurns both{.line = {0, 1}, .turn_s = {60.0, 30.0}}, one{.line = {0, 1}, .turn_s = {60.0, 0.0}},
      sits{.line = {1, 0}, .turn_s = {60.0, 0.0}}, apart{.line = {0, 1}, .turn_s = {0.0, 0.0}, .own_pace = true};
  const std::string other = scenes::club(2)[1].name;
  CHECK(told(70.0, 20.0, both) == "lead 1 min, then behind " + other + " *");
  CHECK(told(80.0, 19.0, both) == "lead 1 min, then to the back");
  CHECK(told(95.0, 0.0, one) == "lead all the way");
  CHECK(told(0.0, 95.0, sits) == "behind " + other + " *");
  CHECK(told(19.0, 19.0, both) == "own pace");
  CHECK(told(95.0, 95.0, apart) == "own pace");
}
