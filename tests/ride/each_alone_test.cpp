#include "ride/each_alone.hpp"

#include <catch2/catch.hpp>

using namespace leewheel;

namespace {

RideAlone ridden(std::vector<double> times_s, double speed_mps) {
  RideAlone ride{};
  for (const double time_s : times_s) {
    RideSample sample;
    sample.time_s = time_s;
    for (const SampleColumn& column : sample_columns()) (sample.*column.values).assign(1, 0.0f);
    sample.distance_m = {static_cast<float>(speed_mps * time_s)};
    ride.samples.push_back(sample);
  }
  ride.result.events = {{EventKind::finished, times_s.back(), 100.0, {0}, no_group, {Reason::at_the_finish}}};
  return ride;
}

}  // namespace

TEST_CASE("rides alone stand beside each other, and who is home stays there", "[each_alone]") {
  const EachAlone all = each_alone({ridden({0, 1, 2, 2.5}, 4.0), ridden({0, 1, 1.25}, 8.0)});
  REQUIRE(all.samples.size() == 4);
  CHECK(all.samples[1].time_s == 1.0);
  CHECK(all.samples[2].time_s == 2.0);
  CHECK(all.samples[3].time_s == 2.5);
  CHECK(all.samples[1].distance_m == std::vector<float>{4.0f, 8.0f});
  CHECK(all.samples[2].distance_m == std::vector<float>{8.0f, 10.0f});
  CHECK(all.samples[3].distance_m == std::vector<float>{10.0f, 10.0f});
  for (const SampleColumn& column : sample_columns()) CHECK((all.samples[3].*column.values).size() == 2);
  REQUIRE(all.events.size() == 2);
  CHECK(all.events[0].time_s == 1.25);
  CHECK(all.events[0].riders == std::vector<std::uint32_t>{1});
  CHECK(all.events[1].riders == std::vector<std::uint32_t>{0});
}
