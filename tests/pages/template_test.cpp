#include "pages/template.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <string>

#include "pages/escape.hpp"

using namespace leewheel;

TEST_CASE("a hole makes text safe unless it asks for markup", "[pages]") {
  const PageData data{{"name", "<b>\"Bo\"</b> & 'Al'\n"}};
  CHECK(filled_page("{{name}}", data) == "&lt;b&gt;&quot;Bo&quot;&lt;/b&gt; &amp; &#39;Al&#39; ");
  CHECK(filled_page("{{{name}}}", data) == "<b>\"Bo\"</b> & 'Al'\n");
}

TEST_CASE("a section stands for each item of a list, once for what is there, not at all for false", "[pages]") {
  const PageData data{{"list", PageList{"a", "b"}}, {"some", if_any("c")}, {"none", if_any("")}};
  CHECK(filled_page("{{#list}}{{.}},{{/list}}", data) == "a,b,");
  CHECK(filled_page("{{#some}}({{.}}){{/some}}{{#none}}({{.}}){{/none}}", data) == "(c)");
  CHECK(filled_page("{{^some}}x{{/some}}{{^none}}y{{/none}}", data) == "y");
}

TEST_CASE("a hole that nothing fills is told, not left empty", "[pages]") {
  CHECK_THROWS_AS(filled_page("{{title}}", PageData{{"titel", "x"}}), std::logic_error);
  CHECK_THROWS_AS(filled_page("{{#riders}}{{name}}{{/riders}}", PageData{{"riders", PageList{PageData{}}}}),
                  std::logic_error);
  CHECK_THROWS_AS(filled_page("{{#open}}", PageData{{"open", true}}), std::logic_error);
}

TEST_CASE("the built-in pages hold their style and no comment of the file", "[pages]") {
  for (const std::string page : {sheet_template, pocket_template}) {
    CHECK(page.find("<style>") != page.npos);
    CHECK(page.find("@media print") != page.npos);
    CHECK(page.find("<link") == page.npos);
    CHECK(page.find("<!--") == page.npos);
  }
}

TEST_CASE("text between tags keeps its quotes, in attributes it does not", "[pages]") {
  CHECK(element_text("W' <5> & \x01") == "W' &lt;5&gt; &amp;  ");
  CHECK(html_text("W' \"5\"") == "W&#39; &quot;5&quot;");
}
