#include "pages/svg.hpp"

#include <catch2/catch.hpp>

using namespace leewheel;

TEST_CASE("a drawing holds its elements one a line, words made safe", "[pages]") {
  Svg svg(R"(width="10" height="5")");
  svg.line(0, 1, 2, 3.25, "red", 1.5, "2 1");
  svg.area({{0, 0}, {1, 0.5}}, "blue", 0.4);
  svg.rectangle(0, 0, 1, 2, "none");
  svg.text(1, 2, "a < b", 12, "black", "end", true);
  CHECK(
      svg.finished() ==
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10\" height=\"5\">\n"
      "<line x1=\"0.0\" y1=\"1.0\" x2=\"2.0\" y2=\"3.2\" stroke=\"red\" stroke-width=\"1.5\" stroke-dasharray=\"2 1\"/>\n"
      "<polygon points=\"0.0,0.0 1.0,0.5\" fill=\"blue\" fill-opacity=\"0.4\"/>\n"
      "<rect x=\"0.0\" y=\"0.0\" width=\"1.0\" height=\"2.0\" fill=\"none\"/>\n"
      "<text x=\"1.0\" y=\"2.0\" font-size=\"12\" fill=\"black\" text-anchor=\"end\" font-weight=\"bold\">a &lt; b</text>\n"
      "</svg>\n");
}

TEST_CASE("a chart's axis by square roots spreads out its beginning", "[pages]") {
  Svg svg("");
  const Chart plain(svg, 0, 0, 100, 100, 0, 4, 0, 1), root(svg, 0, 0, 100, 100, 0, 4, 0, 1, true);
  CHECK(plain.x(1.0) == Approx(25.0));
  CHECK(root.x(1.0) == Approx(50.0));
  CHECK(plain.y(1.0) == 0.0);
  CHECK(plain.y(0.0) == 100.0);
}
