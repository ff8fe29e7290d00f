/// Numbers over several rides.

#include "leewheel/over_weeks.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace leewheel;

namespace {
/// What a ride of that spread makes of a belief of 0.34 +- 0.05 m2 when it sees `seen` alone.
LearnedOnce ride(const char* name, double age_days, double seen, double sd) {
  const double own = 1.0 / (sd * sd), before = 1.0 / (0.05 * 0.05);
  return {name, age_days, (own * seen + before * 0.34) / (own + before), 1.0 / std::sqrt(own + before), 0.34, 0.05};
}
}  // namespace

TEST_CASE("one ride alone stays as it was", "[over_weeks]") {
  const LearnedOnce once = ride("a", 0.0, 0.30, 0.01);
  const LearnedOverWeeks all = over_weeks({once});
  CHECK(all.value == Approx(once.value));
  CHECK(all.sd == Approx(once.sd));
  CHECK(all.rides == std::vector<std::string>{"a"});
}

TEST_CASE("what was believed before counts once, however many rides there are", "[over_weeks]") {
  const double own = 1.0 / (0.01 * 0.01), before = 1.0 / (0.05 * 0.05);
  const LearnedOverWeeks all = over_weeks({ride("a", 0.0, 0.30, 0.01), ride("b", 0.0, 0.30, 0.01)});
  CHECK(all.value == Approx((2.0 * own * 0.30 + before * 0.34) / (2.0 * own + before)));
  CHECK(all.sd == Approx(1.0 / std::sqrt(2.0 * own + before)));
}

TEST_CASE("an old number fades", "[over_weeks]") {
  const double fresh = over_weeks({ride("old", 0.0, 0.36, 0.012), ride("new", 0.0, 0.33, 0.012)}).value;
  const double faded = over_weeks({ride("old", 480.0, 0.36, 0.012), ride("new", 0.0, 0.33, 0.012)}).value;
  CHECK(faded < fresh - 0.005);
  CHECK(over_weeks({ride("old", half_life_days, 0.30, 0.01)}).sd > over_weeks({ride("old", 0.0, 0.30, 0.01)}).sd * 1.3);
}

TEST_CASE("rides that disagree widen the spread and are told", "[over_weeks]") {
  const LearnedOverWeeks all = over_weeks({ride("a", 0.0, 0.27, 0.01), ride("b", 0.0, 0.37, 0.01)});
  CHECK(all.disagree);
  CHECK(all.sd > 0.03);
  CHECK_FALSE(over_weeks({ride("a", 0.0, 0.31, 0.01), ride("b", 0.0, 0.32, 0.01)}).disagree);
}
