// Wind in a rider's words, forecasts as CSV, stations.

#include "io/wind_section.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "support.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Scenario with_wind(const io_test::Folder& folder, const std::string& wind, const std::string& position = "") {
  return read_scenario(
      folder.write("scenario.yaml", fmt::format("title: Wind\n"
                                                "road:\n"
                                                "  start_elevation_m: 100\n{}"
                                                "  stretches:\n"
                                                "    - {{name: Foot, length_m: 2000, grade_percent: 3, heading_deg: 0}}\n"
                                                "wind: {}\n"
                                                "riders: [{{name: Ada}}]\n",
                                                position, wind)));
}

double from_deg(const Scenario& scenario) { return deg_from_rad(scenario.wind.forecast.front().from_rad); }

}  // namespace

TEST_CASE("a wind in short form is the forecast of one time", "[wind]") {
  const io_test::Folder folder;
  const Scenario s = with_wind(folder, "{from: WSW, speed_kmh: 20, gusts_kmh: 35}");
  REQUIRE(s.wind.forecast.size() == 1);
  CHECK_THAT(from_deg(s), WithinAbs(247.5, 1e-9));
  CHECK_THAT(s.wind.forecast[0].speed_mps, WithinRel(20.0 / 3.6, 1e-12));
  CHECK_THAT(*s.wind.forecast[0].gust_mps, WithinRel(35.0 / 3.6, 1e-12));
  CHECK(s.wind.gusty());
}

TEST_CASE("points of the compass may be written as riders write them", "[wind]") {
  const io_test::Folder folder;
  const auto read = [&](const std::string& from) {
    return from_deg(with_wind(folder, "{from: " + from + ", speed_mps: 5}"));
  };
  CHECK(read("N") == 0.0);
  CHECK_THAT(read("wsw"), WithinAbs(247.5, 1e-9));
  CHECK_THAT(read("west-south-west"), WithinAbs(247.5, 1e-9));
  CHECK_THAT(read("South East"), WithinAbs(135.0, 1e-9));
  CHECK_THAT(read("northwest"), WithinAbs(315.0, 1e-9));
  CHECK_THAT(read("200"), WithinAbs(200.0, 1e-9));
}

TEST_CASE("a forecast from CSV is the forecast written out", "[wind]") {
  const io_test::Folder folder;
  folder.write("forecast.csv",
               "# a remark\r\ntime_min, from, speed_kmh, temperature_C, pressure_hPa, humidity_percent, gusts_kmh\r\n"
               "0, SW, 18, 12, 985, 70, 30\r\n\r\n60, 250, 25, , , , \r\n");
  const Scenario csv = with_wind(folder, "{forecast: forecast.csv}");
  const Scenario out = with_wind(folder,
                                 "{forecast: [{time_s: 0, from: SW, speed_mps: 5, temperature_C: 12, pressure_hPa: 985, "
                                 "humidity_percent: 70, gusts_kmh: 30}, {time_s: 3600, from_deg: 250, speed_kmh: 25}]}");
  REQUIRE(csv.wind.forecast.size() == 2);
  for (std::size_t k = 0; k < 2; ++k) {
    const ForecastPoint &a = csv.wind.forecast[k], &b = out.wind.forecast[k];
    CHECK(a.time_s == b.time_s);
    CHECK_THAT(a.speed_mps, WithinRel(b.speed_mps, 1e-12));
    CHECK(a.from_rad == b.from_rad);
    CHECK(a.gust_mps == b.gust_mps);
    CHECK(a.temperature_C == b.temperature_C);
    CHECK(a.pressure_Pa == b.pressure_Pa);
    CHECK(a.humidity_fraction == b.humidity_fraction);
  }
}

TEST_CASE("a station stands where its place says, by distance, by metres and by degrees", "[wind]") {
  const io_test::Folder folder;
  const std::string position = "  position: {latitude_deg: 50.0, longitude_deg: 6.0}\n";
  const Scenario s = with_wind(folder,
                               "{stations: [{name: a, at_m: 1000, from: W, speed_mps: 5}, {name: b, east_m: 300, north_m: "
                               "-40, from: W, speed_mps: 6}, "
                               "{name: c, latitude_deg: 50.01, longitude_deg: 6.0, from: W, speed_mps: 7}]}",
                               position);
  REQUIRE(s.wind.stations.size() == 3);
  CHECK_THAT(s.wind.stations[0].north_m, WithinAbs(1000.0, 1.0));  // 3 % of slope: 0.5 m shorter on the ground
  CHECK_THAT(s.wind.stations[0].east_m, WithinAbs(0.0, 1e-6));
  CHECK(s.wind.stations[1].east_m == 300.0);
  CHECK(s.wind.stations[1].north_m == -40.0);
  CHECK_THAT(s.wind.stations[2].north_m, WithinAbs(1112.3, 0.2));  // a hundredth of a degree of latitude at 50 north (WGS84)
  CHECK(s.wind.forecast.front().speed_mps == 5.0);
}

TEST_CASE("a half-length is half the slope, and a ridge lies square to the road unless told", "[wind]") {
  const io_test::Folder folder;
  const Scenario s = with_wind(folder,
                               "{from: S, speed_mps: 8, hills: [{crest_m: 1000, height_m: 60, half_length_m: 150}, "
                               "{crest: Foot, height_m: 60, slope_length_m: 300, ridge_deg: 45}]}");
  REQUIRE(s.wind.hills.size() == 2);
  CHECK(s.wind.hills[0].length_before_m == 300.0);
  CHECK_THAT(s.wind.hills[0].across_rad, WithinAbs(0.0, 1e-9));
  CHECK_THAT(std::cos(s.wind.hills[1].across_rad - rad_from_deg(-45.0)), WithinAbs(1.0, 1e-9));
}
