// A strong wind across the road: echelons, the gutter, second echelons.

#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Twenty on a straight, level, open road of 8 m closed to traffic, 11 m/s from ahead on the left at 60 degrees.
Scenario twenty_across(int abreast) {
  Stretch stretch;
  stretch.length_m = 15000.0, stretch.has_heading = true, stretch.width_m = 8.0, stretch.abreast = abreast;
  stretch.exposure_left = stretch.exposure_right = Exposure::open_ridge;
  Scenario s = scenes::scene(Road(profile_from_stretches({stretch}, 100.0)), scenes::club(20));
  scenes::set_wind(s, 11.0, 300.0);
  s.ride.kind = RideKind::together;
  s.ride.closed_road = abreast > 1;
  return s;
}

constexpr double settled_s = 150.0, end_s = 300.0;

/// Five minutes of it, once a second; the sums begin when the lines have formed.
struct Watched {
  std::vector<double> follower_factor,
      follower_aside_m;  ///< of every rider on a wheel: drag factor, and metres to leeward of it
  double wheel_changes = 0.0, role_changes = 0.0, rider_minutes = 0.0;
  int told_in_gutter = 0;                   ///< over the whole time
  std::map<std::uint32_t, int> line_sizes;  ///< by first rider, at the end
};

Watched watch(const Scenario& scenario) {
  Watched w;
  Ride ride(scenario);
  RideSample now, before;
  while (ride.time_s() < end_s) {
    ride.step();
    if (ride.tick() % 10 != 0) continue;
    before = now;
    ride.sample(now);
    if (ride.time_s() < settled_s) continue;
    for (std::size_t i = 0; i < now.role.size(); ++i) {
      w.wheel_changes += now.wheel_of[i] != before.wheel_of[i];
      w.role_changes += now.role[i] != before.role[i];
      w.rider_minutes += 1.0 / 60.0;
      if (now.role[i] != static_cast<float>(Role::following)) continue;
      const auto wheel = static_cast<std::size_t>(now.wheel_of[i]);
      w.follower_factor.push_back(now.drag_factor[i]);
      w.follower_aside_m.push_back(now.lateral_m[wheel] - now.lateral_m[i]);  // the wind blows towards the right
    }
  }
  for (const Event& event : ride.result().events) w.told_in_gutter += event.because.reason == Reason::in_gutter;
  for (std::size_t i = 0; i < now.role.size(); ++i) {
    std::size_t first = i;
    while (now.wheel_of[first] >= 0.0f) first = static_cast<std::size_t>(now.wheel_of[first]);
    ++w.line_sizes[static_cast<std::uint32_t>(first)];
  }
  return w;
}

double mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double v : values) sum += v / static_cast<double>(values.size());
  return sum;
}

}  // namespace

TEST_CASE("in a strong crosswind a rider to leeward of a wheel saves a third, one straight behind next to nothing",
          "[crosswind]") {
  const Watched echelon = watch(twenty_across(8)), file = watch(twenty_across(1));  // one abreast: no room to leeward
  std::vector<double> leeward;
  for (std::size_t k = 0; k < echelon.follower_factor.size(); ++k)
    if (echelon.follower_aside_m[k] > 0.8) leeward.push_back(echelon.follower_factor[k]);
  CHECK(leeward.size() == 588);  // of a rider in a second
  INFO("to leeward " << mean(leeward) << "; in file, " << mean(file.follower_aside_m) << " m aside, "
                     << mean(file.follower_factor));
  CHECK(mean(leeward) < 0.72);
  CHECK(mean(file.follower_aside_m) < 0.4);
  CHECK(mean(file.follower_factor) > 0.9);
}

TEST_CASE("whom the echelon has no room for is told as in the gutter, and in a race begins an echelon", "[crosswind]") {
  Scenario racing = twenty_across(8);
  racing.ride.kind = RideKind::race;
  const Watched w = watch(racing);
  CHECK(w.told_in_gutter == 3);
  std::vector<int> sizes;
  for (const auto& [first, size] : w.line_sizes) sizes.push_back(size);
  std::sort(sizes.begin(), sizes.end());
  CHECK(sizes == std::vector<int>{1, 3, 3, 3, 5, 5});  // a lane has room for four or five; some race on alone
}

TEST_CASE("echelons once formed are quiet: few are told in the gutter and wheels change as turns ask, no more",
          "[crosswind]") {
  const Watched w = watch(twenty_across(8));
  INFO("per rider and minute: wheels " << w.wheel_changes / w.rider_minutes << ", roles " << w.role_changes / w.rider_minutes
                                       << "; told in the gutter " << w.told_in_gutter);
  CHECK(w.wheel_changes < 2.0 * w.rider_minutes);  // a turn of 45 s: the one who comes off, and who follows next
  CHECK(w.role_changes < 2.5 * w.rider_minutes);
}
