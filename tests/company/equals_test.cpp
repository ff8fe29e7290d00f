/// Equals on roads that roll and in winds: nobody is slower than alone, nor by more power.

#include <oneapi/tbb/parallel_for.h>
#include <catch2/catch.hpp>

#include <algorithm>

#include "company/rides.hpp"
#include "leewheel/units.hpp"

using namespace leewheel;

namespace {

struct Place {
  const char* name;
  Road road;
  double wind_mps, from_deg;
};

std::vector<Place> places() {
  const Road mixed = company::mixed_road(), flat = company::waves({0.0}, 500.0, 7000.0);
  return {{"waves of 5 % and 250 m", company::waves({5.0, -5.0}, 250.0, 7000.0), 0.0, 0.0},
          {"waves of 2 % and 100 m", company::waves({2.0, -2.0}, 100.0, 7000.0), 0.0, 0.0},
          {"waves of 3 % and 600 m, head wind", company::waves({3.0, -3.0}, 600.0, 7000.0), 6.0, 0.0},
          {"mixed", mixed, 0.0, 0.0},
          {"mixed, quartering wind", mixed, 5.0, 315.0},
          {"mixed, side wind", mixed, 7.0, 270.0},
          {"4 % down", company::waves({-4.0}, 500.0, 7000.0), 0.0, 0.0},
          {"6 % up, side wind", company::waves({6.0}, 500.0, 7000.0), 7.0, 270.0},
          {"flat, tail wind", flat, 6.0, 180.0},
          {"flat, side wind", flat, 7.0, 270.0}};
}

/// Waiting included, for equals have nobody to wait for.
void check_equals(RideKind kind, std::size_t riders, const std::vector<Place>& all) {
  std::vector<company::Company> ridden(all.size());
  tbb::parallel_for(std::size_t{0}, all.size(), [&](std::size_t k) {
    Scenario s = company::as_shipped(all[k].road, company::riders_of(std::vector<double>(riders, 250.0)), kind);
    s.wind.forecast = {{0.0, all[k].wind_mps, rad_from_deg(all[k].from_deg)}};
    ridden[k] = company::ride_company(s);
  });
  for (std::size_t k = 0; k < all.size(); ++k) {
    INFO(ride_kind_names[static_cast<std::size_t>(kind)] << ", " << riders << " riders, " << all[k].name);
    double slowest = 0.0;
    for (const company::InCompany& r : ridden[k].riders) slowest = std::max(slowest, r.home_over_alone);
    CHECK(slowest <= 1.01);
    CHECK(ridden[k].over_equal_power <= 1.005);
    CHECK(ridden[k].mean_power_over_plan() <= 1.02);
  }
}

}  // namespace

TEST_CASE("equals are not slower together than alone", "[equals]") {
  const RideKind kind = GENERATE(RideKind::together, RideKind::steady);
  const std::size_t riders = GENERATE(std::size_t{2}, std::size_t{5}, std::size_t{10});
  check_equals(kind, riders, places());
}

TEST_CASE("equals by their own plan are not slower than alone", "[equals]") {
  check_equals(RideKind::free, GENERATE(std::size_t{2}, std::size_t{5}), places());
  std::vector<Place> but_side_wind = places();
  but_side_wind.pop_back();
  check_equals(RideKind::free, 10, but_side_wind);
}
TEST_CASE("ten equals by their own plan on the flat in a side wind are not slower than alone", "[equals]") {
  check_equals(RideKind::free, 10, {places().back()});
}
