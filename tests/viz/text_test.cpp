#include "viz/view/text.hpp"

#include <catch2/catch.hpp>

using namespace leewheel::view;

TEST_CASE("a time is read from seconds, minutes and hours, and nothing else", "[view]") {
  CHECK(parse_time_s("95") == 95.0);
  CHECK(parse_time_s("95.5") == 95.5);
  CHECK(parse_time_s("1:35") == 95.0);
  CHECK(parse_time_s("0:01:35.5") == 95.5);
  CHECK(parse_time_s("1:00:00") == 3600.0);
  CHECK(parse_time_s("90:00") == 5400.0);
  for (const char* wrong : {"", "x", "1:", ":1", "1:60", "1:2:60", "1:2:3:4", "-5", "1.5:00", "1e3", "nan", "5 ", "1..2"}) {
    INFO(wrong);
    CHECK_FALSE(parse_time_s(wrong).has_value());
  }
}

TEST_CASE("units change at the edge and by the agreed mile and foot", "[view]") {
  CHECK(speed_text(10, Units::metric) == "36.0 km/h");
  CHECK(speed_text(mile_m / 3600, Units::imperial) == "1.0 mph");
  CHECK(place_text(6210, Units::metric) == "6.21 km");
  CHECK(place_text(2 * mile_m, Units::imperial) == "2.00 mi");
  CHECK(length_text(0.3048, Units::imperial) == "1.0 ft");
  CHECK(height_text(181.6, Units::metric) == "182 m");
}

TEST_CASE("a gap is empty for the first, seconds below a minute, then minutes", "[view]") {
  CHECK(gap_text(0) == "");
  CHECK(gap_text(4.23) == "+4.2");
  CHECK(gap_text(59.96) == "+1:00");
  CHECK(gap_text(65) == "+1:05");
}

TEST_CASE("a grade of nothing has no sign and a fall carries a minus", "[view]") {
  CHECK(grade_text(0.075) == "7.5 %");
  CHECK(grade_text(-0.0001) == "0.0 %");
  CHECK(grade_text(-0.012) ==
        "\xE2\x88\x92"
        "1.2 %");
}

TEST_CASE("ticks are round, inside the range and part it into no more pieces than asked for", "[view]") {
  CHECK(nice_ticks(0, 10, 5) == std::vector<double>{0, 2, 4, 6, 8, 10});
  for (const auto& [low, high] : {std::pair{0.0, 1.0}, {-3.0, 17.0}, {150.0, 623.0}, {0.0, 18.3}, {1e-3, 2e-3}}) {
    for (int most = 1; most < 15; ++most) {
      const auto ticks = nice_ticks(low, high, most);
      INFO(low << " " << high << " " << most);
      CHECK(ticks.size() <= static_cast<std::size_t>(most) + 1);
      for (const double tick : ticks) CHECK((tick >= low - 1e-9 && tick <= high + 1e-9));
    }
  }
  CHECK(nice_ticks(1, 1, 5).empty());
  CHECK(nice_ticks(0, 10, 0).empty());
  CHECK_FALSE(std::signbit(nice_ticks(-0.1, 5, 5).front()));
}

TEST_CASE("a scale bar is 1, 2 or 5 times a power of ten and not longer than its limit", "[view]") {
  CHECK(round_down_125(1.0) == Approx(1.0));
  CHECK(round_down_125(4.9) == Approx(2.0));
  CHECK(round_down_125(0.07) == Approx(0.05));
  CHECK(round_down_125(999) == Approx(500));
}
