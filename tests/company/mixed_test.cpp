/// Riders of 200 to 320 W together: nobody is lost, and the weakest is not ridden to the end of his or her strength.

#include <oneapi/tbb/parallel_for.h>
#include <catch2/catch.hpp>

#include <cmath>

#include "company/drawn.hpp"
#include "leewheel/units.hpp"

using namespace leewheel;

namespace {

struct Place {
  const char* name;
  Road road;
  double wind_mps, from_deg;
};

std::vector<double> strengths_W(std::size_t riders) {
  std::vector<double> cps_W(riders);
  for (std::size_t i = 0; i < riders; ++i)
    cps_W[i] = 200.0 + 120.0 * static_cast<double>((7 * i) % riders) / static_cast<double>(riders);
  return cps_W;
}

}  // namespace

TEST_CASE("mixed riders together come home whole", "[mixed]") {
  const std::size_t riders = GENERATE(std::size_t{6}, std::size_t{14});
  const Road mixed = company::mixed_road(), flat = company::waves({0.0}, 500.0, 7000.0);
  const std::vector<Place> all = {{"mixed", mixed, 0.0, 0.0},
                                  {"mixed, side wind", mixed, 7.0, 270.0},
                                  {"waves of 3 % and 600 m", company::waves({3.0, -3.0}, 600.0, 7000.0), 0.0, 0.0},
                                  {"flat, side wind", flat, 7.0, 270.0},
                                  {"flat, head wind", flat, 6.0, 0.0},
                                  {"6 % up, side wind", company::waves({6.0}, 500.0, 7000.0), 7.0, 270.0}};
  std::vector<company::Company> ridden(all.size());
  tbb::parallel_for(std::size_t{0}, all.size(), [&](std::size_t k) {
    Scenario s = company::as_shipped(all[k].road, company::riders_of(strengths_W(riders)), RideKind::together);
    s.wind.forecast = {{0.0, all[k].wind_mps, rad_from_deg(all[k].from_deg)}};
    ridden[k] = company::ride_company(s);
  });
  for (std::size_t k = 0; k < all.size(); ++k) {
    INFO(riders << " riders, " << all[k].name);
    CHECK(ridden[k].last_over_weakest() <= 1.02);
    CHECK(ridden[k].groups_at_end == 1);
    CHECK(ridden[k].weakest().least_wbal_share >= 0.5);
  }
}
