#include "pages/wind_page.hpp"

#include <catch2/catch.hpp>
#include <pugixml.hpp>

#include "leewheel/units.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

TEST_CASE("the picture of an outlook is whole, also with no wind at all", "[pages]") {
  for (const double speed_mps : {0.0, 14.0}) {
    Scenario s = scenes::scene(scenes::smooth_hills(4000.0), {scenes::plain_rider("Ada & <Bo>")});
    s.title = "Over & <under>";
    s.wind.forecast = {{0.0, speed_mps, rad_from_deg(45.0)}};
    s.wind.hills_from_road = speed_mps > 0.0;
    const std::string svg = outlook_svg(s, wind_outlook(s, coming_alone(s, 0), 100.0));
    pugi::xml_document picture;
    REQUIRE(picture.load_string(svg.c_str()));
    CHECK(picture.child("svg").child("text").text().get() == s.title);
    CHECK(svg.find("nan") == std::string::npos);
    CHECK(svg.find("inf") == std::string::npos);
  }
}
