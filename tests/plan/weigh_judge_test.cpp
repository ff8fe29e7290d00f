// From days to a verdict: days made up here, no ride.

#include "plan/weigh_judge.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace leewheel;

namespace {

WayRidden one_way(double gain_s, double behind_s) {
  WayRidden way;
  way.reached = true;
  way.time_s = 400.0;
  way.power_W = 200.0;
  way.alone_time_s = 400.0 + gain_s;
  way.alone_power_W = 200.0 + 0.4 * gain_s;
  way.behind_s = behind_s;
  return way;
}

/// A day on which waiting and letting go change nothing.
WaysOfDay day_of(double sitting_in_s, double taking_turns_s, double behind_s) {
  WaysOfDay day;
  day.fill(one_way(0.0, 0.0));
  day[way_of(Choice::sits_in)] = one_way(sitting_in_s, behind_s);
  day[way_of(Choice::takes_turns)] = one_way(taking_turns_s, behind_s);
  return day;
}
std::vector<WaysOfDay> days_of(const std::vector<double>& sitting_in_s, double taking_turns_s, double behind_s) {
  std::vector<WaysOfDay> days;
  for (const double gain_s : sitting_in_s) days.push_back(day_of(gain_s, taking_turns_s, behind_s));
  return days;
}

}  // namespace

TEST_CASE("a gain on all of eight in ten days pays, one that turns round on some is uncertain", "[weigh]") {
  const Weighing pays = judged(days_of({20, 30, 40, 50, 10}, 0.0, 390.0));
  CHECK(pays.verdict == Verdict::pays);
  CHECK(pays.best == way_of(Choice::sits_in));  // 30 s over taking turns
  CHECK(pays.in_company().gain_s.mean == Approx(30.0));
  CHECK(judged(days_of({-40, 30, 40, 70, 60}, 0.0, 390.0)).verdict == Verdict::uncertain);
  CHECK(judged(days_of({-4, 3, 4, 7, 6}, 0.0, 390.0)).verdict == Verdict::no_difference);  // 4 s of 400 are felt
}

TEST_CASE("a rider feels a hundredth of the stretch's time, and three seconds at least", "[weigh]") {
  CHECK(felt_difference_s(299.0) == 3.0);
  CHECK(felt_difference_s(301.0) == Approx(3.01));
}

TEST_CASE("of ways that no rider can tell apart the plainer is advised", "[weigh]") {
  const Weighing near = judged(days_of({30, 30, 30}, 26.1, 390.0));  // 4 s of 400 are felt
  CHECK(near.best == way_of(Choice::takes_turns));                   // all can do it at once
  CHECK(near.as_good == std::vector<std::size_t>{way_of(Choice::sits_in)});
  const Weighing apart = judged(days_of({30, 30, 30}, 25.9, 390.0));
  CHECK(apart.best == way_of(Choice::sits_in));
  CHECK(apart.as_good.empty());
}

TEST_CASE("nobody is there when a wheel is held for half of the time on fewer than half of the days", "[weigh]") {
  std::vector<WaysOfDay> days = days_of({-10, 20, 30}, 0.0, 199.0);
  CHECK(judged(days).verdict == Verdict::nobody_there);
  CHECK(judged(days).reach_days == 0);
  for (const std::size_t day : {0, 1}) days[day][way_of(Choice::sits_in)].behind_s = 200.0;
  CHECK(judged(days).reach_days == 2);
  CHECK(judged(days).verdict == Verdict::uncertain);
  CHECK(judged(days_of({10, 20, 30}, 0.0, 199.0)).verdict == Verdict::nobody_there);  // whatever a part of the way brings
  CHECK(judged(days_of({-10, -20, -30}, -30.0, 199.0)).verdict == Verdict::nobody_there);
}

TEST_CASE("where waiting for those behind pays it is advised", "[weigh]") {
  std::vector<WaysOfDay> days = days_of({0, 0, 0}, 0.0, 0.0);
  for (WaysOfDay& day : days) {
    day[way_of(Choice::waits_behind)] = one_way(25.0, 300.0);
    day[way_of(Choice::waits_behind)].time_s = 410.0;
  }
  const Weighing w = judged(days);
  CHECK(w.verdict == Verdict::pays);  // the wheels that come are those of the group waited for
  CHECK(w.best == way_of(Choice::waits_behind));
}

TEST_CASE("riding alone is best where company only loses, and the verdict speaks of the company", "[weigh]") {
  std::vector<WaysOfDay> days = days_of({-20, -20, -20}, -30.0, 390.0);
  const Weighing w = judged(days);
  CHECK(w.best == by_oneself);
  CHECK(w.company == way_of(Choice::sits_in));
  CHECK(w.verdict == Verdict::pays);
}

TEST_CASE("a day on which a way or riding alone does not reach the end counts for no comparison", "[weigh]") {
  std::vector<WaysOfDay> days = days_of({10, 20, 60}, 0.0, 390.0);
  days[2][way_of(Choice::sits_in)].reached = false;
  CHECK(judged(days).ways[way_of(Choice::sits_in)].days == 2);
  CHECK(judged(days).ways[way_of(Choice::sits_in)].gain_s.mean == Approx(15.0));
  days[1][by_oneself].reached = false;
  CHECK(judged(days).ways[way_of(Choice::sits_in)].days == 1);
}

TEST_CASE("the ends of the range stand stiller with more days, and with one day not at all", "[weigh]") {
  const auto error_s = [](std::size_t count) {
    std::vector<double> gains_s;
    for (std::size_t k = 0; k < count; ++k) gains_s.push_back(static_cast<double>(k * 37 % count) * 100.0 / count);
    return judged(days_of(gains_s, 0.0, 390.0)).in_company().gain_end_s;
  };
  CHECK(std::isinf(error_s(1)));
  // Evenly over 100 s the tenth of n days scatters by 100 sqrt(0.09 / n): 7.5 s of 16 days, 1.9 s of 256.
  CHECK(error_s(16) == Approx(7.5).epsilon(0.25));
  CHECK(error_s(256) == Approx(1.9).epsilon(0.25));
}

TEST_CASE("W' below a tenth at the end of the stretch is counted by days", "[weigh]") {
  std::vector<WaysOfDay> days = days_of({30, 30, 30}, 0.0, 390.0);
  days[1][way_of(Choice::sits_in)].wbal_share = 0.09;
  days[2][way_of(Choice::sits_in)].wbal_share = 0.11;
  CHECK(judged(days).in_company().spent_days == 1);
}
