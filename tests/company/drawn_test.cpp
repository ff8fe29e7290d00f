/// Sixteen of the rides that `leewheel_company` draws; fresh ones are a matter of minutes there.

#include "company/drawn.hpp"

#include <oneapi/tbb/parallel_for.h>
#include <catch2/catch.hpp>

using namespace leewheel;

namespace {

void check_drawn(const std::vector<std::uint64_t>& seeds) {
  std::vector<std::string> told(seeds.size());
  tbb::parallel_for(std::size_t{0}, seeds.size(), [&](std::size_t k) {
    const company::Drawn drawn = company::draw(seeds[k]);
    for (const std::string& fault : company::faults(drawn, company::ride_company(drawn.scenario)))
      told[k] += drawn.text + "\n    " + fault + "\n";
  });
  for (std::size_t k = 0; k < seeds.size(); ++k) {
    INFO("seed " << seeds[k] << ": " << told[k]);
    CHECK(told[k].empty());
  }
}

}  // namespace

TEST_CASE("company costs nothing in rides drawn at random", "[drawn]") {
  check_drawn({1, 2, 3, 4, 5, 6, 7, 8, 10, 11, 12, 13, 14, 15, 16, 17});
}
// A crest and a steep descent, a regroup point, a descent from rest, a line of short steep waves, an echelon on a climb.
TEST_CASE("company costs nothing in rides that it cost much", "[drawn]") {
  check_drawn({9, 42, 58, 100306, 100421, 100439, 100465, 100504, 100575});
}
