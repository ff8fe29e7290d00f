/// Which group plans are worth choosing between and which is chosen, from results made up here: nothing is ridden.

#include "plan/group_choice.hpp"

#include <catch2/catch.hpp>

#include "plan/group_days.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

const std::vector<std::uint32_t> first_is_strong{0};

/// The strong rider is later than alone by so much; drawn days are like the expected one.
PlanResult plan(double last_s, double weakest_effort, double later_s, double wait_s = 0.0) {
  PlanResult result{};
  PlanScore& score = result.expected;
  score.all_home = true;
  score.last_s = last_s;
  score.weakest_effort = weakest_effort;
  score.later_s = {later_s, 0.0};
  score.held_back_s = later_s;
  score.longest_wait_s = wait_s;
  score.wbal_least_share = 0.5;
  return result;
}

PlanResult on_days(PlanResult result, const std::vector<double>& last_s, double wbal_least_share = 0.5) {
  for (const double s : last_s) {
    result.days.push_back(result.expected);
    result.days.back().last_s = s;
    result.days.back().wbal_least_share = wbal_least_share;
  }
  sum_up_days(result, {});
  return result;
}

std::vector<std::size_t> kept(const std::vector<PlanResult>& plans, std::size_t prefer = 99, std::size_t most = 5) {
  std::vector<std::size_t> all;
  for (std::size_t k = 0; k < plans.size(); ++k) all.push_back(k);
  return worth_choosing(plans, all, first_is_strong, LineupAim::time, prefer, most);
}

}  // namespace

TEST_CASE("a plan beaten in every column is not worth choosing, one that is better in any column is", "[lineup]") {
  const PlanResult a = plan(3600.0, 0.90, 600.0), worse = plan(3700.0, 0.95, 700.0);
  CHECK(kept({a, worse}) == std::vector<std::size_t>{0});
  CHECK(kept({worse, a}) == std::vector<std::size_t>{1});
  CHECK(kept({a, plan(3700.0, 0.95, 500.0)}) == std::vector<std::size_t>{0, 1});
  CHECK(kept({a, plan(3700.0, 0.80, 700.0)}) == std::vector<std::size_t>{0, 1});
  CHECK(kept({plan(3600.0, 0.90, 600.0, 300.0), plan(3700.0, 0.95, 700.0, 0.0)}) == std::vector<std::size_t>{0, 1});
}

TEST_CASE("of plans much alike one is kept: the plan preferred, or the better one", "[lineup]") {
  const PlanResult a = plan(3600.0, 0.90, 600.0), alike = plan(3620.0, 0.895, 610.0);
  CHECK(kept({a, alike}) == std::vector<std::size_t>{0});
  CHECK(kept({a, alike}, 1) == std::vector<std::size_t>{1});
  const PlanResult by_a_hair = plan(3599.0, 0.90, 600.0);
  CHECK(kept({a, by_a_hair}, 0) == std::vector<std::size_t>{0});
  CHECK(kept({a, by_a_hair}) == std::vector<std::size_t>{1});
  CHECK(kept({a, plan(3500.0, 0.90, 600.0)}, 0) == std::vector<std::size_t>{1});
  CHECK(kept({a, plan(3620.0, 0.88, 610.0)}) == std::vector<std::size_t>{0, 1});
  CHECK(kept({plan(3800.0, 0.8, 0.0), plan(3700.0, 0.85, 0.0), plan(3600.0, 0.9, 0.0)}, 99, 2) ==
        std::vector<std::size_t>{2, 1});
}

TEST_CASE("being held back is limited by a quarter of an hour or as asked, whatever the plan clubs ride takes", "[lineup]") {
  const PlanScore clubs = plan(3600.0, 0.9, 1390.0).expected;
  CHECK(limits_of({&clubs}, {}).held_back_s == 900.0);
  LineupSettings asked;
  asked.held_back_s = 300.0;
  CHECK(limits_of({&clubs}, asked).held_back_s == 300.0);
}

TEST_CASE("the limit of time is 3 percent over the quickest obvious plan within the other limits", "[lineup]") {
  LineupSettings settings;
  settings.aim = LineupAim::weakest;
  PlanScore clubs = plan(3600.0, 0.9, 0.0).expected, hard = plan(3000.0, 1.0, 0.0).expected;
  hard.harder_share = 0.2;
  CHECK(limits_of({&clubs, &hard}, settings).last_s == Approx(1.03 * 3600.0));
  CHECK(limits_of({&hard}, settings).last_s == Approx(1.03 * 3000.0));  // none keeps to the others: there is a limit still
  settings.aim = LineupAim::time;
  CHECK(limits_of({&clubs, &hard}, settings).last_s == 0.0);
}

TEST_CASE("a plan is unfit for one reason, told in this order", "[lineup]") {
  const Scenario scenario = scenes::scene(scenes::with_landmarks(scenes::flat_road(3000.0), {1000.0}), scenes::club(2));
  const PlanLimits limits{.margin = 0.05, .last_s = 4000.0, .harder_share = 0.05, .held_back_s = 900.0};
  PlanResult r = plan(4100.0, 0.9, 1000.0);
  const auto unfit = [&] { return unfit_of(r, scenario, limits); };
  r.expected.harder_share = 0.06;
  r.plan.regroup_at_m = {1000.0, 2500.0};
  r.expected.wbal_least_share = 0.04;
  r.expected.all_home = false;
  CHECK(unfit() == Unfit::not_home);
  r.expected.all_home = true;
  CHECK(unfit() == Unfit::runs_dry);
  r.expected.wbal_least_share = 0.05;
  CHECK(unfit() == Unfit::bad_place);
  r.plan.regroup_at_m = {1000.0};
  CHECK(unfit() == Unfit::harder);
  r.expected.harder_share = 0.05;
  CHECK(unfit() == Unfit::held_back);
  r.expected.held_back_s = 900.0;
  CHECK(unfit() == Unfit::too_late);
  r.expected.last_s = 4000.0;
  CHECK(unfit() == Unfit::none);
}

TEST_CASE("the strong are the quicker half, four at most", "[lineup]") {
  CHECK(strong_riders({{500.0, 400.0, 900.0, 450.0, 700.0}, {}, 2}) == std::vector<std::uint32_t>{1, 3});
  CHECK(strong_riders({std::vector<double>(12, 1.0), {}, 0}).size() == 4);
}

TEST_CASE("a win holds on three days of four and counts: else a plan is as good as the other", "[lineup]") {
  const PlanResult usual = on_days(plan(3600.0, 0.9, 0.0), {3600.0, 3600.0, 3600.0, 3600.0});
  const auto beside = [&](const std::vector<double>& last_s) {
    return duel(on_days(plan(3600.0, 0.9, 0.0), last_s), usual, LineupAim::time);
  };
  CHECK(beside({3580.0, 3580.0, 3580.0, 3605.0}).wins);
  CHECK(beside({3580.0, 3580.0, 3580.0, 3605.0}).days_better == 3);
  CHECK(beside({3580.0, 3580.0, 3580.0, 3605.0}).gain == 13.75);
  CHECK_FALSE(beside({3500.0, 3500.0, 3605.0, 3605.0}).wins);  // two days of four
  CHECK_FALSE(beside({3591.0, 3591.0, 3591.0, 3591.0}).wins);  // 9 s
  CHECK_FALSE(beside({3591.0, 3591.0, 3591.0, 3591.0}).loses);
  CHECK(beside({3620.0, 3620.0, 3620.0, 3595.0}).loses);
}

TEST_CASE("the best on drawn days is chosen, the plan clubs ride where nothing wins over it, and only what keeps the margin",
          "[lineup]") {
  const PlanResult base = plan(3600.0, 0.9, 0.0);
  const PlanResult best = on_days(base, {3500.0, 3500.0, 3500.0, 3500.0}),
                   clubs = on_days(base, {3600.0, 3600.0, 3600.0, 3600.0}),
                   near = on_days(base, {3505.0, 3505.0, 3505.0, 3505.0}),
                   dry = on_days(base, {3400.0, 3400.0, 3400.0, 3400.0}, 0.04);
  CHECK(choose({clubs, best}, 0, LineupAim::time) == 1);
  CHECK(choose({best, near}, 1, LineupAim::time) == 1);
  CHECK(choose({near, best}, 99, LineupAim::time) == 0);  // as good, and better on the day as expected
  CHECK(choose({best, near}, 99, LineupAim::time) == 0);
  CHECK(choose({best, dry}, 99, LineupAim::time) == 0);
  CHECK(choose({best, dry}, 1, LineupAim::time) == 0);
  CHECK(choose({dry}, 99, LineupAim::time) == 0);  // nothing keeps it: the share is told
}

TEST_CASE("of plans as good on drawn days that with the shortest wait is chosen, and a wait must buy something",
          "[lineup]") {
  const auto waits = [](double wait_s, double last_s) {
    return on_days(plan(3600.0, 0.9, 0.0, wait_s), {last_s, last_s, last_s, last_s});
  };
  CHECK(choose({waits(574.0, 3500.0), waits(0.0, 3505.0)}, 99, LineupAim::time) == 1);
  CHECK(choose({waits(574.0, 3500.0), waits(0.0, 3505.0)}, 0, LineupAim::time) == 1);  // though clubs ride the other
  CHECK(choose({waits(20.0, 3500.0), waits(0.0, 3505.0)}, 99, LineupAim::time) == 0);  // half a minute is no wait
  CHECK(choose({waits(300.0, 3500.0), waits(0.0, 3559.0)}, 99, LineupAim::time) == 1);
  CHECK(choose({waits(300.0, 3500.0), waits(0.0, 3561.0)}, 99, LineupAim::time) == 0);  // a fifth of five minutes
}

TEST_CASE("drawn days say how often the margin holds, the middle 80 percent, and how still its ends stand", "[lineup]") {
  PlanResult r = on_days(plan(3600.0, 0.9, 0.0), {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0});
  CHECK(r.value == 6.0);
  CHECK(r.last_low_s == 2.0);
  CHECK(r.last_high_s == 10.0);
  CHECK(r.last_ends_s == Approx(0.9045).margin(1e-4));  // 10 of sqrt(0.1 * 0.9 / 11) ranks apart, evenly
  CHECK(r.margin_days == 1.0);
  r.days[0].wbal_least_share = 0.049;
  r.days[1].all_home = false;
  sum_up_days(r, {});
  CHECK(r.margin_days == Approx(9.0 / 11.0));
}
