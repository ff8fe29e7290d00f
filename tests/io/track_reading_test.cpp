/// Tracks as they come: damaged, in pieces, in every dialect.

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

#include "track_support.hpp"

using namespace leewheel;
using namespace track_test;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

TEST_CASE("each kind of damage is mended, told with its line, and leaves the hill as it was", "[track]") {
  struct Damage {
    const char* told;
    std::function<void(std::vector<Place>&)> harm;
    double elevation_error_m;
  };
  std::mt19937 random(3);
  const std::vector<Damage> damages{
      {"3 x point on the spot of the one before: left out (first at point 52, km 0.50, line 54)",
       [](auto& p) { p.insert(p.begin() + 51, 3, p[50]); }, 0.05},
      {"1 x point more than 50 m off the line of its neighbours: left out (first at point 101, km 0.99, line 103)",
       [](auto& p) { p[100].east_m = 900.0; }, 0.05},
      {"1 x stop (wandering within 12 m): taken as one point (first at point 101, km 1.00, line 103)",
       [&](auto& p) {
         std::vector<Place> rest;
         for (int i = 0; i < 60; ++i)
           rest.push_back({2.0 * noise(random), 1000.0 + 2.0 * noise(random), 450.0 + noise(random)});
         p.insert(p.begin() + 101, rest.begin(), rest.end());
       },
       0.7},
      {"1 x point behind the one before (forward, back, forward): left out (first at point 102, km 1.00, line 104)",
       [](auto& p) {
         p.insert(p.begin() + 101, {0.5, 994.0, 450.0});
       },
       0.05},
      {"1 x elevation outside [-430, 6000] m: taken as missing (first at point 81, km 0.80, line 83)",
       [](auto& p) { p[80].up_m = -32768.0; }, 0.05},
      {"1 x elevation more than 15 m off its neighbours: taken as missing (first at point 81, km 0.80, line 83)",
       [](auto& p) { p[80].up_m += 60.0; }, 0.05},
      {"20 x elevation missing: put in from its neighbours (first at point 41, km 0.40, line 43)",
       [](auto& p) {
         for (int i = 40; i < 60; ++i) p[static_cast<std::size_t>(i)].extra = "<cmt/>";
       },
       0.05},
      {"5 x elevation missing: put in from its neighbours (first at point 1, km 0.00, line 3)",
       [](auto& p) {
         for (std::size_t i = 0; i < 5; ++i) p[i].extra = "<cmt/>";
       },
       2.5},
      {"1 x gap of more than 150 m (at most 400 m): bridged by a straight line (first at point 101, km 1.39, line 103)",
       [](auto& p) { p.erase(p.begin() + 100, p.begin() + 139); }, 0.05},
      {"1 x elevation jumps by more than 10 m within a step: smoothed, but the road will look too steep there (first at "
       "point 202, km 2.01, line 204)",
       [](auto& p) {
         p.insert(p.end(), {0.0, 2010.0, 514.0});
       },
       2.0},
  };
  for (const Damage& damage : damages) {
    std::vector<Place> places = straight_hill();
    damage.harm(places);
    const TrackImport track = import(gpx(places));
    INFO(damage.told << "\n--- was told:\n" << all_lines(track.report));
    CHECK_THAT(all_lines(track.report), Contains(damage.told));
    const Road road(track.profile);
    double error_m = 0.0;
    const double slope = std::hypot(1.0, 0.05);
    for (double s = 0.0; s < 1990.0; s += 5.0)
      error_m = std::max(error_m, std::abs(road.elevation_m(s) - (400.0 + 0.05 * s / slope)));
    INFO("largest error of elevation " << error_m << " m, length " << road.length_m());
    CHECK(error_m < damage.elevation_error_m);
    CHECK_THAT(road.length_m(), WithinAbs(2000.0 * slope, 13.0));
  }
}

TEST_CASE("prefixes, GPX 1.0, routes, times and several tracks are read", "[track]") {
  io_test::Folder folder;
  const auto points = [&](const std::string& text) { return read_gpx(folder.write("t.gpx", text)); };
  const auto prefixed = points(
      "<g:gpx xmlns:g='http://www.topografix.com/GPX/1/1'><g:trk><g:trkseg>"
      "<g:trkpt lat='46' lon=' +8.5 '><g:ele> 401.5 </g:ele><g:time>2024-05-01T08:00:00.5+02:00</g:time></g:trkpt>"
      "</g:trkseg></g:trk></g:gpx>");
  REQUIRE(prefixed.size() == 1);
  CHECK(prefixed[0].longitude_deg == 8.5);
  CHECK(prefixed[0].elevation_m == 401.5);
  CHECK(prefixed[0].time_s == 1714543200.5);  // 2024-05-01 06:00:00.5 UTC
  const auto route =
      points("<gpx version='1.0' xmlns='http://www.topografix.com/GPX/1/0'><rte>\n<rtept lat='1' lon='2'/>\n</rte></gpx>");
  REQUIRE(route.size() == 1);
  CHECK(std::isnan(route[0].elevation_m));
  CHECK(std::isnan(route[0].time_s));
  CHECK(route[0].line == 2);

  std::string two = gpx(straight_hill());
  const std::string small =
      "<trk><trkseg><trkpt lat='10' lon='10'><ele>1</ele></trkpt><trkpt lat='10.001' "
      "lon='10'><ele>1</ele></trkpt></trkseg></trk>";
  two.insert(two.find("<trk>"), small);
  const TrackImport track = import(two);
  CHECK_THAT(all_lines(track.report),
             Contains("2 tracks in the file: the longest ride is taken, 2.0 km from point 3 on (line 3)"));
  CHECK_THAT(Road(track.profile).length_m(), WithinAbs(2002.5, 0.1));
}

TEST_CASE("tracks that begin where the one before ended are one ride", "[track]") {
  std::string parted = gpx(straight_hill());
  const std::size_t middle = parted.find("<trkpt", parted.size() / 2);
  parted.insert(middle, "</trkseg></trk><trk><trkseg>");
  const TrackImport track = import(parted);
  CHECK_THAT(all_lines(track.report), Contains("2 tracks in the file: joined, each begins near the end of the one before"));
  CHECK_THAT(Road(track.profile).length_m(), WithinAbs(2002.5, 0.1));
}

TEST_CASE("no damage to a track's text is answered by anything but a road or a fault", "[track][fuzz]") {
  const std::string good = gpx(straight_hill());
  const std::string spice = "<>/'\"= &;-.0189e\n\t\xC3\xFF";
  std::mt19937 random(11);
  io_test::Folder folder;
  int accepted = 0;
  for (int k = 0; k < 400; ++k) {
    std::string text = good;
    for (unsigned edits = 1 + random() % 4; edits > 0; --edits) {
      const std::size_t at = random() % text.size();
      switch (random() % 3) {
        case 0: text[at] = spice[random() % spice.size()]; break;
        case 1: text.erase(at, 1 + random() % 60); break;
        default: text.insert(at, text.substr(random() % text.size(), random() % 80)); break;
      }
    }
    CHECK_NOTHROW(io_test::said([&] {
      import_track(folder.write("track.gpx", text), {});
      ++accepted;
    }));
  }
  CHECK(accepted == 12);  // of 400
}
