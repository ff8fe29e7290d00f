#include "leewheel/wind_outlook.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "support/scenes.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Two kilometres northwards over an open slope.
Scenario in_wind(const std::vector<ForecastPoint>& forecast) {
  Scenario scenario = scenes::scene(scenes::constant_grade(2000.0, 0.03), {scenes::plain_rider("Ada")});
  scenario.wind.forecast = forecast;
  return scenario;
}

}  // namespace

TEST_CASE("the outlook gives head and cross wind as the rider of the wind triangle meets them", "[wind]") {
  const Scenario s = in_wind({{0.0, 8.0, rad_from_deg(270.0)}});  // northwards: from the left
  const Outlook outlook = wind_outlook(s, coming_at_speed(s, 5.0), 100.0);
  REQUIRE(outlook.rows.size() == 21);
  const double at_rider = 8.0 * rider_height_ratio(Exposure::open_slope, 1.2);
  for (const OutlookRow& row : outlook.rows) {
    CHECK_THAT(row.time_s, WithinAbs(row.distance_m / 5.0, 1e-9));
    CHECK_THAT(row.head_mps, WithinAbs(0.0, 1e-9));
    CHECK_THAT(row.from_left_mps, WithinRel(at_rider, 1e-9));
    CHECK_THAT(row.yaw_rad, WithinRel(std::atan2(at_rider, 5.0), 1e-9));
    CHECK_THAT(row.gust_mps, WithinRel(at_rider * three_second_gust(row.gust_intensity), 1e-12));
  }
}

TEST_CASE("the outlook follows the forecast by time of arrival, or holds one moment of it", "[wind]") {
  const Scenario s = in_wind({{0.0, 2.0, 0.0}, {400.0, 10.0, 0.0}});
  const Outlook arriving = wind_outlook(s, coming_at_speed(s, 5.0), 500.0),
                frozen = wind_outlook(s, coming_at_speed(s, 5.0), 500.0, 200.0);
  CHECK_THAT(arriving.rows.front().open_mps, WithinAbs(2.0, 1e-9));
  CHECK_THAT(arriving.rows.back().open_mps, WithinAbs(10.0, 1e-9));
  for (const OutlookRow& row : frozen.rows) CHECK_THAT(row.open_mps, WithinAbs(6.0, 1e-9));
}

TEST_CASE("the outlook tells where the wind comes from, and the hills' part apart from the windbreaks'", "[wind]") {
  Scenario s = in_wind({{0.0, 8.0, rad_from_deg(250.0)}});
  s.wind.windbreaks = {{500.0, 1500.0, ShelterSide::left, ShelterKind::conifer_row, 8.0, 6.0}};
  const Outlook outlook = wind_outlook(s, coming_at_speed(s, 5.0), 100.0);
  for (const OutlookRow& row : outlook.rows) CHECK_THAT(row.open_from_rad, WithinAbs(rad_from_deg(250.0), 1e-9));
  const OutlookRow& behind = outlook.rows[10];
  CHECK(behind.land_share < 0.7);
  CHECK_THAT(behind.hill_share, WithinAbs(1.0, 1e-12));
  CHECK_THAT(outlook.rows[2].land_share, WithinAbs(1.0, 1e-12));
}

TEST_CASE("the weakest gust is calm air where the wind is rougher than its mean, never wind from the other side", "[wind]") {
  Scenario s = in_wind({{0.0, 8.0, 0.0}});
  s.road = scenes::constant_grade(2000.0, 0.03, Exposure::wood);
  const Outlook outlook = wind_outlook(s, coming_at_speed(s, 5.0), 500.0);
  REQUIRE(outlook.rows[2].gust_intensity > 0.4);
  CHECK(outlook.rows[2].gust_least_mps == 0.0);
}

TEST_CASE("on the Galecombe plateau the crosswind bites in the open, not in the wood nor behind hedge and plantation",
          "[scenario]") {
  const Scenario s = read_scenario(LEEWHEEL_SCENARIOS "/galecombe/scenario.yaml");
  const Outlook outlook = wind_outlook(s, coming_at_speed(s, 7.0), 100.0);
  const auto at = [&](double distance_m) { return outlook.rows[static_cast<std::size_t>(std::lround(distance_m / 100.0))]; };
  CHECK(std::abs(at(5000.0).from_left_mps) > 3.0 * at(2000.0).rider_mps);
  CHECK(at(8000.0).rider_mps < 0.6 * at(6800.0).rider_mps);
  CHECK(at(9000.0).rider_mps < 0.6 * at(8000.0).rider_mps);
  const auto hardest = *std::max_element(outlook.rows.begin(), outlook.rows.end(),
                                         [](const auto& a, const auto& b) { return a.rider_mps < b.rider_mps; });
  CHECK(std::abs(hardest.distance_m - 10700.0) < 250.0);
  CHECK(hardest.land_share > 1.1);  // the crest speeds it up
  CHECK(outlook.gusty);
}
