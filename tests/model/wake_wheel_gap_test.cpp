#include <catch2/catch.hpp>

#include "support/riders_in_air.hpp"

using namespace leewheel;
using namespace leewheel::riders_in_air;
using Catch::Matchers::WithinAbs;

namespace {

double behind(double gap_m, double across_m = 0.0) {
  Field field = line(2, gap_m);
  field.across[1] = across_m;
  return factors_of(WheelGapWake{}, field).drag[1];
}

}  // namespace

TEST_CASE("the law of one wheel is Olds' parabola of the gap, and 1 from where that is 1", "[wake]") {
  CHECK_THAT(behind(0.0), WithinAbs(0.62, 1e-12));
  CHECK_THAT(behind(1.0), WithinAbs(0.62 - 0.0104 + 0.0452, 1e-12));
  CHECK_THAT(behind(2.0), WithinAbs(0.62 - 2.0 * 0.0104 + 4.0 * 0.0452, 1e-12));
  const double longest_m = WheelGapWake{}.longest_gap_m();
  CHECK_THAT(longest_m, WithinAbs(3.0168, 1e-4));
  CHECK(behind(longest_m - 0.01) < 1.0);
  CHECK(behind(longest_m + 0.01) == 1.0);
}

TEST_CASE("the law of one wheel gives the leader nothing and the third what it gives the second", "[wake]") {
  const Factors f = factors_of(WheelGapWake{}, line(4, 0.5));
  CHECK(f.drag[0] == 1.0);
  CHECK(f.drag[2] == f.drag[1]);
  CHECK(f.drag[3] == f.drag[1]);
  REQUIRE(f.links.size() == 3);
  for (const WakeLink& link : f.links) CHECK(link.giver + 1 == link.receiver);
}

TEST_CASE("the saving of one wheel fades to nothing at the half width, and as wheels overlap", "[wake]") {
  const double half_width_m = WheelGapWake{}.shelter_half_width_m;
  CHECK_THAT(1.0 - behind(1.0, 0.5 * half_width_m), WithinAbs(0.75 * (1.0 - behind(1.0)), 1e-12));
  CHECK(behind(1.0, half_width_m) == 1.0);
  CHECK(behind(-bicycle_length_m) == 1.0);
  CHECK(behind(-0.5 * bicycle_length_m) > behind(0.0));
}

TEST_CASE("of two riders ahead the one who saves more counts, not the nearer one far aside", "[wake]") {
  Field field = line(3, 0.3);
  field.across[1] = 0.8;
  CHECK(factors_of(WheelGapWake{}, field).drag[2] < behind(0.3, 0.8));
}
