#include "words/plain_text.hpp"

#include <catch2/catch.hpp>
#include <limits>

using namespace leewheel;

TEST_CASE("a clock has hours only once there is one, and a dash without a time", "[words]") {
  CHECK(clock_text(0.0) == "0:00");
  CHECK(clock_text(59.6) == "1:00");
  CHECK(clock_text(3599.4) == "59:59");
  CHECK(clock_text(3599.6) == "1:00:00");
  CHECK(clock_text(3723.0) == "1:02:03");
  CHECK(clock_text(std::numeric_limits<double>::quiet_NaN()) == "–");
}

TEST_CASE("a running clock shows whole seconds without running ahead", "[words]") {
  CHECK(running_clock_text(0) == "0:00:00");
  CHECK(running_clock_text(59.99) == "0:00:59");
  CHECK(running_clock_text(3723) == "1:02:03");
  CHECK(running_clock_text(-5) == "-0:00:05");
  CHECK(running_clock_text(-0.2) == "0:00:00");
}

TEST_CASE("hours and minutes round to the minute, minutes and seconds never turn into hours", "[words]") {
  CHECK(hours_minutes_text(3600.0 + 89.0) == "1:01");
  CHECK(hours_minutes_text(3600.0 + 91.0) == "1:02");
  CHECK(minutes_seconds_text(65.4) == "1:05");
  CHECK(minutes_seconds_text(3725.0) == "62:05");
}

TEST_CASE("a number is rounded half away from nought, never to minus nought", "[words]") {
  CHECK(number_text(2.5, 0) == "3");
  CHECK(number_text(-2.5, 0) == "-3");
  CHECK(number_text(-0.04, 1) == "0.0");
  CHECK(number_text(std::numeric_limits<double>::infinity(), 1) == "–");
}

TEST_CASE("a list is told with one and, a long one is cut after three", "[words]") {
  using List = std::vector<std::string>;
  CHECK(enumerated(List{}) == "");
  CHECK(enumerated(List{"a"}) == "a");
  CHECK(enumerated(List{"a", "b"}) == "a and b");
  CHECK(enumerated(List{"a", "b", "c"}) == "a, b and c");
  CHECK(enumerated_briefly(List{"a", "b", "c", "d", "e"}) == "a, b, c, d and e");
  CHECK(enumerated_briefly(List{"a", "b", "c", "d", "e", "f"}) == "a, b, c and 3 more");
}

TEST_CASE("one thing has no s", "[words]") {
  CHECK(counted(1, "rider") == "1 rider");
  CHECK(counted(0, "rider") == "0 riders");
}

TEST_CASE("columns count letters as a terminal shows them", "[words]") {
  CHECK(columns_of("W′ é") == 4);
  CHECK(columns_of("e\u0301") == 1);  // an accent that combines
  CHECK(columns_of("風") == 2);
  CHECK(left_aligned("Ñu", 4) == "Ñu  ");
  CHECK(right_aligned("風", 3) == " 風");
}

TEST_CASE("what is too wide ends in an ellipsis and control characters do no harm", "[words]") {
  CHECK(shortened("Aike", 4) == "Aike");
  CHECK(shortened("Aike", 3) == "Ai…");
  CHECK(shortened("風風風", 4) == "風…");  // a wide letter that does not fit leaves its column empty
  CHECK(shortened("a\x1b[2Jb", 9) == "a?[2Jb");
  CHECK(shortened("a\xff", 9) == "a?");
}

TEST_CASE("text is broken before the page's edge and hangs below its first word", "[words]") {
  CHECK(wrapped("at ", "one two three", 10) == "at one two\n   three\n");
  CHECK(wrapped("", "one two", 7) == "one two\n");
  CHECK(wrapped("", "one two", 6) == "one\ntwo\n");
}
