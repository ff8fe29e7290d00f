#include "leewheel/ride_report.hpp"

#include <oneapi/tbb/global_control.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Two stretches of a level road, into the wind.
Scenario level(std::vector<RiderSettings> riders) {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::flat_road(2000.0), {800.0}), std::move(riders));
  scenes::set_wind(s, 4.0, 0.0);
  return s;
}
Scenario small_club() {
  Scenario s =
      scenes::scene(scenes::with_landmarks(scenes::grades({0.01, 0.07, 0.01}, 500.0), {500.0, 1000.0}), scenes::club(4));
  scenes::set_wind(s, 4.0, 0.0);
  return s;
}
void know_everything(Scenario& s) {
  for (const auto& field : uncertainty_fields()) s.uncertainty.*field.member = field.lowest;
}
RideReport with_days(const Scenario& s, std::size_t days) {
  RideReport report = report_ride(s);
  add_days(report, s, days);
  return report;
}

}  // namespace

TEST_CASE("time and work by stretch add up to the ride's own", "[report]") {
  const RideReport report = report_ride(small_club());
  REQUIRE(report.stretches.size() == 3);
  for (std::size_t i = 0; i < 4; ++i) {
    const RiderResult& rider = report.ride.riders[i];
    double time_s = 0.0, pedal_J = 0.0, alone_J = 0.0;
    for (const StretchRidden& r : report.riders[i].facts.stretches)
      time_s += r.riding_s + r.waited_s, pedal_J += r.pedal_J, alone_J += r.alone_J;
    INFO(rider.name);
    CHECK(time_s == Approx(rider.finish_time_s).epsilon(1e-12));
    CHECK(pedal_J == Approx(rider.ledger.pedal_J).epsilon(1e-9));
    CHECK(alone_J == Approx(rider.ledger.alone_J).epsilon(1e-9));
    CHECK(report.riders[i].facts.stretches.back().wbal_J == Approx(rider.wbal_end_J).epsilon(1e-9));
  }
}

TEST_CASE("a rider alone is in no line, leads nobody and is the front of the road", "[report]") {
  const RideReport report = report_ride(level({scenes::plain_rider("Una")}));
  REQUIRE(report.stretches.size() == 2);
  for (std::size_t k = 0; k < 2; ++k) {
    const StretchReport& s = report.stretches[k];
    const StretchRidden& r = report.riders[0].facts.stretches[k];
    CHECK(s.line_share == 0.0);
    CHECK_FALSE(s.in_a_line());
    CHECK(s.saved_W == Approx(0.0).margin(0.01));
    CHECK(r.front_s + r.follow_s == 0.0);
    CHECK(r.turns == 0);
    CHECK(s.front_power_W == Approx(r.power_W()).epsilon(0.02));  // sampled each second, the start from a roll
    CHECK(s.front_speed_mps == Approx((s.to_m - s.from_m) / r.riding_s).epsilon(0.02));
    CHECK(s.groups == std::vector<GroupTurns>{{.line = {0}, .turn_s = {0.0}, .own_pace = true}});
  }
}

TEST_CASE("of two like riders together one leads, one follows and is spared work", "[report]") {
  Scenario s = level({scenes::plain_rider("Una"), scenes::plain_rider("Vera")});
  s.ride.formation = Formation::one_in_front;
  const RideReport report = report_ride(s);
  const StretchReport& last = report.stretches.back();
  CHECK(last.line_share > 0.95);
  CHECK(last.in_a_line());
  REQUIRE(last.groups.size() == 1);
  CHECK(last.groups[0].line == std::vector<std::uint32_t>{0, 1});
  CHECK(last.groups[0].stays_in_front());
  const StretchRidden &front = report.riders[0].facts.stretches.back(), &wheel = report.riders[1].facts.stretches.back();
  CHECK(front.front_s > 0.95 * front.riding_s);
  CHECK(wheel.follow_s > 0.95 * wheel.riding_s);
  CHECK(wheel.saved_W() > 5.0 * front.saved_W());
  CHECK(last.front_power_W == Approx(front.power_W()).epsilon(0.02));
  CHECK(report.riders[0].facts.stretches[0].turns + report.riders[0].facts.stretches[1].turns == 1);
  CHECK(wheel.turns == 0);
}

TEST_CASE("waiting stands apart from riding, and the road of a stretch is told", "[report]") {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::grades({0.06, 0.0}, 800.0), {800.0}),
                             {scenes::plain_rider("Una", 330.0), scenes::plain_rider("Vera", 190.0)});
  s.ride.kind = RideKind::steady;
  s.ride.regroup_at_m = {800.0};
  const RideReport report = report_ride(s);
  REQUIRE(report.ride.riders[0].waited_s > 30.0);
  CHECK(report.riders[0].facts.stretches[0].waited_s == report.ride.riders[0].waited_s);
  CHECK(report.riders[0].facts.stretches[1].waited_s == 0.0);
  const double rise_per_m = std::sin(std::atan(0.06));  // along the road's surface
  CHECK(report.stretches[0].grade == Approx(rise_per_m));
  CHECK(report.stretches[0].ascent_m == Approx(800.0 * rise_per_m));
  CHECK(report.stretches[0].steepest_grade == Approx(rise_per_m));
  CHECK(report.stretches[1].ascent_m == 0.0);
}

TEST_CASE("places of the first on the road rise in distance and time from start to top", "[report]") {
  const Scenario s = small_club();
  const Coming first = report_ride(s).first;
  REQUIRE(first.distance_m.size() == first.time_s.size());
  CHECK(first.time_s.front() == 0.0);
  CHECK(first.distance_m.back() > s.road.length_m() - 20.0);
  for (std::size_t k = 1; k < first.time_s.size(); ++k) {
    CHECK(first.time_s[k] > first.time_s[k - 1]);
    CHECK(first.distance_m[k] > first.distance_m[k - 1] + 1.0);
  }
}

TEST_CASE("when nothing is uncertain every other day is the day expected", "[report]") {
  Scenario s = small_club();
  know_everything(s);
  const RideReport report = with_days(s, 6);
  CHECK(report.days == 6);
  CHECK(report.all_home_share == 1.0);
  REQUIRE(report.last_home_s);
  CHECK(report.last_home_s->low == report.ride.time_s);
  CHECK(report.last_home_s->high == report.ride.time_s);
  CHECK(report.last_home_s->ends_error == 0.0);
  for (std::size_t i = 0; i < 4; ++i) {
    const RiderReport& rider = report.riders[i];
    const RiderResult& ride = report.ride.riders[i];
    CHECK(rider.home_share == 1.0);
    REQUIRE(rider.arrives_s.size() == 3);
    for (std::size_t k = 0; k < 3; ++k) {
      REQUIRE(rider.arrives_s[k]);
      CHECK(rider.arrives_s[k]->low == ride.landmarks[k].time_s);
      CHECK(rider.arrives_s[k]->high == ride.landmarks[k].time_s);
      REQUIRE(rider.power_W[k]);
      CHECK(rider.power_W[k]->low == rider.facts.stretches[k].power_W());
    }
    REQUIRE(rider.work_J);
    CHECK(rider.work_J->high == ride.ledger.pedal_J);
    REQUIRE(rider.wbal_least_share);
    CHECK(rider.wbal_least_share->low == Approx(ride.wbal_least_J / s.riders[i].w_prime_J));
  }
}

TEST_CASE("ranges of uncertain days have a width and are the same on one thread and on two", "[report][determinism]") {
  const Scenario s = small_club();
  const auto on = [&](std::size_t threads) {
    const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
    return with_days(s, 8);
  };
  const RideReport one = on(1), two = on(2);
  for (std::size_t i = 0; i < 4; ++i) {
    REQUIRE(one.riders[i].arrives_s.back());
    CHECK(one.riders[i].arrives_s.back()->low < one.riders[i].arrives_s.back()->high);
    CHECK(one.riders[i].arrives_s.back()->ends_error > 0.0);
    CHECK(one.riders[i].arrives_s.back()->low == two.riders[i].arrives_s.back()->low);
    CHECK(one.riders[i].arrives_s.back()->high == two.riders[i].arrives_s.back()->high);
    CHECK(one.riders[i].dropped_share == two.riders[i].dropped_share);
  }
}

TEST_CASE("too few days tell no range, and days on which nobody arrives say so", "[report]") {
  Scenario s = small_club();
  const RideReport few = with_days(s, 4);
  CHECK(few.days == 4);
  CHECK_FALSE(few.riders[0].arrives_s.back());
  CHECK_FALSE(few.last_home_s);
  s.ride.time_limit_s = 60.0;
  const RideReport late = with_days(s, 6);
  CHECK(late.ride.end == RideEnd::time_limit);
  CHECK(late.all_home_share == 0.0);
  CHECK(late.riders[0].home_share == 0.0);
  CHECK_FALSE(late.riders[0].work_J);
  CHECK_FALSE(late.last_home_s);
}

TEST_CASE("a report stopped among its days says nothing of them", "[report]") {
  const Scenario s = small_club();
  RideReport report = report_ride(s);
  std::size_t told = 0;
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, 1);
  add_days(
      report, s, 6, [&] { return told < 2; }, [&](std::size_t done) { told = done; });
  CHECK(told == 2);
  CHECK(report.days == 0);
  CHECK(report.riders[0].arrives_s.empty());
  CHECK(report_ride(s, [] { return false; }).ride.time_s == 0.0);
}

TEST_CASE("the finish on further days is told of the days of the report", "[report]") {
  const Scenario s = small_club();
  const RideReport report = with_days(s, 6);
  const FinishRanges ranges = finish_ranges(s, 6);
  CHECK(ranges.days == 6);
  REQUIRE(ranges.finish_s.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(ranges.finish_s[i]->low == report.riders[i].arrives_s.back()->low);
    CHECK(ranges.finish_s[i]->high == report.riders[i].arrives_s.back()->high);
  }
  CHECK(finish_ranges(s, 0).finish_s.empty());
  CHECK(finish_ranges(s, 6, [] { return false; }).days == 0);
}

TEST_CASE("days at hand are four million steps of one rider, at most 20 and never fewer than five", "[report]") {
  Scenario s = small_club();
  s.ride.step_s = 0.1;
  CHECK(days_at_hand(s, 100.0) == 20);
  CHECK(days_at_hand(s, 5001.0) == 19);
  CHECK(days_at_hand(s, 19999.0) == 5);
  CHECK(days_at_hand(s, 20001.0) == 0);
}

TEST_CASE("the steepest and the lowest grade of a stretch are those of its pieces, in any order", "[report]") {
  for (const std::vector<double>& grades : {std::vector{0.06, 0.0, 0.02}, std::vector{0.02, 0.0, 0.06}}) {
    const StretchReport s =
        report_ride(scenes::scene(scenes::grades(grades, 300.0), {scenes::plain_rider("Una")})).stretches[0];
    CHECK(s.steepest_grade == Approx(std::sin(std::atan(0.06))));
    CHECK(s.lowest_grade == Approx(0.0).margin(1e-9));
  }
}

TEST_CASE("a drop is told of the rider who is dropped and not of the others", "[report]") {
  Scenario s = scenes::scene(scenes::grades({0.0, 0.09}, 800.0),
                             {scenes::plain_rider("Una", 300.0), scenes::plain_rider("Vera", 200.0)});
  for (RiderSettings& r : s.riders) r.target_effort = 0.9;
  know_everything(s);
  CHECK(with_days(s, 5).riders[1].dropped_share == 0.0);  // everyone climbs freely: nobody comes off
  s.ride.kind = RideKind::free;
  const RideReport report = with_days(s, 5);
  CHECK(report.riders[0].dropped_share == 0.0);
  CHECK(report.riders[1].dropped_share == 1.0);
}

TEST_CASE("a range is told from five days on that have a value, and at least half of all days", "[report]") {
  Scenario s = scenes::scene(scenes::constant_grade(600.0, 0.06), {scenes::plain_rider("Una")});
  const double usual_s = report_ride(s).ride.time_s;
  std::set<int> seen;
  for (double share = 0.95; share < 1.05; share += 0.002) {
    s.ride.time_limit_s = share * usual_s;
    const RiderReport rider = with_days(s, 14).riders[0];
    const int home = static_cast<int>(std::lround(14.0 * rider.home_share));
    INFO(home << " of 14 days");
    CHECK(rider.work_J.has_value() == (home >= 7));
    seen.insert(home);
  }
  CHECK((seen.contains(5) || seen.contains(6)));
  CHECK(seen.contains(7));
}
