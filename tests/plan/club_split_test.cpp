/// A club in groups by strength.

#include "leewheel/club_split.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

std::vector<std::size_t> sizes_of(const std::vector<std::vector<std::uint32_t>>& groups) {
  std::vector<std::size_t> sizes;
  for (const auto& group : groups) sizes.push_back(group.size());
  return sizes;
}

/// Four quick and four slow riders, and one between, nearer to the slow ones.
Scenario nine() {
  std::vector<RiderSettings> riders;
  for (const double power_W : {300.0, 298.0, 296.0, 294.0, 205.0, 198.0, 196.0, 194.0, 192.0})
    riders.push_back(scenes::plain_rider("R" + std::to_string(riders.size()), power_W));
  return scenes::scene(scenes::constant_grade(3000.0, 0.04), riders);
}

}  // namespace

TEST_CASE("riders are parted where their times part, whatever their order, and no group is too small", "[club_split]") {
  const std::vector<double> times_s{500, 300, 310, 505, 305, 510};
  const auto two = by_strength(times_s, 2);
  CHECK(two == std::vector<std::vector<std::uint32_t>>{{1, 4, 2}, {0, 3, 5}});
  CHECK(sizes_of(by_strength({300, 301, 302, 303, 304, 305, 900}, 2)) == std::vector<std::size_t>{4, 3});
  CHECK(sizes_of(by_strength(times_s, 1)) == std::vector<std::size_t>{6});
}

TEST_CASE("each group starts so that all meet at the same time, and each plan brings its group there", "[club_split]") {
  SplitSettings settings{.groups = 2, .days = 4};
  LineupSettings plans{.starts = 1, .rounds = 1, .finalists_a_demand = 1};
  const ClubSplit split = split_club(nine(), settings, plans);
  REQUIRE(split.found);
  REQUIRE(split.groups.size() == 2);
  CHECK(split.groups[0].riders.size() == 4);
  CHECK(split.groups[1].start_s == 0.0);
  CHECK(split.groups[0].start_s > 60.0);
  std::set<std::uint32_t> all;
  for (const ClubGroup& group : split.groups) {
    CHECK(group.start_s + group.ride_s == Approx(split.groups[1].ride_s));
    double last_s = 0.0;
    for (const RiderResult& rider : ride_to_end(group.scenario).riders) last_s = std::max(last_s, rider.finish_time_s);
    CHECK(last_s == Approx(group.ride_s));
    all.insert(group.riders.begin(), group.riders.end());
  }
  CHECK(all.size() == 9);
  CHECK(split.border.empty());
  settings.border_share = 1.0;
  CHECK(split_club(nine(), settings, plans).border.size() == 9);
}

TEST_CASE("as many groups as it takes: until the slowest of each is within the spread", "[club_split]") {
  const LineupSettings plans{.starts = 1, .rounds = 1, .finalists_a_demand = 1};
  CHECK(split_club(nine(), {.spread_share = 9.0, .days = 4}, plans).groups.size() == 1);
  CHECK(split_club(nine(), {.spread_share = 0.15, .days = 4}, plans).groups.size() == 2);
}

TEST_CASE("groups that meet on the way are timed there", "[club_split]") {
  const LineupSettings plans{.starts = 1, .rounds = 1, .finalists_a_demand = 1};
  const ClubSplit split = split_club(nine(), {.groups = 2, .meet_at_m = 1500.0, .days = 4}, plans);
  REQUIRE(split.found);
  for (const ClubGroup& group : split.groups) {
    double last_s = 0.0;
    const RideOptions timed{.timing_points_m = {1500.0}};
    for (const RiderResult& rider : ride_to_end(group.scenario, timed).riders)
      last_s = std::max(last_s, rider.timing.front().time_s);
    CHECK(group.ride_s == Approx(last_s));
    CHECK(group.start_s == Approx(split.groups[1].ride_s - last_s));
  }
}
