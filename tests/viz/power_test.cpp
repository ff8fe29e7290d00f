/// Power as the replay shows it: a bar that is never longer than the power, and savings along the road.

#include <algorithm>
#include <catch2/catch.hpp>

#include "synthetic_ride.hpp"
#include "viz/view/view.hpp"

using namespace leewheel;
using namespace leewheel::view;
using synthetic::six_riders;

TEST_CASE("the bar of a power ends at the power, also where a descent or slowing down gives some", "[view]") {
  RiderView r;
  r.power_W = 150.0, r.alone_W = 170.0;
  r.gravity_W = -100.0, r.air_W = 210.0, r.rolling_W = 35.0, r.kinetic_W = 0.0;
  const auto pieces = power_bar(r);
  REQUIRE(pieces.size() == 3);  // air, rolling, losses
  CHECK(pieces[0].part == 1);
  CHECK(pieces[0].from_W == 0.0);
  CHECK(pieces[0].to_W == Approx(210.0 * 150.0 / 250.0));
  CHECK(pieces[1].from_W == pieces[0].to_W);
  CHECK(pieces[2].to_W == Approx(150.0));
  r.power_W = 0.0;
  CHECK(power_bar(r).empty());
}

TEST_CASE("a cost of company is told as one, never as shelter", "[view]") {
  Replay replay = six_riders();
  View view = view_at(replay, 100);
  RiderView& r = view.riders[1];
  r.power_W = 177.0, r.alone_W = 174.4, r.saved_W = -2.6;
  CHECK(whole_watts(r).saved == -3);
  CHECK(why_words(r, view, Units::metric).find("Company costs 3") != std::string::npos);
  CHECK(power_split(r).saved_W == -2.6);
}

TEST_CASE("the saved strip is the mean of the samples on each piece of road", "[view]") {
  Replay replay = six_riders();
  const auto pieces = replay.saved_along().of(1);
  const double from_m = 40 * replay.saved_along().piece_m(), to_m = from_m + replay.saved_along().piece_m();
  double saved = 0.0, samples = 0.0;
  RideSample sample;
  for (double t = 1.0; t <= 600.0; t += replay.head().sample_interval_s) {
    replay.interpolate(t, sample);
    if (sample.distance_m[1] < from_m || sample.distance_m[1] >= to_m) continue;
    saved += sample.alone_power_W[1] - sample.power_W[1], ++samples;
  }
  REQUIRE(samples > 0);
  CHECK(pieces[40].saved_W == Approx(saved / samples).epsilon(1e-4));
  CHECK(replay.power_scale_W() >= pieces[40].alone_W);
}

TEST_CASE("the most exposed kilometre is the one with the strongest headwind met", "[view]") {
  Replay replay(synthetic::source({6, 1800, 12000, 2}), "long");
  const auto most = replay.most_exposed();
  const auto head_mps = [&](double from_m) {
    double sum = 0.0;
    for (int k = 0; k < 10; ++k) sum -= replay.met_wind(from_m + 50.0 + 100.0 * k)->along_mps;
    return sum / 10;
  };
  double strongest = 0.0, mean = 0.0;
  for (int k = 0; k <= 110; ++k) strongest = std::max(strongest, head_mps(100.0 * k)), mean += head_mps(100.0 * k) / 111;
  if (!most) {
    CHECK(strongest < 1.2 * mean);  // nowhere stands out
    return;
  }
  CHECK(most->to_m - most->from_m == 1000.0);
  CHECK(most->head_mps == Approx(strongest));
  CHECK(head_mps(most->from_m) == Approx(strongest));
}
