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

TEST_CASE("the axes of the wind's picture are in the units that people read", "[pages]") {
  Scenario s = scenes::scene(scenes::constant_grade(8000.0, 0.0), {scenes::plain_rider("Ada")});
  s.wind.forecast = {{0.0, 10.0, 0.0}};
  const Outlook outlook = wind_outlook(s, coming_alone(s, 0), 100.0);
  /// What is written at the left of the highest line of a panel of that title.
  const auto highest = [](const std::string& svg, const std::string& title) {
    pugi::xml_document picture;
    REQUIRE(picture.load_string(svg.c_str()));
    std::string last;
    bool here = false;
    for (const pugi::xml_node text : picture.child("svg").children("text")) {
      const std::string words = text.text().get();
      if (here && words.find_first_not_of("0123456789.-") != std::string::npos) return last;
      if (here) last = words;
      here = here || words == title;
    }
    return std::string();
  };
  CHECK(highest(outlook_svg(s, outlook), "Wind speed (km/h)") == "30");  // 10 m/s are 36 km/h
  ShownUnits miles;
  miles.imperial = true;
  CHECK(highest(outlook_svg(s, outlook, miles), "Wind speed (mph)") == "20");  // and 22.4 mph
}
