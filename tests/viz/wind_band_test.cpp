/// The wind along the road as the profile shows it.

#include "viz/view/wind_band.hpp"

#include <catch2/catch.hpp>

#include <cmath>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;

TEST_CASE("the band is as wide as the wind against, in shares of the strongest", "[wind_band]") {
  const Replay replay = synthetic::six_riders();
  const WindBand band = wind_band(replay, 4);  // 1 km each
  REQUIRE(band.pieces.size() == 4);
  const auto mean = [](double from_m, auto&& of) {
    double sum = 0;
    for (const double at_m : {125.0, 375.0, 625.0, 875.0}) sum += of(from_m + at_m) / 4;
    return sum;
  };
  for (std::size_t k = 0; k < 4; ++k) {
    const double from_m = 1000.0 * static_cast<double>(k);
    REQUIRE(band.pieces[k].has_value());
    CHECK(band.pieces[k]->along_mps == Approx(mean(from_m, [](double d) { return -3 - std::sin(d / 1500); })).margin(0.005));
    CHECK(band.pieces[k]->cross_mps ==
          Approx(mean(from_m, [](double d) { return 1.5 * std::cos(d / 2000); })).margin(0.005));
  }
  CHECK(band.most_mps == -band.pieces[2]->along_mps);  // about 2.4 km, where the sine is largest
  CHECK(band.share_against(2) == 1.0);
  CHECK(band.share_against(0) == Approx(0.835).margin(0.002));
}

TEST_CASE("wind from behind and nobody recorded", "[wind_band]") {
  const WindBand band{{MetWind{1.0, 0.5}, std::nullopt}, WindBand::least_most_mps};
  CHECK(band.share_against(0) == -0.5);
  CHECK(band.share_against(1) == 0.0);
}
