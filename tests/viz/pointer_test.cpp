/// What the pointer tells about a place of the road.

#include "viz/view/pointer.hpp"

#include <catch2/catch.hpp>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;

TEST_CASE("the profile tells place, grade, wind and what is saved there", "[pointer]") {
  const Replay replay(synthetic::source({6, 1800, 12000, 2}), "pointed at");
  const SavedAlong& along = replay.saved_along();
  const auto piece = along.of(5)[50];  // 100 m each: 5.0 to 5.1 km
  const WholeWatts watts = whole_watts(piece.alone_W - piece.saved_W, piece.alone_W);
  REQUIRE(watts.saved > 0);
  CHECK(profile_words(replay, 5, 5050.0, Units::metric) == "5.05 km: 7.5 % up, wind 11 km/h against, Fenn saves " +
                                                               std::to_string(watts.saved) + " of " +
                                                               std::to_string(watts.alone) + " W");
  const std::string mean = profile_words(replay, std::nullopt, 5050.0, Units::metric);
  CHECK(mean.ends_with(" of " + std::to_string(whole_watts(0, along.mean()[50].alone_W).alone) + " W"));
  CHECK(mean.find("the mean of all saves") != std::string::npos);
  CHECK(profile_words(replay, 5, 7500.0, Units::metric)
            .starts_with("7.50 km: \xE2\x88\x92"
                         "1.0 % down, wind"));
  CHECK(profile_words(replay, 5, 5050.0, Units::imperial).starts_with("3.14 mi: 7.5 % up, wind 7 mph against"));
}

TEST_CASE("beyond the ends of the road the nearest end is told", "[pointer]") {
  const Replay replay(synthetic::source(synthetic::six), "pointed at");
  CHECK(profile_words(replay, 0, -50.0, Units::metric).starts_with("0.00 km: 0.5 % up"));
  CHECK(profile_words(replay, 0, 99999.0, Units::metric).starts_with("4.00 km: 9.0 % up"));
}
