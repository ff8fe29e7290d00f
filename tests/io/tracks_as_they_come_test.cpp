/// Tracks as people have them: too long, in one line, with gaps, without elevations, walked, in laps, there and back, no GPX at all.

#include <algorithm>
#include <cmath>
#include <random>

#include "io/file_kind.hpp"
#include "io/scenario_reader.hpp"
#include "io/track_steps.hpp"
#include "track_support.hpp"

using namespace leewheel;
using namespace track_test;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::string in_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

std::string said_of(const std::string& text, const TrackOptions& options = {}) {
  return io_test::said([&] { import(text, options); });
}

/// 700 km north in one line, a place every 100 m, rolling, with four gaps of 2 km.
std::string long_ride() {
  std::vector<Place> places;
  for (int i = 0; i <= 7000; ++i) {
    const int km = i / 10;
    const bool in_gap =
        (km == 158 || km == 159 || km == 212 || km == 213 || km == 235 || km == 236 || km == 358 || km == 359);
    if (!in_gap) places.push_back({0.0, 100.0 * i, 500.0 + 40.0 * std::sin(i / 25.0)});
  }
  return in_one_line(gpx(places));
}

std::string with_waypoint(std::string text, const std::string& name, double east_m, double north_m) {
  std::string point = gpx({{east_m, north_m, 0.0}});
  point = point.substr(point.find("lat="), point.find("><ele>") - point.find("lat="));
  text.insert(text.find("<trk>"), "<wpt " + point + "><name>" + name + "</name></wpt>");
  return text;
}

std::vector<std::string> landmarks_of(const TrackImport& track) {
  std::vector<std::string> texts;
  for (const Landmark& mark : track.profile.landmarks)
    texts.push_back(fmt::format("{} {:.0f}", mark.name, mark.distance_m / 10.0));
  return texts;
}

}  // namespace

TEST_CASE("a long track in one line tells every gap with point and kilometre, and its length", "[track]") {
  const std::string said = said_of(long_ride());
  CHECK_THAT(said,
             Contains("track.gpx:1: point 1, km 0.00: found a track of 700 km, expected at most 500 km: take a piece"));
  CHECK_THAT(said, Contains("track.gpx:1: point 1581, km 160.00: found a jump of 2100 m from the point before"));
  CHECK_THAT(said, Contains("km 214.00") && Contains("km 237.00") && Contains("km 360.00"));
  CHECK(std::count(said.begin(), said.end(), '\n') == 4);
}

TEST_CASE("a piece of a long track is taken by its kilometres, over a gap when asked", "[track]") {
  const TrackImport whole = import(long_ride(), {.from_m = 100e3, .to_m = 130e3});
  CHECK_THAT(Road(whole.profile).length_m(), WithinRel(30e3, 0.01));
  CHECK_THAT(all_lines(whole.report), Contains("the piece from km 100.00 to km 130.00 of 700.00 km recorded"));
  CHECK_THAT(said_of(long_ride(), {.from_m = 150e3, .to_m = 165e3}), Contains("km 160.00: found a jump of 2100 m"));
  const TrackImport over = import(long_ride(), {.from_m = 150e3, .to_m = 165e3, .bridge_gaps = true});
  CHECK_THAT(Road(over.profile).length_m(), WithinRel(15e3, 0.01));
  CHECK_THAT(
      all_lines(over.report),
      Contains("1 x gap of more than 1500 m (at most 2100 m): bridged by a straight line, as asked; nobody rode there"));
  const Road bridged(over.profile);
  CHECK_THAT(bridged.elevation_m(9000.0),
             WithinAbs(0.5 * (bridged.elevation_m(8000.0) + bridged.elevation_m(10000.0)), 2.0));
  CHECK_THAT(said_of(long_ride(), {.from_m = 800e3}), Contains("from_km: found 800, expected less than the length"));
  CHECK_THAT(said_of(long_ride(), {.from_m = 20e3, .to_m = 10e3}), Contains("to_km: found 10, expected more than from_km"));
  CHECK_THAT(said_of(long_ride(), {.from_m = 158.2e3, .to_m = 159.1e3}), Contains("from_km: found no point"));
}

TEST_CASE("a track turned round is ridden from its end, its places with it", "[track]") {
  const std::string text = with_waypoint(gpx(straight_hill()), "Spring", 20.0, 500.0);
  const TrackImport up = import(text), down = import(text, {.reverse = true});
  CHECK(landmarks_of(up) == std::vector<std::string>{"Spring 50"});
  CHECK(landmarks_of(down) == std::vector<std::string>{"Spring 150"});
  CHECK_THAT(Road(down.profile).grade(1000.0), WithinAbs(-0.05, 1e-3));
  CHECK_THAT(Road(down.profile).heading_rad(1000.0), WithinAbs(M_PI, 1e-3));
}

TEST_CASE("named places of the file become landmarks each time the track passes", "[track]") {
  std::vector<Place> there_and_back = straight_hill();
  for (int i = 199; i >= 0; --i) there_and_back.push_back({3.0, 10.0 * i, 400.0 + 0.5 * i});
  std::string text = with_waypoint(gpx(there_and_back), "Chapel", 0.0, 800.0);
  text = with_waypoint(text, "Far hut", 900.0, 800.0);
  text = with_waypoint(text, "Car park", 0.0, 10.0);
  const TrackImport track = import(text);
  CHECK(landmarks_of(track) == std::vector<std::string>{"Chapel 80", "Chapel 2 319"});
  CHECK_THAT(all_lines(track.report),
             Contains("landmarks from the file's named places: Chapel (km 0.80), Chapel 2 (km 3.19)"));
  CHECK_THAT(all_lines(track.report), Contains("named places more than 100 m off the track, left out: Far hut"));
}

TEST_CASE("three laps pass the same place three times", "[track]") {
  std::vector<Place> places;
  for (int i = 0; i <= 450; ++i) {
    const double angle = 2.0 * M_PI * i / 150.0;
    places.push_back({400.0 * std::cos(angle), 400.0 * std::sin(angle), 300.0 + 15.0 * std::sin(angle)});
  }
  const TrackImport track = import(with_waypoint(gpx(places), "Pond", 0.0, 400.0));
  CHECK(track.profile.landmarks.size() == 3);
  CHECK_THAT(Road(track.profile).length_m(), WithinRel(3.0 * 2.0 * M_PI * 400.0, 0.01));
  CHECK_THAT(Road(track.profile).facts().ascent_m, WithinRel(90.0, 0.05));
}

TEST_CASE("a walk, an exactly level track and missing elevations are told with what to do", "[track]") {
  std::vector<Place> walk = straight_hill(), level = straight_hill(), bare = straight_hill();
  for (std::size_t i = 0; i < walk.size(); ++i)
    walk[i].extra = fmt::format("<ele>{:.1f}</ele><time>2027-05-16T{:02}:{:02}:{:02}Z</time>", walk[i].up_m,
                                9 + i * 10 / 3600, i * 10 / 60 % 60, i * 10 % 60);
  CHECK_THAT(all_lines(import(gpx(walk)).report),
             Contains("caution: by its times this was done at 3.6 km/h while moving, in 0:33 h in all: a walk?"));
  for (Place& place : level) place.up_m = 0.0;
  CHECK_THAT(all_lines(import(gpx(level)).report), Contains("caution: every elevation is 0 m: a road is never so level."));
  for (Place& place : bare) place.extra = "<cmt/>";
  CHECK_THAT(said_of(gpx(bare)), Contains("point 1, km 0.00, ele: found no elevation in any point, expected them: export"));
  CHECK(all_lines(import(gpx(straight_hill())).report) == "201 points recorded, 201 kept\n");
}

TEST_CASE("every fault of a track is told at once, each with its point and kilometre", "[track]") {
  std::vector<Place> places = straight_hill();
  for (std::size_t i = 100; i < 170; ++i) places[i].extra = "<cmt/>";
  for (std::size_t i = 50; i < 60; ++i) places[i].up_m += 260.0;
  places.push_back({0.0, 5000.0, 500.0});
  places.push_back({0.0, 5010.0, 500.0});
  std::string text = gpx(places);
  text.replace(text.find("<ele>401.00"), 11, "<ele>4x1.00");
  const std::string cut = "expected at most 60 m: cut the track there (from_km, to_km) or mend the elevation";
  const std::vector<std::string> faults{
      "point 3, km 0.02, ele: found '4x1.00', expected a number in m",
      "point 51, km 0.50, ele: found an elevation 130 m off the point before, " + cut,
      "point 52, km 0.51, ele: found an elevation 131 m off the point before, " + cut,
      "point 60, km 0.59, ele: found an elevation 130 m off the point before, " + cut,
      "point 61, km 0.60, ele: found an elevation 129 m off the point before, " + cut,
      "point 101, km 1.00, ele: found 710 m without elevations, expected at most 500 m; bridge_gaps joins both ends by a "
      "straight line",
      "point 202, km 5.00: found a jump of 3000 m from the point before, expected at most 1500 m: take a piece without it "
      "(from_km, to_km), or let bridge_gaps lay a straight line"};
  const std::string said = said_of(in_one_line(text));
  std::vector<std::string> told;
  for (std::size_t from = 0; from < said.size();) {
    const std::size_t end = std::min(said.find('\n', from), said.size());
    told.push_back(said.substr(said.find(".gpx:1: ", from) + 8, end - said.find(".gpx:1: ", from) - 8));
    from = end + 1;
  }
  CHECK(told == faults);
}

TEST_CASE("a piece is judged by itself: faults elsewhere in the file do not count against it", "[track]") {
  std::vector<Place> places = straight_hill();
  for (std::size_t i = 50; i < 60; ++i) places[i].up_m += 260.0;
  std::string text = gpx(places);
  text.replace(text.find("<ele>401.00"), 11, "<ele>4x1.00");
  CHECK_THAT(Road(import(text, {.from_m = 800.0, .to_m = 1800.0}).profile).length_m(), WithinAbs(1001.2, 3.0));
  const std::string said = said_of(text, {.to_m = 300.0});
  CHECK_THAT(said, Contains("point 3, km 0.02, ele: found '4x1.00'"));
  CHECK(std::count(said.begin(), said.end(), '\n') == 0);
}

TEST_CASE("a fault names an option as the user gave it", "[track]") {
  CHECK_THAT(said_of(long_ride(), {.from_m = 800e3, .typed = true}), Contains("--from-km: found 800"));
  CHECK_THAT(said_of(long_ride(), {.typed = true}),
             Contains("take a piece without it (--from-km, --to-km), or let --bridge-gaps lay a straight line") &&
                 !Contains("from_km"));
}

TEST_CASE("a road that climbs less than its recorded elevations were counted says so with both numbers", "[track]") {
  std::vector<Place> places;
  for (int i = 0; i <= 400; ++i) places.push_back({0.0, 10.0 * i, 300.0 + 4.0 * std::sin(0.25 * i)});
  const TrackImport fine = import(gpx(places)), rough = import(gpx(places), {.smoothing_m = 60.0});
  CHECK_THAT(all_lines(fine.report), !Contains("the road climbs"));
  CHECK_THAT(
      all_lines(rough.report),
      Contains(fmt::format("caution: the road climbs {:.0f} m, the recorded elevations {:.0f} m counted in climbs of 3 m",
                           rough.report.smoothed_ascent_m, rough.report.counted_ascent_m)));
  CHECK(rough.report.counted_ascent_m - rough.report.smoothed_ascent_m > 50.0);
}

TEST_CASE("a file that is no GPX is called what it is, with what to do", "[track]") {
  using namespace std::string_view_literals;
  const std::vector<std::pair<std::string, const char*>> files{
      {std::string("\x0e\x10\x5c\x08\x00\x00\x00\x00.FIT\x00\x00\x40"sv), "found a binary recording of an activity"},
      {"<?xml version='1.0'?><X><Activities><Activity/></Activities></X>", "found an activity in another kind of XML"},
      {"<?xml version='1.0'?>\n<!-- a map -->\n<kml xmlns='http://www.opengis.net/kml/2.2'/>", "found KML"},
      {"{\"type\": \"FeatureCollection\", \"features\": []}", "found GeoJSON"},
      {"[1, 2, 3]", "found JSON"},
      {"<!DOCTYPE html>\n<html><body/></html>", "found a web page"},
      {"lat,lon,ele\n46.0,8.0,400\n", "found a table"},
      {std::string("PK\x03\x04\x14"sv), "found a zip archive, expected a GPX track: unpack it"},
      {std::string("\x1f\x8b\x08"sv), "found a compressed file"},
      {"\x89PNG\r\n", "found a picture"},
      {"<osm/>", "found another kind of XML"},
      {std::string("\x01\x02\x00\x03"sv), "found a binary file"}};
  io_test::Folder folder;
  for (const auto& [text, found] : files) {
    CHECK_THAT(said_of(text), Contains(found) && Contains(", expected a GPX track: "));
    CHECK(is_track_file(folder.write("ride.dat", text)) == (text != "[1, 2, 3]"));
  }
  CHECK(is_track_file(folder.write("ride.xml", gpx(straight_hill()))));
  CHECK(!is_track_file(folder.write("road.yaml", "start_elevation_m: 100\nstretches: []\n")));
  CHECK(!is_track_file(folder.write("road.yaml", "{start_elevation_m: 100, stretches: []}\n")));
  CHECK(!is_track_file(folder.write("road.yaml", "{\"start_elevation_m\": 100, \"stretches\": []}\n")));
  CHECK_THAT(io_test::said([&] { read_scenario(folder.write("ride.gpx", gpx(straight_hill()))); }),
             Contains("ride.gpx: found a recorded track, expected a scenario: leewheel new makes one of a track"));
}

TEST_CASE("climbing of clean barometric tracks agrees within 5 % with a count in climbs of 3 m", "[track]") {
  // Invented: rolling roads, a point every 8 m, the steps of a barometer 0.2 m and its noise 0.15 m.
  for (const unsigned seed : {1u, 2u, 3u, 4u, 5u, 6u}) {
    std::mt19937 random(seed);
    const double long_m = 900.0 + 400.0 * seed, short_m = 180.0 + 40.0 * seed;
    std::vector<Place> places;
    std::vector<double> up_m;
    for (int i = 0; i < 2500; ++i) {
      const double s = 8.0 * i;
      const double z =
          300.0 + 0.01 * s + 40.0 * std::sin(2.0 * M_PI * s / long_m) + 3.5 * std::sin(2.0 * M_PI * s / short_m);
      up_m.push_back(0.2 * std::round((z + 0.15 * noise(random)) / 0.2));
      places.push_back({0.0, s, up_m.back()});
    }
    const double counted_m = counted_ascent_m(up_m, 3.0);
    const TrackImport track = import(gpx(places));
    INFO("seed " << seed << ": counted " << counted_m << ", road " << track.report.smoothed_ascent_m << " m, smoothed over "
                 << track.report.smoothing_m);
    CHECK_THAT(track.report.smoothed_ascent_m, WithinRel(counted_m, 0.05));
  }
}

TEST_CASE("a noisy track is smoothed over a longer way, so that its noise is not climbed", "[track]") {
  // Invented: 2 km at 5 %, then level for 4 km; elevations wander by 3 m over about 100 m.
  std::mt19937 random(4);
  std::vector<Place> places;
  double wander_m = 0.0;
  for (int i = 0; i < 600; ++i) {
    wander_m = 0.9 * wander_m + std::sqrt(1.0 - 0.81) * 3.0 * noise(random);
    places.push_back({0.0, 10.0 * i, 400.0 + 0.5 * std::min(i, 200) + wander_m});
  }
  const TrackImport track = import(gpx(places));
  INFO("raw " << track.report.raw_ascent_m << ", road " << track.report.smoothed_ascent_m << " over "
              << track.report.smoothing_m << " m, noise " << track.report.noise_m);
  CHECK(track.report.raw_ascent_m > 350.0);
  CHECK(track.report.smoothed_ascent_m < 150.0);
  CHECK(track.report.smoothed_ascent_m > 95.0);
}

TEST_CASE("where noise alone makes climbs of 3 m the report says what the ascent rests on", "[track]") {
  const auto scattered = [](double by_m) {
    std::mt19937 random(7);
    std::vector<Place> places;
    for (int i = 0; i < 400; ++i) places.push_back({0.0, 10.0 * i, 400.0 + 0.5 * i + by_m * noise(random)});
    return import(gpx(places)).report;
  };
  const ImportReport noisy = scattered(5.0);
  CHECK(noisy.noise_m > 3.0);
  CHECK_THAT(
      all_lines(noisy),
      Contains(fmt::format("scatter by {:.1f} m (one standard deviation), so that the {:.0f} m counted in climbs of 3 m "
                           "and more hold noise. The {:.0f} m of this road rest on elevations smoothed over 60 m alone",
                           noisy.noise_m, noisy.counted_ascent_m, noisy.smoothed_ascent_m)) &&
          !Contains("truth likely lies between"));
  CHECK_THAT(all_lines(scattered(1.0)), !Contains("scatter by"));
}

TEST_CASE("the count of climbs takes no drop below its height for the end of a climb", "[track]") {
  CHECK(counted_ascent_m({0, 10, 8, 20, 20}, 3.0) == 20.0);
  CHECK(counted_ascent_m({0, 10, 5, 20, 0}, 3.0) == 25.0);
  CHECK(counted_ascent_m({0, 2, 0, 2, 0}, 3.0) == 0.0);
  CHECK(counted_ascent_m({5, 0, 9}, 3.0) == 9.0);
}

TEST_CASE("a scenario takes a piece of a track, turned round, and places by name and kilometre", "[scenario][track]") {
  io_test::Folder folder;
  folder.write("ride.gpx", with_waypoint(gpx(straight_hill()), "Spring", 0.0, 800.0));
  const auto read = [&](const std::string& road, const std::string& at) {
    return read_scenario(folder.write("s.yaml", "title: T\nroad: {track: ride.gpx" + road +
                                                    "}\nriders: [{name: Ada}, {name: Ben}]\nride: {regroup_at: [" + at +
                                                    "]}\n"));
  };
  const Scenario s = read(", from_km: 0.5, to_km: 1.5, reverse: yes", "Spring, 0.2 km, 400");
  CHECK_THAT(s.road.length_m(), WithinAbs(1000.0 * std::hypot(1.0, 0.05), 3.0));
  REQUIRE(s.ride.regroup_at_m.size() == 3);
  CHECK(s.ride.regroup_at_m[0] == 200.0);
  CHECK(s.ride.regroup_at_m[1] == 400.0);
  CHECK_THAT(s.ride.regroup_at_m[2], WithinAbs(700.0, 3.0));
  CHECK_THAT(io_test::said([&] { read("", "2.5 km"); }),
             Contains("found '2.5 km', expected a place on the road, which is 2.00 km"));
  CHECK_THAT(io_test::said([&] { read("", "Sprung"); }), Contains("expected 'Spring'"));
}
