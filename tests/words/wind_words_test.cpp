#include "words/wind_words.hpp"

#include <catch2/catch.hpp>

#include "leewheel/compass.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

TEST_CASE("the wind is told in kilometres or in miles, by the same rows", "[words]") {
  const Scenario s = scenes::scene(scenes::flat_road(1000.0), {scenes::plain_rider("Ada")});
  OutlookRow row{};
  row.distance_m = 1609.344, row.time_s = 3690.0, row.speed_mps = 10.0;
  row.open_mps = row.rider_mps = row.head_mps = 4.4704, row.land_share = row.hill_share = 1.0;
  row.exposure_left = Exposure::scattered_trees;
  const Outlook outlook{"For Ada", false, {row}, {}};
  CHECK(outlook_text(s, outlook, 100.0).find("   1.6   1:02     36    16.1 N") != std::string::npos);
  CHECK(outlook_text(s, outlook, 100.0, {true}).find("   1.0   1:02     22    10.0 N") != std::string::npos);
  CHECK(outlook_text(s, outlook, 100.0).find("scattered trees | ") != std::string::npos);
}

TEST_CASE("each point of the compass is named by the direction it stands for", "[words]") {
  for (std::size_t k = 0; k < compass_points.size(); ++k)
    CHECK(compass_point(rad_from_deg(22.5 * static_cast<double>(k))) == compass_points[k]);
  CHECK(compass_point(rad_from_deg(359.0)) == "N");
  CHECK(compass_point(rad_from_deg(-90.0)) == "W");
  CHECK(compass_deg(rad_from_deg(359.96), 1) == 0.0);
  CHECK(compass_deg(rad_from_deg(-90.0), 0) == 270.0);
}
