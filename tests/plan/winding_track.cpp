#include "winding_track.hpp"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>

#include "io/track_import.hpp"

namespace leewheel {

namespace {

constexpr double pi = 3.14159265358979323846;

struct Piece {
  double length_m, grade, turn_rad;  ///< turned over its length, > 0 to the left
};

/// Invented.
std::vector<Piece> pieces() {
  std::vector<Piece> road;
  for (int k = 0; k < 7; ++k) {  // hairpins of 14 m radius between ramps
    road.push_back({420.0, k % 3 == 1 ? 0.10 : k % 3 == 2 ? 0.045 : 0.075, k % 2 == 0 ? 0.4 : -0.4});
    road.push_back({14.0 * pi, 0.04, k % 2 == 0 ? pi : -pi});
  }
  for (int k = 0; k < 4; ++k) road.push_back({350.0, k % 2 == 0 ? -0.035 : 0.05, 0.7});
  for (int k = 0; k < 12; ++k) {  // bends of 25 m radius on the way down
    road.push_back({130.0, -0.065, k % 2 == 0 ? 0.2 : -0.2});
    road.push_back({0.6 * 25.0 * pi, -0.05, k % 2 == 0 ? 0.6 * pi : -0.6 * pi});
  }
  road.push_back({900.0, 0.065, 0.5});
  road.push_back({500.0, 0.03, -0.5});
  return road;
}

/// Sum of twelve: a normal number from the standard's fixed generator.
double noise(std::mt19937& random) {
  double sum = -6.0;
  for (int k = 0; k < 12; ++k) sum += random() / 4294967296.0;
  return sum;
}

std::string recorded() {
  constexpr double point_m = 13.0, step_m = 1.0, metres_a_degree = 111200.0, latitude_deg = 46.0;
  std::mt19937 random(11);
  std::string text = "<?xml version='1.0'?>\n<gpx version='1.1' xmlns='http://www.topografix.com/GPX/1/1'><trk><trkseg>\n";
  double east_m = 0.0, north_m = 0.0, up_m = 400.0, heading_rad = 0.0, since_m = point_m, off_m[3] = {};
  for (const Piece& piece : pieces())
    for (double x = 0.0; x < piece.length_m; x += step_m, since_m += step_m) {
      if (since_m >= point_m) {
        since_m = 0.0;
        for (double& off : off_m) off = 0.85 * off + std::sqrt(1.0 - 0.85 * 0.85) * noise(random);
        text += fmt::format("<trkpt lat='{:.7f}' lon='{:.7f}'><ele>{:.1f}</ele></trkpt>\n",
                            latitude_deg + (north_m + 1.5 * off_m[0]) / metres_a_degree,
                            8.0 + (east_m + 1.5 * off_m[1]) / (metres_a_degree * std::cos(latitude_deg * pi / 180.0)),
                            0.2 * std::round((up_m + 0.8 * off_m[2]) / 0.2));
      }
      heading_rad += piece.turn_rad * step_m / piece.length_m;
      east_m += step_m * std::sin(heading_rad), north_m += step_m * std::cos(heading_rad), up_m += step_m * piece.grade;
    }
  return text + "</trkseg></trk></gpx>\n";
}

}  // namespace

Road winding_track_road() {
  const auto path = std::filesystem::temp_directory_path() / fmt::format("leewheel_winding_{}.gpx", std::random_device()());
  std::ofstream(path) << recorded();
  const TrackImport track = import_track(path.string(), {});
  std::filesystem::remove(path);
  return Road(track.profile);
}

}  // namespace leewheel
