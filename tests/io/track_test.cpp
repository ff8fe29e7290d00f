#include "leewheel/ride.hpp"

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "io/road_file.hpp"
#include "track_support.hpp"

using namespace leewheel;
using namespace track_test;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double largest_curvature_1pm(const Road& road, double from_m, double to_m) {
  double largest = 0.0;
  for (double s = from_m; s < to_m; s += 1.0) largest = std::max(largest, std::abs(road.curvature_1pm(s)));
  return largest;
}

}  // namespace

TEST_CASE("the geodesic library gives the published ten thousand kilometres", "[track]") {
  // Karney 2013, J. Geodesy 87:43, table of the direct problem: from 40 N in azimuth 30 degrees over 10,000 km on WGS84
  // to 41.79331020506 N, 137.84490004377 E, arriving in azimuth 149.09016931807 degrees (values from memory).
  double length_m = 0.0, from_deg = 0.0, to_deg = 0.0;
  GeographicLib::Geodesic::WGS84().Inverse(40.0, 0.0, 41.79331020506, 137.84490004377, length_m, from_deg, to_deg);
  CHECK_THAT(length_m, WithinAbs(10000000.0, 1e-3));
  CHECK_THAT(from_deg, WithinAbs(30.0, 1e-9));
  CHECK_THAT(to_deg, WithinAbs(149.09016931807, 1e-9));
}

TEST_CASE("a straight hill comes out with its length along the surface, grade and heading", "[track]") {
  const TrackImport track = import(gpx(straight_hill()));
  const Road road(track.profile);
  CHECK_THAT(road.length_m(), WithinAbs(std::hypot(2000.0, 100.0), 0.05));
  for (double s = 50.0; s < 1950.0; s += 10.0) {
    REQUIRE_THAT(road.grade(s), WithinAbs(0.05, 1e-4));
    REQUIRE_THAT(std::remainder(road.heading_rad(s), 2.0 * std::numbers::pi), WithinAbs(0.0, 1e-4));
    REQUIRE_THAT(road.curvature_1pm(s), WithinAbs(0.0, 1e-5));
  }
  CHECK(track.profile.has_position);
  CHECK_THAT(deg_from_rad(track.profile.latitude_rad), WithinAbs(46.0, 1e-9));
  CHECK(track.report.lines == std::vector<std::string>{"201 points recorded, 201 kept"});
  CHECK_THAT(track.report.smoothed_ascent_m, WithinAbs(100.0, 0.1));
}

TEST_CASE("a road north at 70 degrees of latitude heads north to its end", "[track]") {
  std::string text = "<gpx><trk><trkseg>";
  for (int i = 0; i < 100; ++i)
    text += fmt::format("<trkpt lat='{:.6f}' lon='25.0'><ele>10</ele></trkpt>\n", 70.0 + 0.001 * i);
  const Road road(import(text + "</trkseg></trk></gpx>").profile);
  double expected_m = 0.0;
  GeographicLib::Geodesic::WGS84().Inverse(70.0, 25.0, 70.099, 25.0, expected_m);
  CHECK_THAT(road.length_m(), WithinAbs(expected_m, 0.05));
  CHECK_THAT(std::remainder(road.heading_rad(road.length_m() - 5.0), 2.0 * std::numbers::pi), WithinAbs(0.0, 1e-5));
}

TEST_CASE("a hairpin keeps its turn and a believable radius", "[track]") {
  // Invented: 300 m north, half a circle of 12 m to the left, 300 m south; a place every 5 m.
  std::vector<Place> places;
  const double radius_m = 12.0, arc_m = std::numbers::pi * radius_m;
  for (double s = 0.0; s <= 600.0 + arc_m; s += 5.0) {
    Place p{0.0, s, 400.0 + 0.06 * s};
    if (s > 300.0 && s <= 300.0 + arc_m) {
      const double angle = (s - 300.0) / radius_m;
      p = {-radius_m * (1.0 - std::cos(angle)), 300.0 + radius_m * std::sin(angle), p.up_m};
    } else if (s > 300.0) {
      p = {-2.0 * radius_m, 300.0 - (s - 300.0 - arc_m), p.up_m};
    }
    places.push_back(p);
  }
  const Road road(import(gpx(places)).profile);
  const double radius_out_m = 1.0 / largest_curvature_1pm(road, 20.0, road.length_m() - 20.0);
  INFO("radius " << radius_out_m << " m, length " << road.length_m() << " of " << 600.0 + arc_m);
  CHECK(radius_out_m > 8.0);
  CHECK(radius_out_m < 18.0);
  CHECK_THAT(road.length_m(), WithinAbs(635.0, 10.0));
  CHECK_THAT(std::abs(std::remainder(road.heading_rad(550.0) - road.heading_rad(100.0), 2.0 * std::numbers::pi)),
             WithinAbs(std::numbers::pi, 0.02));
}

TEST_CASE("position noise of 3 m makes a straight road neither bend sharply nor grow by more than 2 %", "[track]") {
  std::mt19937 random(5);
  std::vector<Place> places = straight_hill();
  double east_m = 0.0, north_m = 0.0;  // wandering slowly, as receivers do: correlation over five points (assumed)
  for (Place& p : places) {
    east_m = 0.8 * east_m + 0.6 * 3.0 * noise(random);
    north_m = 0.8 * north_m + 0.6 * 3.0 * noise(random);
    p.east_m += east_m;
    p.north_m += north_m;
    p.up_m += noise(random);
  }
  const Road road(import(gpx(places)).profile);
  const RoadFacts facts = road.facts();
  std::vector<double> curvature;
  for (double s = 20.0; s < facts.length_m - 20.0; s += 1.0) curvature.push_back(std::abs(road.curvature_1pm(s)));
  std::sort(curvature.begin(), curvature.end());
  const double usual_radius_m = 1.0 / curvature[curvature.size() / 2], tightest_radius_m = 1.0 / curvature.back();
  INFO("length " << facts.length_m << ", ascent " << facts.ascent_m << ", steepest " << facts.steepest_100m_grade
                 << ", radius median " << usual_radius_m << ", least " << tightest_radius_m);
  CHECK_THAT(facts.length_m, WithinRel(2002.5, 0.02));
  CHECK(usual_radius_m > 100.0);
  CHECK(tightest_radius_m > 15.0);
  CHECK(facts.steepest_100m_grade < 0.07);  // of a hill of 5 %
  CHECK_THAT(facts.ascent_m, WithinAbs(100.0, 3.0));
}

TEST_CASE("an out-and-back ride keeps both ways", "[track]") {
  std::vector<Place> places = straight_hill();
  for (int i = 199; i >= 0; --i) places.push_back({3.0, 10.0 * i, 400.0 + 0.5 * i});
  const RoadFacts facts = Road(import(gpx(places)).profile).facts();
  CHECK_THAT(facts.length_m, WithinAbs(4005.0, 25.0));
  // The sharp top is rounded off: the kernel of gain 1 / (1 + (qL)^4) lowers a change of slope by L / (2 sqrt(2)) times it,
  // 2.1 m here; the turn itself, which is cut short, takes the rest.
  CHECK_THAT(facts.ascent_m, WithinAbs(100.0 - 2.1, 1.0));
}

TEST_CASE("real recorded tracks become believable roads that survive being written and read", "[track]") {
  const std::filesystem::path tracks = LEEWHEEL_TRACKS_DIR;
  if (!std::filesystem::is_directory(tracks)) {
    std::puts("skipped: no tracks folder");
    return;
  }
  io_test::Folder folder;
  for (const auto& entry : std::filesystem::directory_iterator(tracks)) {
    if (entry.path().extension() != ".gpx") continue;
    const TrackImport track = import_track(entry.path().string(), {});
    const Road road(track.profile);
    const RoadFacts facts = road.facts();
    INFO(entry.path().filename() << ": " << facts.length_m << " m, ascent " << track.report.raw_ascent_m << " -> "
                                 << facts.ascent_m << " m, steepest 100 m " << facts.steepest_100m_grade);
    CHECK(facts.length_m > 5000.0);
    CHECK(facts.ascent_m < track.report.counted_ascent_m);  // these are noisy, or jump
    CHECK(facts.ascent_m > 0.6 * track.report.counted_ascent_m);
    CHECK(facts.steepest_100m_grade < 0.35);  // one is a mountain path that the recording itself makes 40 % over 160 m
    CHECK_THAT(facts.ascent_m, WithinAbs(track.report.smoothed_ascent_m, 0.01));

    const RoadFacts again = Road(read_road(folder.write("road.yaml", road_yaml(track.profile, "")))).facts();
    CHECK_THAT(again.length_m, WithinAbs(facts.length_m, 1e-3));
    CHECK_THAT(again.ascent_m, WithinAbs(facts.ascent_m, 1.0));
    CHECK_THAT(again.steepest_100m_grade, WithinAbs(facts.steepest_100m_grade, 0.001));

    Scenario ride{.title = "four riders",
                  .question = "",
                  .finding = "",
                  .road = road,
                  .air = {},
                  .wind = {},
                  .riders = {},
                  .plans = {},
                  .ride = {},
                  .tactics = {},
                  .groups = {},
                  .wake = {}};
    for (const char* name : {"Ada", "Ben", "Cas", "Dot"}) {
      RiderSettings rider;
      rider.name = name;
      rider.critical_power_W = 200.0 + 20.0 * static_cast<double>(ride.riders.size());
      ride.riders.push_back(rider);
    }
    const RideResult result = ride_to_end(ride);
    CHECK(result.end == RideEnd::all_finished);
    for (const RiderResult& rider : result.riders) {
      CHECK(rider.finished);
      CHECK(rider.ledger.error() < 1e-6);
      const double mean_mps = facts.length_m / rider.finish_time_s;
      CHECK(mean_mps > 2.0);   // 7 km/h on a mountain path ...
      CHECK(mean_mps < 10.0);  // ... to 36 km/h where it rolls
    }
  }
}
