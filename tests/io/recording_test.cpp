/// Reading what devices recorded, and what is told of a file that cannot be used.

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "io/recording_reader.hpp"

using namespace leewheel;

namespace {

/// A file that goes away with the test.
class Written {
 public:
  Written(const std::string& name, const std::string& text) {
    path_ = (std::filesystem::temp_directory_path() / fmt::format("leewheel-{}-{}", ::rand(), name)).string();
    std::ofstream(path_, std::ios::binary) << text;
  }
  ~Written() { std::filesystem::remove(path_); }
  const std::string& path() const { return path_; }

 private:
  std::string path_;
};

std::string point(int second, const std::string& more = "", const std::string& zone = "Z") {
  return fmt::format(
      "<trkpt lat=\"50.{:05}\" lon=\"6.0\"><ele>100</ele><time>2027-05-16T09:{:02}:{:02}{}</time>{}</trkpt>\n", second,
      second / 60, second % 60, zone, more);
}
std::string gpx(const std::string& points, const std::string& root = "<gpx version=\"1.1\">") {
  return root + "<trk><trkseg>\n" + points + "</trkseg></trk></gpx>\n";
}

Recording read(const std::string& name, const std::string& text) {
  const Written file(name, text);
  std::vector<std::string> remarks;
  return read_recording(file.path(), "Ada", remarks);
}

/// The message without the path.
std::string refused(const std::string& name, const std::string& text) {
  const Written file(name, text);
  std::vector<std::string> remarks;
  try {
    read_recording(file.path(), "Ada", remarks);
  } catch (const InputFault& fault) {
    const std::string message = fault.faults().front().text();
    REQUIRE(message.starts_with(file.path()));
    return message.substr(file.path().size());
  }
  FAIL("was not refused");
  return "";
}

using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

}  // namespace

TEST_CASE("extensions are read by local name, whatever the prefix, declared or not", "[recording]") {
  const std::string more = GENERATE(
      as<std::string>{},
      "<extensions><power>0</power><hr>120</hr><cad>90</cad><atemp>15</atemp><speed>7.5</speed></extensions>",
      "<extensions><a:power>0</a:power><b:Extension><b:hr>120</b:hr><b:cad>90</b:cad><b:atemp>15</b:atemp></b:Extension>"
      "<c:speed>7.5</c:speed></extensions>",
      "<speed>7.5</speed><extensions><q:X><q:Y><q:Watts>0</q:Watts><q:HeartRate>120</q:HeartRate><q:Cadence>90</q:Cadence>"
      "<q:Temperature>15</q:Temperature></q:Y></q:X></extensions>");
  const Recording r = read("a.gpx", gpx(point(0, more) + point(1, more), "<gpx version=\"1.0\">"));
  REQUIRE(r.points.size() == 2);
  const RecordedPoint& p = r.points[1];
  CHECK(p.power_W == 0.0);
  CHECK(p.heart_rate_bpm == 120.0);
  CHECK(p.cadence_rpm == 90.0);
  CHECK(p.temperature_C == 15.0);
  CHECK(p.speed_mps == 7.5);
  CHECK(r.points[1].time_s - r.points[0].time_s == 1.0);
}

TEST_CASE("missing power and 0 W are different", "[recording]") {
  const Recording r = read("a.gpx", gpx(point(0, "<extensions><power>0</power></extensions>") + point(1) +
                                        point(2, "<extensions><power></power></extensions>")));
  CHECK(r.points[0].power_W == 0.0);
  CHECK(std::isnan(r.points[1].power_W));
  CHECK(std::isnan(r.points[2].power_W));
  CHECK(facts_of(r).power_missing_share == 1.0);
}

TEST_CASE("0 W at every point is a meter that was silent, not a rider who never pedalled", "[recording]") {
  std::string zero, once;
  for (int second = 0; second < 120; ++second) {
    zero += point(second, "<extensions><power>0</power></extensions>");
    once += point(second,
                  second == 70 ? "<extensions><power>5</power></extensions>" : "<extensions><power>0</power></extensions>");
  }
  const Recording silent = read("a.gpx", gpx(zero)), awake = read("a.gpx", gpx(once));
  CHECK(silent.silent_meter);
  CHECK(std::isnan(silent.points[50].power_W));
  CHECK_FALSE(awake.silent_meter);
  CHECK(awake.points[50].power_W == 0.0);
}

TEST_CASE("a column of watts is power", "[recording]") {
  const Recording r = read("a.csv", "time_s,distance_m,watts\n0,0,200\n1,8,210\n");
  CHECK(r.points[1].power_W == 210.0);
}

TEST_CASE("a time with an offset is the same moment", "[recording]") {
  const Recording utc = read("a.gpx", gpx(point(0) + point(1)));
  const Recording summer = read("b.gpx", gpx(point(0, "", "+02:00") + point(1, "", "+02:00")));
  CHECK(utc.points[0].time_s - summer.points[0].time_s == 7200.0);
}

TEST_CASE("a table is read by its column names; empty cells are not recorded", "[recording]") {
  const Recording r = read("a.csv",
                           "time,latitude_deg,longitude_deg,elevation_m,power_W,left_balance\n"
                           "2027-05-16T09:00:00Z,50.0,6.0,101.5,0,51\r\n"
                           "2027-05-16T09:00:01Z,50.1,6.0,,,50\n");
  REQUIRE(r.points.size() == 2);
  CHECK(r.dated);
  CHECK(r.points[0].power_W == 0.0);
  CHECK(r.points[0].elevation_m == 101.5);
  CHECK(std::isnan(r.points[1].power_W));
  const Recording by_way = read("b.csv", "time_s,distance_m,power_W\n0,0,200\n1,8,210\n");
  CHECK_FALSE(by_way.dated);
  CHECK(by_way.points[1].distance_m == 8.0);
}

TEST_CASE("semicolons between cells, with commas in numbers, are read", "[recording]") {
  const Recording r = read("a.csv", "time_s;distance_m;power_W\n0;0;200\n1;8,5;210\n");
  CHECK(r.points[1].distance_m == 8.5);
  CHECK(r.points[1].power_W == 210.0);
}

TEST_CASE("a track most of whose points have no time is no recording", "[recording]") {
  const std::string untimed = "<trkpt lat=\"50.0\" lon=\"6.0\"><ele>1</ele></trkpt>\n";
  CHECK_THAT(refused("a.gpx", gpx(untimed + untimed + untimed + point(0) + point(1))),
             StartsWith(": trkpt[0].time: found times at 2 of 5 points, expected one at every point"));
}

TEST_CASE("each wrong recording is refused with its point and with what to do", "[recording]") {
  const std::string untimed = "<trkpt lat=\"50.0\" lon=\"6.0\"><ele>1</ele></trkpt>\n";
  CHECK_THAT(refused("a.gpx", gpx(untimed + untimed)),
             StartsWith(": trkpt[0].time: found no times, expected a recorded ride") && Contains("export the ride itself"));
  CHECK_THAT(refused("a.gpx", gpx(point(0) + point(5) + point(3))),
             StartsWith(":4: trkpt[2].time: found a time 2 s before that of the point before"));
  CHECK_THAT(refused("a.gpx", gpx(point(0) + point(1) + point(1) + point(1))),
             StartsWith(":4: trkpt[2].time: found the time of the point before, at 2 points in all"));
  CHECK_THAT(refused("a.gpx", gpx(point(0, "", "") + point(1, "", ""))),
             StartsWith(":2: trkpt[0].time: found a time without its zone"));
  std::string steady;
  for (int second = 0; second < 120; ++second) steady += point(second, "<extensions><power>200</power></extensions>");
  CHECK_THAT(refused("a.gpx", gpx(steady)),
             StartsWith(":2: trkpt[0].power: found 200 W at 100 % of the points") && Contains("this is a plan"));
  CHECK_THAT(refused("a.csv", "time_s,distance_m,powr_W\n0,0,1\n1,1,1\n"), Contains("unknown column, expected 'power_W'"));
  CHECK_THAT(refused("a.csv", "distance_m,power_W\n0,1\n"),
             Contains("time: missing, expected a column time (with its zone)"));
  CHECK_THAT(refused("a.csv", "time,distance_m\n2027-05-16T09:00:00,1\n2027-05-16T09:00:01,1\n"),
             StartsWith(":2: row[0].time: found '2027-05-16T09:00:00', expected a date and time with its zone"));
  CHECK_THAT(refused("a.csv", "time_s,distance_m,power_W\n0,1,much\n1,2,3\n"),
             StartsWith(":2: row[0].power_W: found 'much'"));
}

TEST_CASE("another kind of file is told what it is and how GPX is got", "[recording]") {
  const std::pair<std::string, std::string> kinds[] = {
      {std::string("\x0e\x10\x00\x00\x00\x00\x00\x00.FIT\x00\x00", 14), "found a binary recording of an activity"},
      {"<?xml version=\"1.0\"?><T><Activities></Activities></T>", "found an activity in another kind of XML"},
      {"<kml></kml>", "found KML"},
      {"{\"a\": 1}", "found JSON"}};
  for (const auto& [text, kind] : kinds)
    CHECK_THAT(refused("a.gpx", text), Contains(kind) && Contains("export the ride as GPX"));
  CHECK_THAT(refused("a.gpx", "PK\x03\x04 and more"), Contains("found a zip archive") && Contains("unpack it"));
}

TEST_CASE("a few doubled points are left out and told", "[recording]") {
  std::string points;
  for (int second = 0; second < 120; ++second) points += point(second);
  const Written file("a.gpx", gpx(points + point(119)));
  std::vector<std::string> remarks;
  const Recording r = read_recording(file.path(), "Ada", remarks);
  CHECK(r.points.size() == 120);
  REQUIRE(remarks.size() == 1);
  CHECK_THAT(remarks[0], Contains("a point with the time of the point before left out (first: trkpt[120])"));
}
