/// The wake drawn behind the riders.

#include "viz/view/wake.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;
using synthetic::six_riders;

TEST_CASE("the wake is what the model gives a further rider at that place", "[wake]") {
  Replay replay = six_riders();
  View view = view_at(replay, 100);
  for (RiderView& r : view.riders) r.wind_cross_mps = 0.0;  // so that the wake lies straight behind
  const RiderView& last = view.riders[view.order.back()];
  WakeField wake;
  const WakeGrid grid{-5.0, last.lateral_m - 2.0, 0.5, 0.25, 21, 17};
  const double reference_m = last.distance_m - 4.0;
  wake.update(view, replay, grid, reference_m, grid.columns);
  const float behind = wake.drag_share(10, 8), beside = wake.drag_share(10, 16), far = wake.drag_share(0, 8);
  CHECK(behind < 0.9f);    // four metres behind the last front wheel, on its line
  CHECK(beside > behind);  // two metres aside
  CHECK(far > behind);     // nine metres behind
  const View nobody = [&] {
    View v = view;
    for (RiderView& r : v.riders) r.finished = true;
    return v;
  }();
  wake.update(nobody, replay, grid, reference_m, grid.columns);
  CHECK(wake.drag_share(10, 8) == 1.0f);
}

TEST_CASE("the wake drawn is the wake ridden, law and turbulence, where the land changes too", "[wake]") {
  Replay replay = six_riders();
  const double change_m = 4000.0 * 4000.0 / 12000.0;  // from an open slope into a wood
  double time_s = 0.0;
  while (view_at(replay, time_s).riders[0].distance_m < change_m + 5.0) time_s += 0.5;
  const View view = view_at(replay, time_s);
  const Wind wind(WindSettings{}, replay.road());
  const double raw = exposure_air(replay.road().exposure_left(view.riders[0].distance_m)).turbulence_intensity;
  REQUIRE(std::abs(wind.turbulence_intensity(view.riders[0].distance_m) - raw) > 0.02);  // else the test would be empty

  std::vector<double> x, y, area, along, cross, turbulence, factor(7), side(7);
  const auto add = [&](const RiderView& r, double x_m, double y_m) {
    x.push_back(x_m), y.push_back(y_m), area.push_back(r.drag_area_m2);
    along.push_back(r.speed_mps - r.wind_along_mps), cross.push_back(r.wind_cross_mps);
    const double cross2 = r.wind_cross_mps * r.wind_cross_mps;
    turbulence.push_back(wake_turbulence(wake_base(replay.head().wake_law), wind.turbulence_intensity(r.distance_m),
                                         r.wind_along_mps * r.wind_along_mps + cross2,
                                         along.back() * along.back() + cross2));
  };
  for (const std::uint32_t i : view.order) add(view.riders[i], view.riders[i].distance_m, view.riders[i].lateral_m);
  const RiderView& last = view.riders[view.order.back()];
  add(last, last.distance_m - 4.0, last.lateral_m + 0.2);
  wake_factors(replay.head().wake_law, {x, y, area, along, cross, turbulence}, {factor, side});

  WakeField wake;
  wake.update(view, replay, {0.0, last.lateral_m + 0.2, 0.5, 0.2, 1, 1}, last.distance_m - 4.0, 1);
  CHECK(wake.drag_share(0, 0) == static_cast<float>(factor.back()));
  CHECK(factor.back() < 0.95);
}

TEST_CASE("a wake renewed in parts ends as one renewed at once", "[wake]") {
  Replay replay = six_riders();
  const View view = view_at(replay, 100);
  const WakeGrid grid{-10, -3, 0.5, 0.3, 40, 20};
  WakeField at_once, in_parts;
  const View earlier = view_at(replay, 90);
  in_parts.update(earlier, replay, grid, view.riders[0].distance_m, grid.columns);
  for (int k = 0; k < 8; ++k) in_parts.update(view, replay, grid, view.riders[0].distance_m, 5);
  at_once.update(view, replay, grid, view.riders[0].distance_m, grid.columns);
  for (std::size_t c = 0; c < grid.columns; ++c)
    for (std::size_t r = 0; r < grid.rows; ++r) REQUIRE(in_parts.drag_share(c, r) == at_once.drag_share(c, r));
}
