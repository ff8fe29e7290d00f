/// How groups share the front: two lines that circulate, echelons, one rider in front, and what the rules of the road allow.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Flat, straight, northwards; the marks of the whole road as given.
Road plain_road(double length_m, double width_m, int abreast, bool closed = false) {
  RoadProfile profile = scenes::flat_road(length_m).profile();
  profile.width_m.assign(profile.width_m.size(), width_m);
  profile.abreast.assign(profile.abreast.size(), static_cast<std::uint8_t>(abreast));
  profile.closed.assign(profile.abreast.size(), closed);
  return Road(std::move(profile));
}

Scenario equals(const Road& road, std::size_t riders, Formation formation) {
  Scenario s = scenes::scene(road, {});
  for (std::size_t k = 0; k < riders; ++k) {
    s.riders.push_back(scenes::plain_rider(std::string(1, static_cast<char>('a' + k))));
    s.riders.back().target_effort = 0.8;
  }
  s.ride.kind = RideKind::together;
  s.ride.formation = formation;
  return s;
}

/// Every second from `from_s` on.
RideResult ride_watched(const Scenario& s, double from_s, const std::function<void(const RideSample&)>& look) {
  Ride ride(s);
  RideSample now;
  const auto second = static_cast<std::uint64_t>(std::lround(1.0 / s.ride.step_s));
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % second != 0 || ride.time_s() < from_s) continue;
    ride.sample(now);
    if (std::all_of(now.role.begin(), now.role.end(), [](float role) { return role != static_cast<float>(Role::finished); }))
      look(now);
  }
  return ride.result();
}

bool has(const RideSample& now, std::size_t i, Role role) { return now.role[i] == static_cast<float>(role); }

/// Riders from the first on the road to the last.
std::vector<std::size_t> from_the_front(const RideSample& now) {
  std::vector<std::size_t> order(now.distance_m.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](auto a, auto b) { return now.distance_m[a] > now.distance_m[b]; });
  return order;
}

/// Wheel gaps in the line of those who go back (`receding`) or of the others.
std::vector<double> gaps_m(const RideSample& now, bool receding) {
  std::vector<double> gaps;
  double ahead_m = -1.0;
  for (const std::size_t i : from_the_front(now)) {
    if (has(now, i, Role::drifting_back) != receding) continue;
    if (ahead_m >= 0.0) gaps.push_back(ahead_m - now.distance_m[i] - bicycle_length_m);
    ahead_m = now.distance_m[i];
  }
  return gaps;
}

double mean(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

int count(const RideResult& result, EventKind kind, int rider = -1) {
  return static_cast<int>(std::count_if(result.events.begin(), result.events.end(), [&](const Event& e) {
    return e.kind == kind && (rider < 0 || e.riders[0] == static_cast<std::uint32_t>(rider));
  }));
}

/// Pairs one of whom has driven into the other.
int touching(const RideSample& now) {
  int pairs = 0;
  for (std::size_t i = 0; i < now.distance_m.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      pairs += std::abs(now.lateral_m[i] - now.lateral_m[j]) < 0.4f &&
               std::abs(now.distance_m[i] - now.distance_m[j]) < bicycle_length_m - 0.01;
  return pairs;
}

/// Pairs who ride side by side.
int abreast(const RideSample& now, double from_m, double to_m) {
  int pairs = 0;
  for (std::size_t i = 0; i < now.distance_m.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      pairs += now.distance_m[i] > from_m && now.distance_m[i] < to_m &&
               std::abs(now.lateral_m[i] - now.lateral_m[j]) > 0.5f &&
               std::abs(now.distance_m[i] - now.distance_m[j]) < bicycle_length_m;
  return pairs;
}

}  // namespace

TEST_CASE("eight equals circulating ride in two compact lines, with equal turns of about circulate_s, and nobody is shed",
          "[formation]") {
  Scenario s = equals(scenes::flat_road(15000.0), 8, Formation::circulating);
  s.tactics.circulate_s = GENERATE(8.0, 12.0);
  double seconds = 0.0, receding = 0.0;
  std::vector<double> advancing_m, receding_m;
  int through = 0;
  const RideResult result = ride_watched(s, 120.0, [&](const RideSample& now) {
    seconds += 1.0;
    for (std::size_t i = 0; i < 8; ++i) receding += has(now, i, Role::drifting_back) / 8.0;
    for (const double gap : gaps_m(now, false)) advancing_m.push_back(gap);
    for (const double gap : gaps_m(now, true)) receding_m.push_back(gap);
    through += touching(now);
  });
  REQUIRE(result.end == RideEnd::all_finished);
  const double turn_s = result.time_s / count(result, EventKind::takes_turn);
  INFO(100.0 * receding / seconds << " % in the line that goes back; mean gaps " << mean(advancing_m) << " and "
                                  << mean(receding_m) << " m; a turn every " << turn_s << " s for "
                                  << s.tactics.circulate_s);
  CHECK(receding / seconds > 0.35);
  CHECK(receding / seconds < 0.6);
  CHECK(mean(advancing_m) < 2.0);
  CHECK(mean(receding_m) < 2.5);
  CHECK(*std::max_element(receding_m.begin(), receding_m.end()) < 5.0);
  CHECK(turn_s == Approx(s.tactics.circulate_s).epsilon(0.2));
  CHECK(through == 0);
  CHECK(count(result, EventKind::dropped) + count(result, EventKind::split) + count(result, EventKind::lets_go) == 0);
  // Faster than alone on no more power, and the same for all.
  const RiderResult alone_a = ride_to_end(alone(s, 0)).riders[0];
  for (int i = 0; i < 8; ++i) {
    const RiderResult& r = result.riders[static_cast<std::size_t>(i)];
    INFO(r.name << ": " << r.mean_power_W << " W, " << r.finish_time_s << " s; alone " << alone_a.mean_power_W << " W, "
                << alone_a.finish_time_s << " s");
    CHECK(r.mean_power_W == Approx(result.riders[0].mean_power_W).epsilon(0.03));
    CHECK(r.mean_power_W < 1.02 * alone_a.mean_power_W);
    CHECK(r.finish_time_s < 0.9 * alone_a.finish_time_s);
    CHECK(std::abs(count(result, EventKind::takes_turn, i) - count(result, EventKind::takes_turn, 0)) <= 1);
  }
}

TEST_CASE("two or three told to circulate take turns, and the pace does not fall with every turn", "[formation]") {
  const std::size_t riders = GENERATE(2u, 3u);
  const Scenario s = equals(scenes::flat_road(10000.0), riders, Formation::circulating);
  const double alone_s = ride_to_end(alone(s, 0)).riders[0].finish_time_s;
  for (const RiderResult& r : ride_to_end(s).riders) {
    INFO(r.name << " of " << riders << ": " << r.finish_time_s << " s, alone " << alone_s << " s, " << r.mean_power_W
                << " W");
    CHECK(r.finish_time_s < 0.98 * alone_s);
    CHECK(r.mean_power_W < 1.02 * 200.0);
  }
}

TEST_CASE("an echelon circulates in the draft, goes back to windward, and stays whole", "[formation][echelon]") {
  // The next come by in the draft of those who go back: common practice, no source.
  const double wind_mps = GENERATE(8.0, 10.0), from_deg = GENERATE(60.0, 75.0, 90.0, 270.0, 300.0);
  Scenario s = equals(plain_road(10000.0, 8.0, 2, true), 8, Formation::circulating);
  scenes::set_wind(s, wind_mps, from_deg);  // the road leads north
  const double leeward = from_deg < 180.0 ? 1.0 : -1.0;
  double followers = 0.0, in_draft = 0.0, going_back = 0.0, to_windward = 0.0;
  std::vector<double> length_m;
  int through = 0;
  const RideResult result = ride_watched(s, 120.0, [&](const RideSample& now) {
    const std::vector<std::size_t> order = from_the_front(now);
    length_m.push_back(now.distance_m[order.front()] - now.distance_m[order.back()]);
    through += touching(now);
    for (std::size_t i = 0; i < 8; ++i) {
      if (has(now, i, Role::following) && now.wheel_of[i] >= 0.0f) {
        followers += 1.0;
        in_draft += leeward * (now.lateral_m[i] - now.lateral_m[static_cast<std::size_t>(now.wheel_of[i])]) > 0.2;
      }
      if (!has(now, i, Role::drifting_back)) continue;
      for (std::size_t j = 0; j < 8; ++j)  // who comes by
        if ((has(now, j, Role::following) || has(now, j, Role::front)) &&
            std::abs(now.distance_m[i] - now.distance_m[j]) < bicycle_length_m) {
          going_back += 1.0;
          to_windward += leeward * (now.lateral_m[j] - now.lateral_m[i]) > 0.0;
        }
    }
  });
  REQUIRE(result.end == RideEnd::all_finished);
  INFO("wind " << wind_mps << " m/s from " << from_deg << ": in the draft " << in_draft / followers << ", back to windward "
               << to_windward / going_back << ", mean length " << mean(length_m) << " m");
  CHECK(in_draft / followers > 0.85);
  CHECK(to_windward == going_back);
  CHECK(mean(length_m) < 16.0);  // eight in one file: some 23 m
  CHECK(through == 0);
  CHECK(count(result, EventKind::dropped) + count(result, EventKind::split) + count(result, EventKind::lets_go) == 0);
  const double alone_s = ride_to_end(alone(s, 0)).riders[0].finish_time_s;
  for (int i = 0; i < 8; ++i) {
    const RiderResult& r = result.riders[static_cast<std::size_t>(i)];
    CHECK(count(result, EventKind::takes_turn, i) > result.time_s / 8.0 / s.tactics.circulate_s * 0.7);
    CHECK(r.mean_power_W == Approx(result.riders[0].mean_power_W).epsilon(0.03));
    CHECK(r.finish_time_s < 0.97 * alone_s);
  }
}

TEST_CASE("where the road allows one file nobody rides side by side, and turns go on after it", "[formation][rules]") {
  RoadProfile profile = scenes::flat_road(12000.0).profile();
  std::fill(profile.abreast.begin() + 4000, profile.abreast.begin() + 7000, std::uint8_t{1});
  struct Row {
    Formation formation;
    double wind_mps;
    int pairs_elsewhere;  // side by side, summed over the seconds
    int turns_before, turns_behind;
  };
  const Row row = GENERATE(values<Row>({{Formation::turns, 0.0, 305, 5, 8},
                                        {Formation::turns, 8.0, 370, 3, 8},
                                        {Formation::circulating, 0.0, 2192, 41, 50},
                                        {Formation::circulating, 8.0, 2311, 42, 53}}));
  Scenario s = equals(Road(profile), 6, row.formation);
  s.tactics.least_round_s = 0.0;
  scenes::set_wind(s, row.wind_mps, 280.0);
  int side_by_side = 0, elsewhere = 0, through = 0;
  const RideResult result = ride_watched(s, 60.0, [&](const RideSample& now) {
    side_by_side += abreast(now, 4000.0, 7000.0);
    elsewhere += abreast(now, 0.0, 4000.0) + abreast(now, 7000.0, 12000.0);
    through += touching(now);
  });
  REQUIRE(result.end == RideEnd::all_finished);
  INFO(formation_names[static_cast<std::size_t>(row.formation)] << ", wind " << row.wind_mps << " m/s");
  CHECK(side_by_side == 0);
  CHECK(elsewhere == row.pairs_elsewhere);
  CHECK(through == 0);
  const auto turns = [&](double from_m, double to_m) {
    return std::count_if(result.events.begin(), result.events.end(), [&](const Event& e) {
      return e.kind == EventKind::takes_turn && e.distance_m > from_m && e.distance_m < to_m;
    });
  };
  CHECK(turns(0.0, 4000.0) == row.turns_before);  // of 45 s; none begins that could not end before the road narrows
  CHECK(turns(4000.0, 6900.0) == 0);
  CHECK(turns(7000.0, 12000.0) == row.turns_behind);
}

TEST_CASE("a lane too narrow for two is ridden in one file", "[formation][rules]") {
  Scenario s = equals(plain_road(6000.0, 2.4, 2), 6, GENERATE(Formation::turns, Formation::circulating));
  int side_by_side = 0;
  const RideResult result = ride_watched(s, 60.0, [&](const RideSample& now) { side_by_side += abreast(now, 0.0, 1e9); });
  REQUIRE(result.end == RideEnd::all_finished);
  CHECK(side_by_side == 0);
  CHECK(count(result, EventKind::takes_turn) == 0);
}

TEST_CASE("riders move over before the road narrows", "[formation][rules]") {
  // In the middle of a lane of 4 m they ride 2 m from the road's middle; in one of 2 m there is room up to 1.6 m.
  RoadProfile profile = plain_road(4000.0, 8.0, 2).profile();
  std::fill(profile.width_m.begin() + 2000, profile.width_m.end(), 4.0);
  Scenario s = equals(Road(profile), 3, Formation::turns);
  double far_m = 0.0, before_m = 0.0;
  ride_watched(s, 60.0, [&](const RideSample& now) {
    for (std::size_t i = 0; i < 3; ++i) {
      const double x = now.distance_m[i], aside_m = -now.lateral_m[i];
      if (x > 1000.0 && x < 1900.0) far_m = std::max(far_m, aside_m);
      if (x > 1997.0 && x < 2000.0) before_m = std::max(before_m, aside_m);
    }
  });
  CHECK(far_m > 1.9);
  CHECK(before_m > 0.5);
  CHECK(before_m < 1.65);
}

TEST_CASE("riders keep to their side of an open road and use the whole of a closed stretch", "[formation][rules]") {
  RoadProfile profile = plain_road(9000.0, 8.0, 2).profile();
  std::fill(profile.closed.begin() + 3000, profile.closed.begin() + 6000, std::uint8_t{1});
  Scenario s = equals(Road(profile), 8, Formation::circulating);
  scenes::set_wind(s, 9.0, 285.0);
  s.ride.keep_right = GENERATE(true, false);
  const double side = s.ride.keep_right ? 1.0 : -1.0;
  double over_open_m = -1e9, over_closed_m = -1e9;
  ride_watched(s, 60.0, [&](const RideSample& now) {
    for (std::size_t i = 0; i < 8; ++i) {
      const double over_m = side * now.lateral_m[i], x = now.distance_m[i];
      (x > 3000.0 && x < 6000.0 ? over_closed_m : over_open_m) =
          std::max(x > 3000.0 && x < 6000.0 ? over_closed_m : over_open_m, over_m);
    }
  });
  CHECK(over_open_m <= 0.0);
  CHECK(over_closed_m > 1.5);
}

TEST_CASE("one strong rider in front holds a pace at that rider's target, and the others sit in", "[formation]") {
  Scenario s = equals(scenes::flat_road(10000.0), 5, Formation::one_in_front);
  s.riders[0].critical_power_W = 320.0;
  s.ride.start_order = {"a"};
  const RideResult result = ride_to_end(s);
  CHECK(count(result, EventKind::takes_turn) + count(result, EventKind::dropped) == 0);
  INFO(result.riders[0].mean_power_W << " W in front, " << result.riders[4].mean_power_W << " W at the back");
  CHECK(result.riders[0].mean_power_W > 0.93 * 0.8 * 320.0);
  CHECK(result.riders[0].mean_power_W < 1.02 * 0.8 * 320.0);
  for (std::size_t i = 1; i < 5; ++i) CHECK(result.riders[i].mean_power_W < 0.7 * result.riders[0].mean_power_W);
}

TEST_CASE("turns by strength do not shed the weakest whose wheel is within strength", "[formation]") {
  // Turn share x = (CP - F)/(L - F): the pace lets everyone hold a wheel, and who has nothing over takes no turn.
  Scenario s = equals(scenes::flat_road(20000.0), 6, Formation::turns);
  const double strength_W[] = {320.0, 290.0, 260.0, 240.0, 215.0, 190.0};
  for (std::size_t i = 0; i < 6; ++i) s.riders[i].critical_power_W = strength_W[i];
  std::vector<double> front_s(6, 0.0);
  const RideResult result = ride_watched(s, 60.0, [&](const RideSample& now) {
    for (std::size_t i = 0; i < 6; ++i) front_s[i] += has(now, i, Role::front);
  });
  CHECK(count(result, EventKind::dropped) + count(result, EventKind::split) + count(result, EventKind::lets_go) == 0);
  INFO(front_s[0] << " " << front_s[1] << " " << front_s[2] << " " << front_s[3] << " " << front_s[4] << " " << front_s[5]);
  CHECK(front_s[0] > front_s[2]);
  CHECK(front_s[2] > front_s[4]);
  CHECK(front_s[5] < 0.05 * result.time_s);
  for (std::size_t i = 0; i < 6; ++i) {
    INFO(result.riders[i].name << " " << result.riders[i].mean_power_W << " W, least W' " << result.riders[i].wbal_least_J
                               << " J");
    CHECK(result.riders[i].mean_power_W < 1.1 * 0.8 * strength_W[i]);
    CHECK(result.riders[i].wbal_least_J > 0.5 * s.riders[i].w_prime_J);
  }
}

TEST_CASE("who skips two turns sits in at the back, told once, and the others come back ahead", "[formation]") {
  Scenario s = equals(scenes::flat_road(15000.0), 4, Formation::turns);
  s.riders[3].critical_power_W = 165.0;
  const RideResult result = ride_to_end(s);
  // Told once each time that it begins; in between the strength for turns is back for a while.
  CHECK(count(result, EventKind::skips_turn, 3) == 4);
  CHECK(count(result, EventKind::sits_in, 3) == 3);
  CHECK(count(result, EventKind::takes_turn, 3) == 0);
  CHECK(count(result, EventKind::dropped) == 0);
}

TEST_CASE("where even the first follower finds no draft the line does not fall apart into single riders",
          "[formation][echelon]") {
  Scenario s = equals(plain_road(10000.0, 5.5, 2), 8, Formation::turns);
  scenes::set_wind(s, 9.0, 285.0);
  const RideResult result = ride_to_end(s);
  for (const RiderResult& r : result.riders) {
    INFO(r.name << " with others " << r.in_group_s << " s of " << r.finish_time_s);
    CHECK(r.in_group_s > 0.9 * r.finish_time_s);
  }
}
