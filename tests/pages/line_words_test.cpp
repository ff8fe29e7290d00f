/// Whom a card tells a rider to follow, from figures made up here.

#include <catch2/catch.hpp>

#include "pages/sheet_page.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Sheet sheet_of(const Scenario& scenario) {
  return {
      .scenario = scenario, .ride = {}, .wind = {}, .stretches = {}, .riders = {}, .last_home_s = {}, .why_this_plan = {}};
}

/// Two riders in one line on one stretch of 100 s; the first is so long in front and so long on the wheel.
std::string told(double front_s, double follow_s, GroupTurns group) {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(2));
  Sheet sheet = sheet_of(scenario);
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

TEST_CASE("the captain closes up where the wind is against, not where a wheel saves a little more, and on no descent",
          "[cards]") {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(2));
  Sheet sheet = sheet_of(scenario);
  const auto add = [&](const char* to, double saved_W, double head_mps, double grade) {
    SheetStretch stretch{};
    stretch.from = "x", stretch.to = to, stretch.line_share = 1.0, stretch.grade = grade;
    stretch.saved_W = saved_W, stretch.head_mps = head_mps;
    sheet.stretches.push_back(stretch);
  };
  add("lane", 60.0, 1.0, 0.0), add("polder", 51.0, 5.0, 0.0), add("wood", 52.0, 3.0, 0.0), add("drop", 90.0, 9.0, -0.05);
  CHECK(close_up_text(Page{sheet, {}}).starts_with("x to polder, where a wheel saves 51 W a rider"));
  sheet.stretches.resize(1);
  CHECK(close_up_text(Page{sheet, {}}).starts_with("x to lane"));
}

TEST_CASE("the captain looks after who comes off most often, three at most, and the last", "[cards]") {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(5));
  Sheet sheet = sheet_of(scenario);
  sheet.riders.resize(5), sheet.ride.riders.resize(5);
  const double shares[] = {0.3, 0.8, 0.24, 0.5, 0.4};
  for (std::size_t i = 0; i < 5; ++i) {
    sheet.riders[i].dropped_share = shares[i];
    sheet.ride.riders[i].finished = true, sheet.ride.riders[i].finish_time_s = i == 2 ? 900.0 : 800.0;
    sheet.ride.riders[i].wbal_least_J = scenario.riders[i].w_prime_J;
  }
  const auto name = [&](std::size_t i) { return scenario.riders[i].name; };
  CHECK(look_after_text(Page{sheet, {}}) ==
        fmt::format(
            "{} (comes off on 80 % of days), {} (the last), {} (comes off on 50 % of days) and {} (comes off on 40 % of "
            "days)",
            name(1), name(2), name(3), name(4)));
  for (SheetRider& rider : sheet.riders) rider.dropped_share = 0.5;
  const std::string alike = look_after_text(Page{sheet, {}});
  CHECK(alike.find(name(2) + " (the last, comes off on 50 % of days)") != std::string::npos);
  CHECK(alike.find(name(3)) == std::string::npos);
}

TEST_CASE("groups of the start are named one behind the other", "[cards]") {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(3));
  Sheet sheet = sheet_of(scenario);
  sheet.groups_at_start = {{2, 0}, {1}};
  const auto name = [&](std::size_t i) { return scenario.riders[i].name; };
  CHECK(order_text(Page{sheet, {}}) == fmt::format("first {} and {}; behind them {}", name(2), name(0), name(1)));
}

TEST_CASE("on a descent nobody is told to sit in, to lead or to hold a wheel", "[cards]") {
  const Scenario scenario = scenes::scene(scenes::flat_road(1000.0), scenes::club(2));
  Sheet sheet = sheet_of(scenario);
  SheetStretch stretch{};
  stretch.from = "Mill", stretch.to = "Oak", stretch.line_share = 1.0, stretch.saved_W = 50.0;
  stretch.groups = {{.line = {0, 1}, .turn_s = {60.0, 30.0}}};
  sheet.stretches.push_back(stretch);
  sheet.riders.resize(2);
  StretchRidden ridden;
  ridden.from = "Mill", ridden.to = "Oak", ridden.riding_s = 100.0, ridden.saved_J = 5000.0, ridden.follow_s = 95.0;
  sheet.riders[0].facts.stretches.push_back(ridden);
  const Page page{sheet, {}};
  CHECK(close_up_text(page).starts_with("Mill to Oak, where a wheel saves 50 W"));
  CHECK(sit_in_text(page, 0).find("(50 W)") != std::string::npos);
  sheet.stretches[0].grade = -0.021;
  CHECK(close_up_text(page).empty());
  CHECK(sit_in_text(page, 0).starts_with("nowhere: no wheel of the plan"));
  CHECK(whom_to_follow(page, 0, 0) == "own pace");
  CHECK(what_to_do(page, sheet.stretches[0]) == "single file with room to brake, no one holds a wheel");
  CHECK(turns_by_stretch(page).at(0).text == "no turns, leave room");
}
