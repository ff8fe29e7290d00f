/// Laying recordings on a road, setting clocks, telling who rode together.

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

#include "after/company.hpp"
#include "after/plan_ride.hpp"
#include "after/ways.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "support/recorded.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Stretch straight(double length_m, double heading_deg, double grade = 0.0) {
  Stretch s;
  s.length_m = length_m, s.heading_rad = rad_from_deg(heading_deg), s.has_heading = true, s.grade = grade;
  return s;
}
Stretch bend(double length_m, double radius_m) {
  Stretch s;
  s.length_m = length_m, s.bend_radius_m = radius_m;
  return s;
}

/// Legs 24 m apart, four of them.
Road hairpins() {
  std::vector<Stretch> list{straight(500, 0)};
  for (int k = 0; k < 3; ++k) {
    const double radius_m = k % 2 == 0 ? 12.0 : -12.0;
    list.push_back(bend(std::numbers::pi * 12.0, radius_m));
    list.push_back(straight(500, k % 2 == 0 ? 180 : 0, 0.03));
  }
  return Road(profile_from_stretches(list, 100.0));
}

/// Out and back on one road, with a turn as narrow as the road.
Road out_and_back() {
  return Road(profile_from_stretches({straight(3000, 40), bend(std::numbers::pi * 3.0, 3.0), straight(3000, 220)}, 100.0));
}

Recording recorded_on(const Road& road, const recorded::Noise& noise, std::uint64_t seed, std::vector<double>& truth_m) {
  recorded::Recorded made = recorded::record(scenes::scene(road, {scenes::plain_rider("Ada")}), noise, seed);
  truth_m = made.distance_m[0];
  return made.recordings[0];
}

double worst_m(const RiddenWay& way, const std::vector<double>& truth_m) {
  double worst = 0.0;
  for (std::size_t k = 0; k < truth_m.size(); ++k)
    worst = std::max(worst, std::abs(way.distance_at_m(way.begin_s + static_cast<double>(k)) - truth_m[k]));
  return worst;
}

Scenario shipped(const std::string& name) { return read_scenario(LEEWHEEL_SCENARIOS "/" + name + "/scenario.yaml"); }

DebriefInput input_of(const Scenario& scenario, const recorded::Recorded& made) {
  DebriefInput input{scenario, true, made.recordings, {}, std::vector<bool>(made.recordings.size(), false), {}};
  for (std::size_t r = 0; r < made.recordings.size(); ++r) input.recorded.push_back(r);
  return input;
}

}  // namespace

TEST_CASE("legs of hairpins and of an out-and-back are not mixed up", "[match]") {
  const Road road = GENERATE(hairpins(), out_and_back());
  for (std::uint64_t seed = 1; seed <= 4; ++seed) {
    std::vector<double> truth_m;
    const Recording recording = recorded_on(road, recorded::usual(), seed, truth_m);
    const Match match = match_to_road(road, RoadMap(road, std::span(&recording, 1)), recording);
    REQUIRE(match.fault == MatchFault::none);
    CHECK(match.off_points == 0);
    CHECK(worst_m(match.way, truth_m) < 40.0);  // half a leg would be 250 m and more
    CHECK(std::is_sorted(match.way.distance_m.begin(), match.way.distance_m.end()));
  }
}

TEST_CASE("a straight road without a place on earth is laid along the recording from its start to its end", "[match]") {
  const Road road = scenes::flat_road(20e3);
  recorded::Noise noise = recorded::usual();
  noise.stretched = GENERATE(0.997, 1.003);
  std::vector<double> truth_m;
  const Recording recording = recorded_on(road, noise, 3, truth_m);
  const Match match = match_to_road(road, RoadMap(road, std::span(&recording, 1)), recording);
  REQUIRE(match.fault == MatchFault::none);
  CHECK(worst_m(match.way, truth_m) < 30.0);  // 60 m at the far end if the map were believed
}

TEST_CASE("a device that pauses at a stop leaves a stand, not a place unknown", "[match]") {
  Scenario scenario = scenes::scene(recorded::loop(), {scenes::plain_rider("Ada")});
  scenario.ride.stops.push_back({9000.0, 300.0, "water"});
  recorded::Recorded made = recorded::record(scenario, recorded::usual(), 2);
  std::size_t k = 0;
  std::erase_if(made.recordings[0].points, [&](const RecordedPoint&) {
    const std::size_t now = k++;
    return now > 5 && std::abs(made.distance_m[0][now] - 9000.0) < 1.0 &&
           made.distance_m[0][now] == made.distance_m[0][now - 1];
  });
  REQUIRE(made.recordings[0].points.size() + 250 < made.distance_m[0].size());
  const RiddenWays all = ways_of(input_of(scenario, made));
  CHECK(all.notes[0].lost_s < 2.0);
  const std::vector<Stand> stood = stands(all.ways[0]);
  REQUIRE(stood.size() == 1);
  CHECK(stood[0].stood_s() == Approx(300.0).margin(10.0));
}

TEST_CASE("a road ridden from its end is told, and so is another road", "[match]") {
  const Road road = recorded::loop(20e3);
  std::vector<double> truth_m;
  Recording back = recorded_on(hairpins(), recorded::none(), 1, truth_m);
  std::vector<RecordedPoint> points = back.points;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const RecordedPoint& p = points[points.size() - 1 - k];
    back.points[k].latitude_deg = p.latitude_deg, back.points[k].longitude_deg = p.longitude_deg;
  }
  RoadProfile profile = hairpins().profile();
  profile.has_position = true, profile.latitude_rad = rad_from_deg(50.0), profile.longitude_rad = rad_from_deg(6.0);
  const Road placed(profile);
  CHECK(match_to_road(placed, RoadMap(placed, std::span(&back, 1)), back).fault == MatchFault::other_way);

  const Recording elsewhere = recorded_on(road, recorded::none(), 1, truth_m);
  profile.latitude_rad = rad_from_deg(51.0);
  const Road far(profile);
  CHECK(match_to_road(far, RoadMap(far, std::span(&elsewhere, 1)), elsewhere).fault == MatchFault::off_road);
}

TEST_CASE("a road without a place on earth that was ridden from its end is told", "[match]") {
  const Road road = GENERATE(recorded::loop(20e3), scenes::constant_grade(8000.0, 0.06));
  std::vector<double> truth_m;
  Recording back = recorded_on(road, recorded::usual(), 3, truth_m);
  std::vector<RecordedPoint> points = back.points;
  std::reverse(points.begin(), points.end());
  for (std::size_t k = 0; k < points.size(); ++k) points[k].time_s = back.points[k].time_s;
  back.points = points;
  CHECK(match_to_road(road, RoadMap(road, std::span(&back, 1)), back).fault == MatchFault::other_way);
}

TEST_CASE("a clock that is off is found to three seconds", "[clocks]") {
  const Scenario scenario = shipped("clubhill");
  const double late_s = GENERATE(-90.0, 7.0, 37.0, 240.0);
  recorded::Noise noise = recorded::usual();
  noise.clock_s.assign(scenario.riders.size(), 0.0);
  noise.clock_s[3] = late_s;
  recorded::Recorded made = recorded::record(scenario, noise, 5);
  const bool two = GENERATE(false, true);  // of two riders the first is right
  if (two) made.recordings = {made.recordings[1], made.recordings[3]};
  DebriefInput input = input_of(scenario, made);
  if (two) input.recorded = {1, 3};
  const RiddenWays all = ways_of(input);
  for (std::size_t r = 0; r < all.notes.size(); ++r) {
    INFO("rider " << r << " of " << all.notes.size());
    CHECK(all.notes[r].clock_compared);
    CHECK(std::abs(all.notes[r].clock_shift_s - (r == (two ? 1u : 3u) ? late_s : 0.0)) < 3.0);
  }
}

TEST_CASE("riders who set off together and drift apart have clocks that agree, however long both took alike later on",
          "[clocks]") {
  RiddenWay first, second;
  double first_m = 0.0, second_m = 0.0;
  for (int k = 0; k < 6000; ++k) {
    const bool descent = k >= 2000 && k < 2150;
    first.distance_m.push_back(first_m), second.distance_m.push_back(second_m);
    first_m += 8.0, second_m += descent ? 8.0 : 7.7;
  }
  for (RiddenWay* way : {&first, &second}) way->speed_mps.assign(6000, 8.0), way->known.assign(6000, true);
  const auto pair = compare_clocks(first, second);
  REQUIRE(pair.has_value());
  CHECK(pair->shift_s == 0.0);
  RiddenWay late = first;
  late.begin_s = 37.0;
  CHECK(compare_clocks(first, late)->shift_s == Approx(37.0).margin(0.1));
}

TEST_CASE("a stand that another rider's coming ends is told as one", "[company]") {
  RiddenWay waits, comes;
  for (double t = 0.0; t < 600.0; t += 1.0) {
    const bool standing = t >= 100.0 && t < 280.0;
    waits.distance_m.push_back(t < 100.0 ? 10.0 * t : standing ? 1000.0 : 1000.0 + 5.0 * (t - 280.0));
    waits.speed_mps.push_back(standing ? 0.0 : 5.0);
    comes.distance_m.push_back(t < 280.0 ? 3.75 * t : 1050.0 + 5.0 * (t - 280.0));  // at 1000 m after 267 s
    comes.speed_mps.push_back(5.0);
  }
  const RiddenWay ways[] = {waits, comes};
  const std::vector<Stand> stood = stands(waits);
  REQUIRE(stood.size() == 1);
  CHECK(stood_until(ways, 0, stood[0]) == std::vector<std::size_t>{1});
  Stand earlier = stood[0];
  earlier.to_s = 180.0;
  CHECK(stood_until(ways, 0, earlier).empty());
}

TEST_CASE("a walk is timed from its first point, and its fastest half minute is known", "[match]") {
  Recording walk{"Ada", "walk.gpx", true, {}};
  for (int k = 0; k < 1400; ++k) walk.points.push_back({.time_s = 1.8e9 + k, .distance_m = 1.3 * k});
  const Scenario scenario = scenes::scene(scenes::flat_road(2000.0), {scenes::plain_rider("Ada")});
  const RiddenWays all = ways_of({scenario, true, {walk}, {0}, {false}, {}});
  CHECK(all.ways[0].end_s() - all.ways[0].begin_s == Approx(1399.0).margin(2.0));
  CHECK(all.notes[0].fastest_mps == Approx(1.3).margin(0.05));
}

TEST_CASE("riders who set out an hour apart have clocks that cannot be compared", "[clocks]") {
  const Scenario scenario = scenes::scene(recorded::loop(), {scenes::plain_rider("Ada", 200.0)});
  Scenario later = scenario;
  later.riders[0].critical_power_W = 290.0;
  RiddenWay ways[2];
  for (int k = 0; k < 2; ++k) {
    const recorded::Recorded made = recorded::record(k == 0 ? scenario : later, recorded::usual(), 3, 3600.0 * k);
    ways[k] = match_to_road(scenario.road, RoadMap(scenario.road, made.recordings), made.recordings[0]).way;
  }
  CHECK_FALSE(compare_clocks(ways[0], ways[1]).has_value());
}

TEST_CASE("together or not is right for 95 % of pair-seconds", "[company]") {
  const Scenario scenario = shipped(GENERATE(as<std::string>{}, "clubhill", "larkmoor"));
  double right = 0.0, all = 0.0;
  for (std::uint64_t seed = 1; seed <= 3; ++seed) {
    const recorded::Recorded made = recorded::record(scenario, recorded::usual(), seed);
    const DebriefInput input = input_of(scenario, made);
    const std::vector<RiddenWay> ways = ways_of(input).ways;
    const std::vector<RiddenWay> true_ways =
        ways_of(input_of(scenario, recorded::record(scenario, recorded::none(), seed))).ways;
    const auto spans = together(ways), true_spans = together(true_ways);
    const auto with = [](const std::vector<TogetherSpan>& list, std::uint32_t a, std::uint32_t b, double t) {
      return std::any_of(list.begin(), list.end(),
                         [&](const TogetherSpan& s) { return s.a == a && s.b == b && t >= s.from_s && t <= s.to_s; });
    };
    for (std::uint32_t a = 0; a < ways.size(); ++a)
      for (std::uint32_t b = a + 1; b < ways.size(); ++b)
        for (double t = 0.0; t < std::min(true_ways[a].end_s(), true_ways[b].end_s()); t += 1.0)
          ++all, right += with(spans, a, b, t) == with(true_spans, a, b, t);
  }
  CHECK(right / all >= 0.95);
}

TEST_CASE("a receiver lost for a minute leaves a gap that is told and nobody's place unknown", "[match]") {
  const Scenario scenario = scenes::scene(recorded::loop(), {scenes::plain_rider("Ada")});
  recorded::Noise noise = recorded::usual();
  noise.lost_from_s = 900.0, noise.lost_s = 60.0;
  const RiddenWays all = ways_of(input_of(scenario, recorded::record(scenario, noise, 2)));
  CHECK(all.notes[0].lost_s == Approx(60.0).margin(2.0));
  CHECK(all.ways[0].distance_m.back() == Approx(scenario.road.length_m()).margin(30.0));
}
