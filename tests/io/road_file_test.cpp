#include "io/road_file.hpp"

#include <cmath>
#include <numbers>

#include "io/atomic_file.hpp"
#include "leewheel/units.hpp"
#include "support.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;

namespace {

double turn_between(double a_rad, double b_rad) { return std::abs(std::remainder(a_rad - b_rad, 2.0 * std::numbers::pi)); }

/// A winding, rolling road of an odd length with everything set.
RoadProfile winding_road() {
  RoadProfile profile;
  const std::size_t nodes = 4322;
  profile.spacing_m = 0.9987;
  for (std::size_t i = 0; i < nodes; ++i) {
    const double s = static_cast<double>(i) * profile.spacing_m;
    profile.elevation_m.push_back(400.0 + 0.05 * s + 8.0 * std::sin(s / 90.0));
    profile.heading_rad.push_back(
        std::fmod(6.2 + 1.2 * std::sin(s / 60.0) + 2.0 * std::numbers::pi, 2.0 * std::numbers::pi));
    profile.rolling.push_back(rolling_coefficient(s < 2000.0 ? Surface::smooth_asphalt : Surface::gravel));
    profile.width_m.push_back(s < 1000.0 ? 6.5 : 4.25);
    profile.exposure_left.push_back(s < 1500.0 ? Exposure::wood : Exposure::open_ridge);
    profile.exposure_right.push_back(s < 3000.0 ? Exposure::houses : Exposure::open_ridge);
    profile.abreast.push_back(s < 500.0 ? 1 : 2);
    profile.closed.push_back(s > 1200.0 ? 1 : 0);
  }
  profile.landmarks = {{"The \"quoted\" stone", 12.3}, {"Žába: bend #2", 2000.0}, {"Top", 4315.0}};
  profile.latitude_rad = rad_from_deg(46.123456);
  profile.longitude_rad = rad_from_deg(-8.654321);
  profile.has_position = true;
  return profile;
}

RoadProfile written_and_read(const RoadProfile& profile) {
  io_test::Folder folder;
  return read_road(folder.write("road.yaml", road_yaml(profile, "one\ntwo")));
}

}  // namespace

TEST_CASE("a road written and read again is the same road within centimetres and a third of a percent of grade",
          "[road_file]") {
  const RoadProfile profile = winding_road();
  const Road before(profile), after(written_and_read(profile));
  CHECK_THAT(after.length_m(), WithinAbs(before.length_m(), 1e-3));
  double elevation_error_m = 0.0, grade_error = 0.0, heading_error_rad = 0.0;
  for (double s = 0.5; s < before.length_m(); s += 1.7) {
    elevation_error_m = std::max(elevation_error_m, std::abs(before.elevation_m(s) - after.elevation_m(s)));
    grade_error = std::max(grade_error, std::abs(before.grade(s) - after.grade(s)));
    heading_error_rad = std::max(heading_error_rad, turn_between(before.heading_rad(s), after.heading_rad(s)));
  }
  INFO("elevation " << elevation_error_m << " m, grade " << grade_error << ", heading " << heading_error_rad << " rad");
  CHECK(elevation_error_m < 0.03);  // written to the centimetre every 10 m
  CHECK(grade_error < 0.0055);      // the first and last samples are joined by straight lines
  CHECK(heading_error_rad < 0.02);
}

TEST_CASE("marks, landmarks and position survive being written and read", "[road_file]") {
  const RoadProfile profile = winding_road();
  const RoadProfile again = written_and_read(profile);
  const Road before(profile), after(again);
  for (double s = 5.0; s < before.length_m(); s += 10.0) {
    REQUIRE(after.rolling(s) == before.rolling(s));
    REQUIRE(after.width_m(s) == before.width_m(s));
    REQUIRE(after.abreast(s) == before.abreast(s));
    REQUIRE(after.closed(s) == before.closed(s));
    REQUIRE(after.exposure_left(s) == before.exposure_left(s));
    REQUIRE(after.exposure_right(s) == before.exposure_right(s));
  }
  REQUIRE(again.landmarks.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(again.landmarks[i].name == profile.landmarks[i].name);
    CHECK_THAT(again.landmarks[i].distance_m, WithinAbs(profile.landmarks[i].distance_m, 0.05));
  }
  CHECK(again.has_position);
  CHECK_THAT(deg_from_rad(again.latitude_rad), WithinAbs(46.123456, 1e-6));
  CHECK_THAT(deg_from_rad(again.longitude_rad), WithinAbs(-8.654321, 1e-6));
}

TEST_CASE("a road of stretches keeps its ascent and its steepest hundred metres when written as a line", "[road_file]") {
  const RoadProfile profile = read_road(LEEWHEEL_SCENARIOS "/larkmoor/road.yaml");
  const RoadFacts before = Road(profile).facts(), after = Road(written_and_read(profile)).facts();
  CHECK_THAT(after.length_m, WithinAbs(before.length_m, 1e-3));
  CHECK_THAT(after.ascent_m, WithinAbs(before.ascent_m, 0.5));
  CHECK_THAT(after.steepest_100m_grade, WithinAbs(before.steepest_100m_grade, 0.001));
}

TEST_CASE("writing a road twice gives the same bytes", "[road_file]") {
  const std::string once = road_yaml(winding_road(), "a comment");
  CHECK(once == road_yaml(winding_road(), "a comment"));
  std::size_t longest = 0;
  for (std::size_t from = 0; from < once.size();) {
    const std::size_t end = once.find('\n', from);
    longest = std::max(longest, end - from);
    from = end + 1;
  }
  CHECK(longest <= 120);  // lines a person can edit
}

TEST_CASE("a named stretch's exposure, bend and surface reach the grid", "[road_file]") {
  const Road road(read_road(LEEWHEEL_SCENARIOS "/larkmoor/road.yaml"));
  CHECK_THAT(road.length_m(), WithinAbs(13470.0, 1e-9));
  CHECK(road.exposure_left(7800.0) == Exposure::scattered_trees);
  CHECK(road.exposure_right(7800.0) == Exposure::open_slope);
  CHECK(road.exposure_left(5000.0) == Exposure::wood);
  CHECK(road.rolling(13000.0) == rolling_coefficient(Surface::chip_seal));
  CHECK_THAT(road.curvature_1pm(4080.0), WithinAbs(-1.0 / 70.0, 1e-4));
  REQUIRE(road.landmarks().size() == 3);
  CHECK(road.landmarks()[0].name == "Wood gate");
}

TEST_CASE("an output that cannot be written leaves nothing behind", "[atomic_file]") {
  io_test::Folder folder;
  const std::string blocked = (folder / "no such folder/road.yaml").string();
  CHECK(io_test::said([&] { write_whole_file(blocked, "x"); }) ==
        blocked + ": cannot be written, expected a place with room and permission");
  CHECK(folder.empty());
  write_whole_file((folder / "road.yaml").string(), "one");
  write_whole_file((folder / "road.yaml").string(), "two");
  std::ifstream file(folder / "road.yaml");
  std::string text;
  file >> text;
  CHECK(text == "two");
  CHECK(std::distance(std::filesystem::directory_iterator(std::filesystem::path(folder / "")), {}) == 1);
}
