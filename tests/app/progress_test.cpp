#include "app/progress.hpp"

#include <catch2/catch.hpp>

using leewheel::progress_line;

TEST_CASE("progress tells the share done and, from a fiftieth on, the time left", "[progress]") {
  CHECK(progress_line("riding", 1.0, 2.0, 12.0) == "riding ▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪···············  50 %, about 12 s left");
  CHECK(progress_line("weighing", 2.0, 100.0, 1.0) == "weighing ▪·····························   2 %");
  CHECK(progress_line("weighing", 3.0, 100.0, 1.0) == "weighing ▪·····························   3 %, about 32 s left");
  CHECK(progress_line("x", 0.0, 0.0, 5.0) == "x ······························   0 %");
  CHECK(progress_line("x", 7.0, 5.0, 5.0) == "x ▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪ 100 %, about 0 s left");
}
