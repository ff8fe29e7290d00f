#include "words/day_clock.hpp"

#include <catch2/catch.hpp>
#include <limits>

using namespace leewheel;
using namespace std::chrono;

TEST_CASE("times of day are what a watch shows, and say when it is another day", "[clock]") {
  const DayClock clock(local_days(year(2027) / 5 / 16) + 23h + 50min);
  CHECK(clock.date() == "Sunday 16 May 2027");
  CHECK(clock.at(0.0) == "23:50");
  CHECK(clock.at(599.4) == "23:59");
  CHECK(clock.at(599.6) == "00:00 +1 day");
  CHECK(clock.at(600.0 + 86400.0) == "00:00 +2 days");
  CHECK(clock.at(-86400.0) == "23:50 -1 day");
  CHECK(clock.iso(600.6) == "2027-05-17T00:00:01");
  CHECK(clock.beside(600.0) == "10:00 (00:00 +1 day)");
}

TEST_CASE("without a start there are ride times alone, and no time of day for a time that does not exist", "[clock]") {
  const DayClock none(std::nullopt), clock(local_days(year(2028) / 2 / 29));
  CHECK_FALSE(none.known());
  CHECK(none.at(60.0).empty());
  CHECK(none.iso(60.0).empty());
  CHECK(none.date().empty());
  CHECK(none.beside(60.0) == "1:00");
  CHECK(clock.at(std::numeric_limits<double>::quiet_NaN()).empty());
  CHECK(clock.iso(86400.0) == "2028-03-01T00:00:00");
}
